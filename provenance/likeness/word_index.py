"""Texts kept so that each can be asked where else it, or a part of it, stands."""

import json
from collections.abc import Callable, Collection, Iterable
from pathlib import Path
from typing import Any, Final

import numpy as np

from provenance.likeness.text_holdings import Holdings
from provenance.likeness.text_likeness import TEXT_METHOD, find_matches
from provenance.likeness.text_segments import (
    SUFFIX,
    Arrays,
    Segment,
    SegmentError,
    arrays_of,
    merged,
    open_segment,
    replace_file,
    write_segment,
)
from provenance.likeness.values import TextMatch

_LIST: Final = "texts.json"
_CHARACTERS_AT_ONCE: Final = 10_000_000
_GROWTH: Final = 4
_ALWAYS_MERGED: Final = 32


class WordIndex:
    """The texts of an archive, in a folder of derived files that may be deleted at any time.

    One writer at a time: whoever adds or drops holds the archive's lock. Those who have it open go on reading what they
    opened.
    """

    def __init__(self, folder: Path) -> None:
        """Open what lies in a folder; what is damaged, foreign or of another method counts as not there.

        Args:
            folder: need not be there yet.
        """
        self._folder = folder
        self._holdings = _open(folder)

    @property
    def keys(self) -> frozenset[str]:
        """The keys of all texts that are held."""
        return frozenset(self._holdings.numbers)

    def add(self, texts: Iterable[tuple[str, str]]) -> None:
        """Keep texts under their keys, in place of those that had them; all in one step, or none.

        Raises:
            OSError: the folder cannot be written.
        """
        self._folder.mkdir(parents=True, exist_ok=True)
        new: dict[str, str] = {}
        written: list[tuple[tuple[str, ...], Arrays]] = []
        characters = 0
        for key, text in texts:
            new[key] = text
            characters += len(text)
            if characters > _CHARACTERS_AT_ONCE:
                written.append((tuple(new), arrays_of(list(new.values()))))
                new, characters = {}, 0
        if new:
            written.append((tuple(new), arrays_of(list(new.values()))))
        self._keep(written)

    def drop(self, keys: Collection[str]) -> None:
        """Hold the texts of these keys no more; unknown ones are passed over.

        Raises:
            OSError: the folder cannot be written.
        """
        if not self._holdings.numbers.keys().isdisjoint(keys):
            self._write(self._holdings.segments, self._dropped_with(keys))

    def matches(
        self, key: str, *, family_of: Callable[[str], str], without: Collection[str] = ()
    ) -> tuple[TextMatch, ...]:
        """In which other texts the text of a key, or a part of it, stands: best first, then by key.

        Args:
            key: of a text that is held.
            family_of: names for a key the family of copies that its text belongs to; a text without copies is a family
                of its own, so that its key will do.
            without: keys of texts that are not asked about.

        Raises:
            KeyError: no such text is held.
        """
        return find_matches(self._holdings, self._holdings.numbers[key], family_of, without)

    def _dropped_with(self, keys: Collection[str]) -> tuple[frozenset[int], ...]:
        gone = set(keys)
        return tuple(
            dropped | {n for n, key in enumerate(segment.keys) if key in gone}
            for segment, dropped in zip(self._holdings.segments, self._holdings.dropped, strict=True)
        )

    def _keep(self, written: list[tuple[tuple[str, ...], Arrays]]) -> None:
        for keys, arrays in written:
            dropped = self._dropped_with(keys)
            name = write_segment(self._folder, TEXT_METHOD, keys, arrays)
            segment = open_segment(self._folder / name, TEXT_METHOD)
            self._holdings = Holdings((*self._holdings.segments, segment), (*dropped, frozenset()))
        self._merge()
        self._write(self._holdings.segments, self._holdings.dropped)

    def _merge(self) -> None:
        segments, dropped = list(self._holdings.segments), list(self._holdings.dropped)
        while len(segments) > 1 and _belong_together(segments[-2], segments[-1]):
            held = [
                (segment, np.array([n not in gone for n in range(len(segment.keys))], dtype=np.bool_))
                for segment, gone in zip(segments[-2:], dropped[-2:], strict=True)
            ]
            keys, arrays = merged(held)
            name = write_segment(self._folder, TEXT_METHOD, keys, arrays)
            segments[-2:] = [open_segment(self._folder / name, TEXT_METHOD)]
            dropped[-2:] = [frozenset()]
        self._holdings = Holdings(tuple(segments), tuple(dropped))

    def _write(self, segments: tuple[Segment, ...], dropped: tuple[frozenset[int], ...]) -> None:
        listed = [
            {"file": segment.name, "dropped": sorted(gone)} for segment, gone in zip(segments, dropped, strict=True)
        ]
        content = json.dumps({"method": TEXT_METHOD, "segments": listed}).encode()
        replace_file(self._folder / _LIST, [content])
        self._holdings = Holdings(segments, dropped)
        kept = {segment.name for segment in segments}
        for path in self._folder.glob(f"*{SUFFIX}"):
            if path.name not in kept:
                path.unlink()


def _belong_together(one: Segment, other: Segment) -> bool:
    return len(one.arrays["text"]) < _GROWTH * len(other.arrays["text"]) or len(one.keys) < _ALWAYS_MERGED


def _open(folder: Path) -> Holdings:
    try:
        listed: Any = json.loads((folder / _LIST).read_bytes())
    except (OSError, ValueError):
        return Holdings((), ())
    if not isinstance(listed, dict) or listed.get("method") != TEXT_METHOD:
        return Holdings((), ())
    segments, dropped = [], []
    for entry in listed["segments"]:
        try:
            segments.append(open_segment(folder / entry["file"], TEXT_METHOD))
        except SegmentError:
            continue
        dropped.append(frozenset(entry["dropped"]))
    return Holdings(tuple(segments), tuple(dropped))
