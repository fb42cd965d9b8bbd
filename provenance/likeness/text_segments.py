"""Texts on disk, with their letters, runs and words, in files that are written once and never changed.

A segment is one file: a line that says what it is, a digest of all that follows, a heading in JSON, then arrays. What
is cut short, altered, foreign or of another method is noticed and not opened.
"""

import hashlib
import json
import mmap
import os
import tempfile
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

import numpy as np
import numpy.typing as npt

from provenance.likeness.letters import Codes, Hashes, fold, gram_hashes, hash_runs, telling, winnow, words_of

SUFFIX: Final = ".texts"
"""How the names of segments end."""
PART_SUFFIX: Final = ".part"
"""How the names of files end that are not yet whole."""
_FIRST: Final = b"provenance texts 1\n"
_DIGEST_SIZE: Final = 32
_ALIGNED: Final = 64
_KINDS: Final = {
    "gram_hash": np.uint64,
    "gram_text": np.uint32,
    "gram_at": np.uint32,
    "word_hash": np.uint64,
    "word_text": np.uint32,
    "letters": np.uint16,
    "letters_from": np.uint64,
    "text": np.uint8,
    "text_from": np.uint64,
}
_MOST_PLACES: Final = 8
"""Places of one run in one text that are kept: a table may repeat one a thousand times, and eight tell as much."""

Arrays = dict[str, npt.NDArray[Any]]


class SegmentError(Exception):
    """A file is no sound segment of this method."""


@dataclass(frozen=True, slots=True, eq=False)
class Segment:
    """Texts of one file, numbered from 0.

    Attributes:
        name: of the file; it tells the content, so that equal names mean equal content.
        keys: of its texts.
        arrays: `gram_hash`, ascending, with the text and the letter at which each run begins (`gram_text`, `gram_at`);
            `word_hash`, ascending, with the text (`word_text`) that has the word; all `letters`, those of text n from
            `letters_from[n]` to `letters_from[n + 1]`; all `text` in UTF-8, from `text_from[n]` on.
    """

    name: str
    keys: tuple[str, ...]
    arrays: Mapping[str, npt.NDArray[Any]]

    def letters(self, number: int) -> Codes:
        """The letters of a text."""
        begin, end = self.arrays["letters_from"][number : number + 2].tolist()
        return np.asarray(self.arrays["letters"][begin:end])

    def text(self, number: int) -> str:
        """A text as it was given."""
        begin, end = self.arrays["text_from"][number : number + 2].tolist()
        return self.arrays["text"][begin:end].tobytes().decode("utf-8", "surrogatepass")


def arrays_of(texts: Sequence[str]) -> Arrays:
    """Fold texts and put their runs and words in order of hash, then of text, then of place."""
    parts: dict[str, list[npt.NDArray[Any]]] = {name: [] for name in _KINDS}
    for number, text in enumerate(texts):
        letters = fold(text)
        hashes, places = kept_grams(letters.codes)
        words = np.unique(hash_runs(letters.codes, *words_of(text, letters)))
        parts["gram_hash"].append(hashes)
        parts["gram_text"].append(np.full(len(hashes), number, dtype=np.uint32))
        parts["gram_at"].append(places.astype(np.uint32))
        parts["word_hash"].append(words)
        parts["word_text"].append(np.full(len(words), number, dtype=np.uint32))
        parts["letters"].append(letters.codes)
        parts["text"].append(np.frombuffer(text.encode("utf-8", "surrogatepass"), dtype=np.uint8))
    arrays = {name: _joined(name, found) for name, found in parts.items()}
    for name in ("letters", "text"):
        arrays[f"{name}_from"] = _starts([len(part) for part in parts[name]])
    return _in_order(arrays)


def kept_grams(codes: Codes) -> tuple[Hashes, npt.NDArray[np.int64]]:
    """The runs of a text that are kept in the index: their hashes, and the letter at which each begins."""
    hashes = gram_hashes(codes)
    places = winnow(hashes)
    places = places[telling(codes)[places]]
    return thinned(hashes[places], places)


def thinned(hashes: Hashes, places: npt.NDArray[np.int64]) -> tuple[Hashes, npt.NDArray[np.int64]]:
    """Only the first places of each run, in order of hash."""
    order = np.argsort(hashes, kind="stable")
    hashes, places = hashes[order], places[order]
    within = np.arange(len(hashes)) - np.searchsorted(hashes, hashes, side="left")
    kept = within < _MOST_PLACES
    return hashes[kept], places[kept]


