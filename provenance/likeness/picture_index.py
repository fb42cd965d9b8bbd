"""Which of many held pictures could be the same as this one, without comparing it with each.

The index answers with candidates in order of promise; whether one of them is the same picture is for the proof to say.
It grows as a log-structured merge tree does (P. O'Neil, E. Cheng, D. Gawlick, E. O'Neil, Acta Informatica 33, 1996):
what is added becomes a segment of its own, and segments of like size are made into one when there are several, so that
adding a picture to many costs little and there are never many places to look.
"""

from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
import numpy.typing as npt

from provenance.likeness.index_files import Listed, read_listing, write_listing, write_segment
from provenance.likeness.index_merging import due_together
from provenance.likeness.index_segments import MOST_PICTURES, Sample, Segment, build, merge, open_segment, sample
from provenance.likeness.near_hashes import hashes_in_every_form, least_apart
from provenance.likeness.picture_votes import ask, count_votes
from provenance.likeness.proof import Query
from provenance.likeness.values import PicturePrint

NEARLY_EQUAL = 8
"""In up to how many of 64 bits the hashes of two pictures may differ for one to be a candidate, whatever its points."""

MOST = 40
"""How many candidates are worth a proof: the originals of transformed pictures were among the first 30 of 10,000, and
the proof of so many takes most of a second."""

SHARE_BY_HASH = 4
"""Of the candidates one in so many is kept for pictures with nearly equal hashes; more only where places are left."""

LEAST_VOTES = 1.5
"""Below which a picture is no candidate by its points: a pair that agrees by chance has one at most for each key."""

_TIMES_READ = 10


@dataclass(frozen=True, slots=True, kw_only=True)
class Candidate:
    """A held picture that could be the same as the one asked about.

    Attributes:
        key: of the picture.
        votes: of pairs of points that agree on one turn and one change of size. A pair has one vote for each table in
            which its keys are equal, so that nearer marks weigh more. Below `LEAST_VOTES` it is one by its hash.
    """

    key: str
    votes: float


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class _Part:
    """A segment on the list, and which of its pictures are still to be found."""

    listed: Listed
    segment: Segment

    @property
    def stays(self) -> npt.NDArray[np.bool_]:
        stays = np.ones(len(self.segment.names), np.bool_)
        stays[list(self.listed.dropped)] = False
        return stays


class PictureIndex:
    """The fingerprints of many pictures, so that those like a given one are found quickly.

    An index that was opened answers from the state in which it was, whatever others write meanwhile. Only one may write
    at a time; the caller sees to that.
    """

    __slots__ = ("_folder", "_parts", "_where")

    def __init__(self, folder: Path) -> None:
        """Open the index in a folder; what is damaged or was made by another method counts as not there.

        Nothing is written until something is added or dropped.
        """
        self._folder = folder
        self._take(_open_parts(folder))

    def _take(self, parts: Iterable[_Part]) -> None:
        self._parts = tuple(parts)
        self._where = {
            part.segment.names[i]: (n, int(i)) for n, part in enumerate(self._parts) for i in np.flatnonzero(part.stays)
        }

    @property
    def keys(self) -> frozenset[str]:
        """The keys of all pictures that can be found."""
        return frozenset(self._where)

    def add(self, prints: Iterable[tuple[str, PicturePrint]]) -> None:
        """Keep pictures, each in the place of an earlier one of its key; all of them in one step.

        Raises:
            ValueError: marks with too few bits.
            WriteRefusedError: the disk refuses; the index is as it was.
        """
        parts: list[_Part] | None = None
        for samples in _batches(prints):
            parts = _without(self._as_it_is() if parts is None else parts, samples)
            segment = build(samples)
            parts.append(_Part(listed=write_segment(self._folder, segment), segment=segment))
        if parts is not None:
            self._put(parts)

    def drop(self, keys: Iterable[str]) -> None:
        """Find pictures no more; keys that are not there are passed over.

        Raises:
            WriteRefusedError: the disk refuses; the index is as it was.
        """
        unwanted = frozenset(keys)
        parts = self._as_it_is()
        if not self._where.keys().isdisjoint(unwanted):
            self._put(_without(parts, unwanted))

    def _as_it_is(self) -> list[_Part]:
        """The parts on the list now: somebody may have written since this was opened."""
        listing = read_listing(self._folder)
        if listing != tuple(part.listed for part in self._parts):
            self._take(_open_parts(self._folder))
        return list(self._parts)

    def _put(self, parts: list[_Part]) -> None:
        """Make segments into one where they are due, and put all of them on the list."""
        parts = [part for part in parts if part.stays.any()]
        while due := due_together([int(part.stays.sum()) for part in parts], [len(part.stays) for part in parts]):
            segment = merge([(parts[place].segment, parts[place].stays) for place in due])
            merged = _Part(listed=write_segment(self._folder, segment), segment=segment)
            parts = [*(part for place, part in enumerate(parts) if place not in due), merged]
        write_listing(self._folder, tuple(part.listed for part in parts))
        self._take(parts)

    def candidates(self, query: Query, *, most: int = MOST, without: Collection[str] = ()) -> tuple[Candidate, ...]:
        """Name the pictures that could be the same as the one asked about.

        The same pictures give the same answer, in whatever order they were added. Pictures that were dropped are not
        named, but count towards how common a key is until their segment is written anew.

        Args:
            query: the picture asked about; it may be held itself.
            most: how many to name at most.
            without: keys that are not to be named; they do not count against `most`.

        Returns:
            Those with most votes first, then in order of their keys.
        """
        if not self._parts or most < 1:
            return ()
        segments = [part.segment for part in self._parts]
        counted = np.concatenate(count_votes(segments, ask(list(query.forms.values()))))
        votes: npt.NDArray[np.float64] = np.round(counted, 6)
        hashes = np.concatenate([segment.hashes for segment in segments])
        apart = least_apart(hashes, hashes_in_every_form(query.picture))
        asked_for = np.concatenate([part.stays for part in self._parts])
        asked_for[[self._number(key) for key in without if key in self._where]] = False
        names = [name for segment in segments for name in segment.names]
        near = _first(names, apart, asked_for & (apart <= NEARLY_EQUAL), most)
        voted = _first(names, -votes, asked_for & (votes >= LEAST_VOTES), most)
        chosen = _chosen(near, voted, most)
        return tuple(sorted((Candidate(key=names[i], votes=float(votes[i])) for i in chosen), key=_by_promise))

    def _number(self, key: str) -> int:
        """The place of a picture when all segments stand one after another."""
        part, place = self._where[key]
        return sum(len(each.segment.names) for each in self._parts[:part]) + place


