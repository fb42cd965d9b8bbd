"""What one source has in common with all others: the pictures and texts of it that were seen before."""

from collections.abc import Callable, Collection, Iterable, Iterator
from dataclasses import dataclass, replace
from decimal import Decimal

from provenance.likeness.picture_index import PictureIndex
from provenance.likeness.proof import Query, prove
from provenance.likeness.values import Corners, Likeness, PictureMatch, TextMatch
from provenance.likeness.word_index import WordIndex
from provenance.records.decisions import PICTURE, AlikePlace
from provenance.records.readings import Box, PageReading
from provenance.records.regions import Region, RegionUnit
from provenance.records.sources import Source
from provenance.tasks.held_pictures import HeldPicture, HeldPictures
from provenance.tasks.held_texts import HeldText, HeldTexts
from provenance.tasks.page_readings import Readings, SourcePage

TEXT = "text"
FEW = 400
"""So many comparisons of pictures are made for two sources without asking the index; each takes a few milliseconds."""
_WHOLE = 99.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Alike:
    """A likeness between a picture or text of one source and one of another.

    Attributes:
        source: the id of a source.
        other: the id of the source that it looks like.
        method: `picture` or `text`.
        match: what the comparison came to.
        own_key: of the picture or text of the source.
        other_key: of the picture or text of the other.
        here: where in the source.
        there: where in the other.
    """

    source: str
    other: str
    method: str
    match: PictureMatch | TextMatch
    own_key: str
    other_key: str
    here: AlikePlace
    there: AlikePlace


class Seeker:
    """Looks for what was seen before, in what is held now.

    Attributes:
        pictures: those that are held.
        texts: those that are held.
    """

    def __init__(
        self,
        readings: Readings,
        held: tuple[HeldPictures, HeldTexts],
        indexes: tuple[PictureIndex, WordIndex],
        family_of: Callable[[str], str],
    ) -> None:
        """Seek among what is held, by its indexes; `family_of` names the family of copies of a source."""
        self._readings = readings
        self.pictures, self.texts = held
        self._picture_index, self._word_index = indexes
        self._family_of = family_of

    def seek(self, source: Source, is_settled: Callable[[str], bool]) -> Iterator[Alike]:
        """Every source that one looks like: pictures that are copies first, then possible ones, then texts.

        The two of a likeness are in order of their ids, whichever of them was asked about: so its reason speaks of the
        first and the second as their record does. What is sure is given at once, so that whoever takes it can settle
        what follows from it: of a thousand prints of one photograph only one has to be compared.

        Args:
            source: which one.
            is_settled: asked of the id of another source, again and again: whether nothing more is to be known of the
                two, so that they need not be compared.
        """
        possible: list[Alike] = []
        for found in self._alike_pictures(source, is_settled):
            if found.match.likeness is Likeness.COPY:
                yield self._in_order(found)
            else:
                possible.append(found)
        yield from map(self._in_order, _best_of_each(possible))
        yield from map(self._in_order, _best_of_each(self._alike_texts(source, is_settled)))

    def between(self, one: Source, other: Source) -> Iterator[Alike]:
        """What two sources have in common, the likeliest place of the pictures and of the texts; nothing for neither.

        Every picture of the one is compared with every picture of the other where they are few, else with those that
        the index proposes.
        """
        yield from _best_of_each(self._pictures_between(one, other))
        elsewhere = [key for key, text in self.texts.by_key.items() if text.source not in {one.id, other.id}]
        found = self._alike_texts(one, lambda _: False, without=elsewhere)
        yield from _best_of_each(alike for alike in found if alike.other == other.id)

    def _in_order(self, alike: Alike) -> Alike:
        """The same likeness with the first of the two by id as the first."""
        if alike.source < alike.other:
            return alike
        match = alike.match
        if isinstance(match, PictureMatch):
            one, other = self.pictures.by_key(alike.other_key), self.pictures.by_key(alike.own_key)
            turned = prove(Query(one), other) if one and other else match
            match = turned if turned.likeness is not Likeness.DISTINCT else match
        else:
            errors = tuple(replace(each, at_one=each.at_other, at_other=each.at_one) for each in match.errors)
            match = replace(match, key=alike.own_key, one=match.other, other=match.one, errors=errors)
        return replace(
            alike,
            source=alike.other,
            other=alike.source,
            match=match,
            own_key=alike.other_key,
            other_key=alike.own_key,
            here=alike.there,
            there=alike.here,
        )

    def _pictures_between(self, one: Source, other: Source) -> Iterator[Alike]:
        here, there = list(self.pictures.of_source(one)), list(self.pictures.of_source(other))
        theirs = {picture.key for picture in there}
        for picture in here:
            query = Query(picture.print)
            if len(here) * len(there) <= FEW:
                keys: Iterable[str] = theirs
            else:
                keys = [each.key for each in self._picture_index.candidates(query) if each.key in theirs]
            for key in sorted(keys):
                found = self._proven(picture, query, key, lambda _: False)
                yield from (alike for alike in found if alike.other == other.id)

    def _alike_pictures(self, source: Source, is_settled: Callable[[str], bool]) -> Iterator[Alike]:
        own = list(self.pictures.of_source(source))
        own_keys = {picture.key for picture in own}
        for picture in own:
            query = Query(picture.print)
            for candidate in self._picture_index.candidates(query, without=own_keys):
                yield from self._proven(picture, query, candidate.key, is_settled)

    def _proven(
        self, picture: HeldPicture, query: Query, key: str, is_settled: Callable[[str], bool]
    ) -> Iterator[Alike]:
        if all(is_settled(page.source.id) for page in self._whose(key)):
            return
        other = self.pictures.by_key(key)
        if other is None:
            return
        match = prove(query, other)
        if match.likeness is Likeness.DISTINCT:
            return
        if picture.page not in self.pictures.owners(picture.key, match.one):
            return
        for page in self.pictures.owners(key, match.other):
            if not is_settled(page.source.id):
                yield Alike(
                    source=picture.page.source.id,
                    other=page.source.id,
                    method=PICTURE,
                    match=match,
                    own_key=picture.key,
                    other_key=key,
                    here=AlikePlace(page=picture.page.page, region=_region(match.one)),
                    there=AlikePlace(page=page.page, region=_region(match.other)),
                )

    def _whose(self, key: str) -> Collection[SourcePage]:
        return self.pictures.pages.get(key.rpartition("/")[0], ())

    def _alike_texts(
        self, source: Source, is_settled: Callable[[str], bool], *, without: Iterable[str] = ()
    ) -> Iterator[Alike]:
        own = self.texts.by_source.get(source.id, ())
        own_keys = {text.key for text in own}.union(without)
        for text in own:
            for match in self._word_index.matches(text.key, family_of=self._family, without=own_keys):
                other = self.texts.by_key.get(match.key)
                if other is not None and match.likeness is not Likeness.DISTINCT and not is_settled(other.source):
                    yield Alike(
                        source=source.id,
                        other=other.source,
                        method=TEXT,
                        match=match,
                        own_key=text.key,
                        other_key=match.key,
                        here=self._place(text, match.one),
                        there=self._place(other, match.other),
                    )

    def _family(self, key: str) -> str:
        return self._family_of(key.partition("/")[0])

    def _place(self, text: HeldText, span: tuple[int, int]) -> AlikePlace:
        if text.page is None:
            return AlikePlace()
        reading = text.reading(self._readings)
        return AlikePlace(page=text.page.page, region=_around(reading, span) if reading else None)


