"""A page read with its lines level and the right way up, however it was laid on the scanner.

A lean is seen in the picture before anything is read. Whether a page lies upside down is asked only where the first
reading is poor, and whether it lies sideways also where the picture says so: then a few of its lines are read each way
up, and the page once more the way that they are read best; of whole readings the better one is kept.
"""

from dataclasses import dataclass, replace

from provenance.pages.pictures import PagePicture
from provenance.reading.evidence import evidence, is_well_read, letters, share_sure
from provenance.reading.leaning import Lay, busiest_band, see_lay
from provenance.reading.recognising import recognise
from provenance.reading.remaining import completed
from provenance.reading.settings import ReadingSettings
from provenance.reading.turning import AS_DELIVERED, Turn, level_width, place_back, turned
from provenance.records.readings import Word

_LEAST_DEGREES = 1.0
_BAND, _SCATTERED = 0.15, 11
_SIDEWAYS_BY = 2.5
_FEWEST_LETTERS, _NOT_OF_A_PHOTOGRAPH = 12, 60
_BEYOND_DOUBT = 0.8


@dataclass(frozen=True, slots=True, kw_only=True)
class Recognised:
    """What was recognised on a page.

    Attributes:
        words: in reading order, with places on the page as delivered.
        turn: how the page was turned for it.
        uncovered: the share of its text-like ink that no word covers, 0 to 1; 0 where it is too little to tell.
    """

    words: tuple[Word, ...]
    turn: Turn = AS_DELIVERED
    uncovered: float = 0.0

    @property
    def note(self) -> str:
        """Say what was done to the page, and what of it was not read; empty for nothing."""
        unread = f"a part of this page (about {100 * self.uncovered:.0f} %) looks like text and was not read"
        return "; ".join(said for said in (self.turn.in_words(), unread if self.uncovered else "") if said)


@dataclass(frozen=True, slots=True)
class _Recognising:
    """A page with all that recognising it takes."""

    picture: PagePicture
    data: tuple[str, ...]
    settings: ReadingSettings
    lay: Lay

    def turned(self, turn: Turn) -> PagePicture:
        return replace(self.picture, image=turned(self.picture.image, turn))

    def settings_for(self, turn: Turn, page: PagePicture) -> ReadingSettings:
        """Let a leaning page be doubled where it would be if it lay level: its picture is wider by the corners."""
        share = level_width(self.picture.image.size, turn) / page.image.width
        return replace(self.settings, double_below=round(self.settings.double_below / max(share, 0.5)))

    def read(self, turn: Turn) -> Recognised:
        """Read the whole page, turned; the words have their places on the turned page."""
        page = self.turned(turn)
        return Recognised(words=recognise(page, self.data, self.settings_for(turn, page)), turn=turn)

    def finished(self, read: Recognised) -> Recognised:
        """Read what was left out of the page as well, and bring all places back to the page as delivered."""
        turn, page = read.turn, self.turned(read.turn)
        size, delivered = page.image.size, self.picture.image.size
        whole = completed(page, read.words, self.data, self.settings_for(turn, page))
        words = tuple(
            replace(word, box=place_back(word.box, turn, size, delivered)) if word.box else word for word in whole.words
        )
        return Recognised(words=words, turn=turn, uncovered=round(whole.uncovered, 3))

    def read_some(self, turn: Turn) -> tuple[Word, ...]:
        """Read a few lines of the page, turned: as scattered words, for columns and rules must not matter."""
        page = self.turned(turn)
        top, bottom = busiest_band(page.image, _BAND)
        band = replace(page, image=page.image.crop((0, top, page.image.width, bottom)))
        return recognise(band, self.data, replace(self.settings_for(turn, page), layout_mode=_SCATTERED))


def read_upright(picture: PagePicture, data: tuple[str, ...], settings: ReadingSettings) -> Recognised:
    """Recognise the words of a page, turned as its lines lie; what the recogniser leaves out is read by itself.

    Args:
        picture: as delivered.
        data: names of the recogniser's data, such as `eng`.
        settings: of this run.

    Raises:
        UnreadableOriginalError: the recogniser gives up on the page.
        ToolMissingError: it is not there any more.
    """
    image = picture.image
    page = _Recognising(picture, data, settings.for_page(image.size, picture.dpi), see_lay(image))
    return page.finished(_read_best_way_up(page))


def _read_best_way_up(page: _Recognising) -> Recognised:
    if _seems_sideways(page.lay):
        turn = _best_turn(page, (1, 3), least=_BEYOND_DOUBT)
        if turn is not None:
            return page.read(turn)
    first = page.read(_turn(page.lay, 0))
    if is_well_read(first.words) or not _may_hold_text(page.lay, first.words):
        return first
    turn = _best_turn(page, (2, 1, 3), least=share_sure(first.words))
    return first if turn is None else max(first, page.read(turn), key=lambda read: evidence(read.words))


def _turn(lay: Lay, quarters: int) -> Turn:
    """Give the turn by quarters, and by the lean that its lines have then; too small a lean is left."""
    seen = lay.seen(across=quarters % 2 == 1) or 0.0
    return Turn(quarters, seen if abs(seen) >= _LEAST_DEGREES else 0.0)


def _seems_sideways(lay: Lay) -> bool:
    """Whether lines that run up or down the picture are far clearer than any that run along it."""
    return lay.across.is_of_lines and lay.across.fit > _SIDEWAYS_BY * lay.along.fit


def _may_hold_text(lay: Lay, words: tuple[Word, ...]) -> bool:
    """Whether a page may hold lines of text at all: most that are read poorly are photographs.

    Measured: in photographs up to 40 letters are found that are not there.
    """
    return letters(words) >= _NOT_OF_A_PHOTOGRAPH or lay.along.is_of_lines or lay.across.is_of_lines


def _best_turn(page: _Recognising, quarters: tuple[int, ...], least: float) -> Turn | None:
    """Read a few lines each way up; give the turn at which they are read best, None where none is better than least."""
    best, best_share = None, least
    for turn in (_turn(page.lay, number) for number in quarters):
        words = page.read_some(turn)
        share = share_sure(words)
        if letters(words) >= _FEWEST_LETTERS and share > best_share:
            best, best_share = turn, share
        if best and best_share >= _BEYOND_DOUBT:
            break
    return best
