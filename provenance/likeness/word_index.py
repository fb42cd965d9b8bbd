"""Texts kept so that each can be asked where else it, or a part of it, stands."""

import json
from collections.abc import Callable, Collection, Iterable, Iterator
from pathlib import Path
from typing import Any, Final

import numpy as np

from provenance.likeness.text_holdings import Holdings
from provenance.likeness.text_likeness import TEXT_METHOD, find_matches
from provenance.likeness.text_segments import (
    PART_SUFFIX,
    SUFFIX,
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
        holdings = self._holdings
        for some in _portions(texts):
            name = write_segment(self._folder, TEXT_METHOD, some, arrays_of(list(some.values())))
            segment = open_segment(self._folder / name, TEXT_METHOD)
            holdings = Holdings((*holdings.segments, segment), (*_dropped_with(holdings, some), frozenset()))
        self._write(self._merged(holdings))

    def drop(self, keys: Collection[str]) -> None:
        """Hold the texts of these keys no more; unknown ones are passed over.

        Raises:
            OSError: the folder cannot be written.
        """
        if not self._holdings.numbers.keys().isdisjoint(keys):
            self._write(Holdings(self._holdings.segments, _dropped_with(self._holdings, keys)))

    def matches(
        self, key: str, *, family_of: Callable[[str], str], without: Collection[str] = ()
    ) -> tuple[TextMatch, ...]:
        """In which other texts the text of a key, or a part of it, stands: best first, then by key.

        Args:
            key: of a text that is held.
            family_of: names for a key the family of copies that its text belongs to; a text without copies is a family
                of its own, so that its key will do. Texts suspected to be copies, and not ruled apart, are best named
                as one family: what stands in more than four counts as a form that many filled in, not as a copy.
            without: keys of texts that are not asked about.

        Raises:
            KeyError: no such text is held.
        """
        return find_matches(self._holdings, self._holdings.numbers[key], family_of, without)

    def _merged(self, holdings: Holdings) -> Holdings:
        segments, dropped = list(holdings.segments), list(holdings.dropped)
        while len(segments) > 1 and _belong_together(segments[-2], segments[-1]):
            held = [
                (segment, np.array([n not in gone for n in range(len(segment.keys))], dtype=np.bool_))
                for segment, gone in zip(segments[-2:], dropped[-2:], strict=True)
            ]
            name = write_segment(self._folder, TEXT_METHOD, *merged(held))
            segments[-2:] = [open_segment(self._folder / name, TEXT_METHOD)]
            dropped[-2:] = [frozenset()]
        return Holdings(tuple(segments), tuple(dropped))

    def _write(self, holdings: Holdings) -> None:
        listed = [
            {"file": segment.name, "dropped": sorted(gone)}
            for segment, gone in zip(holdings.segments, holdings.dropped, strict=True)
        ]
        content = json.dumps({"method": TEXT_METHOD, "segments": listed}).encode()
        replace_file(self._folder / _LIST, [content])
        self._holdings = holdings
        kept = {segment.name for segment in holdings.segments}
        for path in (*self._folder.glob(f"*{SUFFIX}"), *self._folder.glob(f".*{PART_SUFFIX}")):
            if path.name not in kept:
                path.unlink(missing_ok=True)


def _portions(texts: Iterable[tuple[str, str]]) -> Iterator[dict[str, str]]:
    """The texts in portions that memory holds; of several under one key in a portion the last."""
    some: dict[str, str] = {}
    characters = 0
    for key, text in texts:
        some[key] = text
        characters += len(text)
        if characters > _CHARACTERS_AT_ONCE:
            yield some
            some, characters = {}, 0
    if some:
        yield some


def _dropped_with(holdings: Holdings, keys: Collection[str]) -> tuple[frozenset[int], ...]:
    gone = set(keys)
    return tuple(
        dropped | {n for n, key in enumerate(segment.keys) if key in gone}
        for segment, dropped in zip(holdings.segments, holdings.dropped, strict=True)
    )


def _belong_together(one: Segment, other: Segment) -> bool:
    return len(one.arrays["text"]) < _GROWTH * len(other.arrays["text"]) or len(one.keys) < _ALWAYS_MERGED


def _open(folder: Path) -> Holdings:
    try:
        listed: Any = json.loads((folder / _LIST).read_bytes())
    except (OSError, ValueError):
        return Holdings((), ())
    if not _is_list(listed):
        return Holdings((), ())
    segments, dropped = [], []
    for entry in listed["segments"]:
        try:
            segments.append(open_segment(folder / entry["file"], TEXT_METHOD))
        except SegmentError:
            continue
        dropped.append(frozenset(entry["dropped"]))
    return Holdings(tuple(segments), tuple(dropped))


def _is_list(listed: Any) -> bool:
    """Whether this is a list of files that this method wrote; a file is taken for what its name says only if sound."""
    return (
        isinstance(listed, dict)
        and listed.get("method") == TEXT_METHOD
        and isinstance(listed.get("segments"), list)
        and all(isinstance(entry, dict) and _is_entry(entry) for entry in listed["segments"])
    )


def _is_entry(entry: dict[str, Any]) -> bool:
    name, dropped = entry.get("file"), entry.get("dropped")
    return isinstance(name, str) and "/" not in name and isinstance(dropped, list) and all(map(_is_number, dropped))


def _is_number(number: object) -> bool:
    return isinstance(number, int)