def merged(segments: Sequence[tuple[Segment, npt.NDArray[np.bool_]]]) -> tuple[list[str], Arrays]:
    """Put several segments together, of each only the texts that are told to be kept; keys and arrays."""
    keys: list[str] = []
    parts: dict[str, list[npt.NDArray[Any]]] = {name: [] for name in _KINDS}
    lengths: dict[str, list[npt.NDArray[Any]]] = {"letters": [], "text": []}
    for segment, is_kept in segments:
        renumbered = np.cumsum(is_kept) - 1 + len(keys)
        keys += [key for key, kept in zip(segment.keys, is_kept.tolist(), strict=True) if kept]
        for sort, fields in (("gram", ("gram_hash", "gram_at")), ("word", ("word_hash",))):
            numbers = segment.arrays[f"{sort}_text"]
            rows = is_kept[numbers]
            parts[f"{sort}_text"].append(renumbered[numbers[rows]].astype(np.uint32))
            for name in fields:
                parts[name].append(segment.arrays[name][rows])
        for name in ("letters", "text"):
            starts = segment.arrays[f"{name}_from"].astype(np.int64)
            each = starts[1:] - starts[:-1]
            parts[name].append(segment.arrays[name][np.repeat(is_kept, each)])
            lengths[name].append(each[is_kept])
    arrays = {name: _joined(name, found) for name, found in parts.items()}
    for name, found in lengths.items():
        arrays[f"{name}_from"] = _starts([length for each in found for length in each.tolist()])
    return keys, _in_order(arrays)


def _joined(name: str, parts: Sequence[npt.NDArray[Any]]) -> npt.NDArray[Any]:
    return np.concatenate(parts).astype(_KINDS[name], copy=False) if parts else np.zeros(0, dtype=_KINDS[name])


def _starts(lengths: Sequence[int]) -> npt.NDArray[np.uint64]:
    return np.concatenate(([0], np.cumsum(np.array(lengths, dtype=np.int64)))).astype(np.uint64)


def _in_order(arrays: Arrays) -> Arrays:
    for sort, fields in (("gram", ("gram_text", "gram_at")), ("word", ("word_text",))):
        order = np.argsort(arrays[f"{sort}_hash"], kind="stable")  # so the texts stay in order, and places in each
        for name in (f"{sort}_hash", *fields):
            arrays[name] = arrays[name][order]
    return arrays


def write_segment(folder: Path, method: str, keys: Iterable[str], arrays: Arrays) -> str:
    """Write a segment in one step; its name.

    Raises:
        OSError: the folder cannot be written.
    """
    pieces: list[bytes] = []
    places, size = {}, 0
    for name, kind in _KINDS.items():
        pieces.append(bytes(-size % _ALIGNED))
        size += len(pieces[-1])
        little = np.ascontiguousarray(arrays[name], dtype=np.dtype(kind).newbyteorder("<"))
        pieces.append(little.tobytes())
        places[name] = [size, len(little)]
        size += little.nbytes
    heading = {"method": method, "keys": list(keys), "arrays": places}
    head = json.dumps(heading, ensure_ascii=True, sort_keys=True).encode()
    head += b" " * (-(len(_FIRST) + _DIGEST_SIZE + 8 + len(head)) % _ALIGNED)
    pieces[:0] = [len(head).to_bytes(8, "little"), head]
    digest = hashlib.sha256()
    for piece in pieces:
        digest.update(piece)
    name = digest.hexdigest()[:32] + SUFFIX
    replace_file(folder / name, [_FIRST, digest.digest(), *pieces])
    return name


def replace_file(path: Path, content: Iterable[bytes]) -> None:
    """Write a file in one step: whoever reads it finds the old content or the new, whole.

    Nothing waits for the disk: what a power cut leaves half there is noticed when it is opened, and made again.

    Raises:
        OSError: the folder cannot be written.
    """
    number, temporary = tempfile.mkstemp(dir=path.parent, prefix=".", suffix=PART_SUFFIX)
    try:
        with os.fdopen(number, "wb") as file:
            file.writelines(content)
        Path(temporary).replace(path)
    except BaseException:
        Path(temporary).unlink(missing_ok=True)
        raise


def open_segment(path: Path, method: str) -> Segment:
    """Open a segment; its arrays stay on disk until they are looked at.

    Raises:
        SegmentError: it is not there, cut short, altered, foreign, or of another method.
    """
    try:
        with path.open("rb") as file:
            content = mmap.mmap(file.fileno(), 0, access=mmap.ACCESS_READ)
    except (OSError, ValueError) as error:
        raise SegmentError(str(error)) from error
    start = len(_FIRST) + _DIGEST_SIZE
    if content[: len(_FIRST)] != _FIRST:
        raise SegmentError(f"{path.name} is no segment")
    if hashlib.sha256(memoryview(content)[start:]).digest() != content[len(_FIRST) : start]:
        raise SegmentError(f"{path.name} was altered")
    size = int.from_bytes(content[start : start + 8], "little")
    heading = json.loads(content[start + 8 : start + 8 + size])
    if heading["method"] != method:
        raise SegmentError(f"{path.name} is of another method")
    arrays = {
        name: np.frombuffer(content, np.dtype(kind).newbyteorder("<"), count, start + 8 + size + offset)
        for name, kind in _KINDS.items()
        for offset, count in [heading["arrays"][name]]
    }
    return Segment(path.name, tuple(heading["keys"]), arrays)