def _open_parts(folder: Path) -> tuple[_Part, ...]:
    """Open what is on the list; where a writer was at it meanwhile, what is on the new list."""
    listing = read_listing(folder)
    for _ in range(_TIMES_READ):
        try:
            return tuple(_open_sound(folder, listing, may_be_gone=False))
        except FileNotFoundError:
            before, listing = listing, read_listing(folder)
            if listing == before:
                break
    return tuple(_open_sound(folder, listing, may_be_gone=True))


def _open_sound(folder: Path, listing: Iterable[Listed], *, may_be_gone: bool) -> Iterator[_Part]:
    for listed in listing:
        try:
            segment = open_segment(folder / listed.file, listed.known_by)
        except FileNotFoundError:
            if not may_be_gone:
                raise
        except (OSError, ValueError):  # damaged, or of another method: it counts as not there, and is made again
            continue
        else:
            if all(0 <= number < len(segment.names) for number in listed.dropped):
                yield _Part(listed=listed, segment=segment)


def _batches(prints: Iterable[tuple[str, PicturePrint]]) -> Iterator[dict[str, Sample]]:
    batch: dict[str, Sample] = {}
    for key, picture in prints:
        batch[key] = sample(picture)
        if len(batch) == MOST_PICTURES:
            yield batch
            batch = {}
    if batch:
        yield batch


def _without(parts: Iterable[_Part], keys: Iterable[str]) -> list[_Part]:
    """The parts with some pictures dropped."""
    unwanted = frozenset(keys)
    return [_dropping(part, unwanted) for part in parts]


def _dropping(part: _Part, unwanted: frozenset[str]) -> _Part:
    dropped = {place for place, name in enumerate(part.segment.names) if name in unwanted}
    if dropped <= set(part.listed.dropped):
        return part
    return replace(part, listed=replace(part.listed, dropped=tuple(sorted(dropped | set(part.listed.dropped)))))


def _first(
    names: Sequence[str],
    order: npt.NDArray[np.int64] | npt.NDArray[np.float64],
    wanted: npt.NDArray[np.bool_],
    most: int,
) -> list[int]:
    """The places of those that come first by a number, then by name, among those wanted."""
    places = np.flatnonzero(wanted)
    if len(places) > most:
        last = np.partition(order[places], most - 1)[most - 1]
        places = places[order[places] <= last]
    return sorted(map(int, places), key=lambda place: (order[place], names[place]))[:most]


def _chosen(near: Sequence[int], voted: Sequence[int], most: int) -> list[int]:
    """Some by their hash and the others by their votes, so that many of the one kind do not crowd out the other."""
    share = near[: -(-most // SHARE_BY_HASH)]
    chosen = dict.fromkeys([*share, *[place for place in voted if place not in share][: most - len(share)]])
    for place in near[len(share) :]:
        if len(chosen) < most:
            chosen[place] = None
    return list(chosen)


def _by_promise(candidate: Candidate) -> tuple[float, str]:
    return -candidate.votes, candidate.key