def _best_of_each(found: Iterable[Alike]) -> list[Alike]:
    """The likeliest place for each other source, the likeliest source first."""
    best: dict[str, Alike] = {}
    for alike in found:
        known = best.get(alike.other)
        if known is None or alike.match.score > known.match.score:
            best[alike.other] = alike
    return sorted(best.values(), key=lambda each: (-each.match.score, each.other))


def _region(area: Corners) -> Region | None:
    """The rectangle around an area; None for the whole page."""
    across, down = [min(100.0, max(0.0, x)) for x, _ in area], [min(100.0, max(0.0, y)) for _, y in area]
    left, top = min(across), min(down)
    return _rectangle(left, top, max(across) - left, max(down) - top)


def _around(reading: PageReading, span: tuple[int, int]) -> Region | None:
    """The rectangle around the words of a stretch of a page's text; None where their places are not known."""
    boxes = _boxes_in(reading, span)
    if not boxes:
        return None
    left, top = min(box.x for box in boxes), min(box.y for box in boxes)
    right, lower = max(box.x + box.w for box in boxes), max(box.y + box.h for box in boxes)
    return _rectangle(left, top, right - left, lower - top)


def _boxes_in(reading: PageReading, span: tuple[int, int]) -> list[Box]:
    """The places of the words of `PageReading.text` from one character to another."""
    by_line: dict[int, list[tuple[str, Box | None]]] = {}
    for word in reading.words:
        by_line.setdefault(word.line, []).append((word.text, word.box))
    at, boxes = 0, []
    for text, box in (word for line in by_line.values() for word in line):
        if box is not None and at < span[1] and at + len(text) > span[0]:
            boxes.append(box)
        at += len(text) + 1
    return boxes


def _rectangle(left: float, top: float, width: float, height: float) -> Region | None:
    if width >= _WHOLE and height >= _WHOLE:
        return None
    x, y, w, h = (Decimal(f"{side:.1f}").normalize() for side in (left, top, max(width, 0.1), max(height, 0.1)))
    return Region(unit=RegionUnit.PERCENT, x=x, y=y, w=w, h=h)
