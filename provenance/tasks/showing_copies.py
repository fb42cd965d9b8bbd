"""Show what two sources have in common: their pictures side by side, or the passages that they share."""

from collections.abc import Callable
from pathlib import Path

from provenance.errors import UsageRefusedError
from provenance.likeness.values import TextMatch
from provenance.reports.pair_shown import ShownLikeness, ShownPair
from provenance.rules.cautions import cautions_for
from provenance.tasks.alike import Alike
from provenance.tasks.comparing import silent
from provenance.tasks.looking_at_pairs import PairSeen, draw, look_at_pair
from provenance.tasks.opening import Opened
from provenance.tasks.output_files import format_of, require_place, write_output
from provenance.tasks.page_readings import Readings, pages_of
from provenance.tasks.two_sources import TwoSources, find_two

PICTURE_FILE = "png"
TEXT_FILE = "txt"


def show_pair(
    opened: Opened,
    names: tuple[str, str],
    *,
    output: Path | None = None,
    workers: int | None = None,
    on_progress: Callable[[str, int, int], None] = silent,
) -> ShownPair:
    """Compare two sources, and draw them where a picture is asked for; no record is written.

    Args:
        opened: the archive.
        names: the ids of the two, in any order.
        output: a file whose name ends in .png for the picture, which is written here, or in .txt for the page, which is
            not; None for neither.
        workers: how many pages are looked at at a time; None for one a core.
        on_progress: told how far it is.

    Raises:
        UnknownRecordError: there is no such source.
        UsageRefusedError: there is nothing to draw, a source is withdrawn, or no file can be written there.
        WriteRefusedError: the disk refuses.
    """
    two = find_two(opened, names)
    wanted = format_of(output, (PICTURE_FILE, TEXT_FILE)) if output else ""
    if output:
        require_place(output, opened.folder)
    for source in (two.one, two.other):
        if source.withdrawn is not None:
            what = f"{source.id} is withdrawn, so that it is not compared: {source.withdrawn.why}"
            raise UsageRefusedError(what, "look at its original itself")
    seen = look_at_pair(opened, *two.ids, workers=workers, on_progress=on_progress)
    if output and wanted == PICTURE_FILE:
        if seen.picture is None:
            what = "no pictures of the two were found alike, so there is nothing to draw"
            raise UsageRefusedError(
                what, "leave out --output, or let it end in `.txt` for the passages that they share"
            )
        write_output(output, draw(opened, seen.picture))
    return compose_shown(two, seen, output=str(output) if output else None)


def compose_shown(two: TwoSources, seen: PairSeen, *, output: str | None = None) -> ShownPair:
    """Compose the answer of what a comparison has seen.

    Args:
        two: the sources.
        seen: what they have in common.
        output: the file that was written; None for none.
    """
    opened = two.opened
    return ShownPair(
        standing=opened.standing,
        archive=opened.archive,
        between=two.ids,
        pair=two.pair,
        picture=_likeness(seen.picture),
        text=_likeness(seen.text),
        passages=seen.passages,
        errors=_errors(seen.text),
        unread=_unread(opened, two),
        output=output,
        cautions=cautions_for(opened.archive, {*two.one.hazards, *two.other.hazards}),
    )


def _unread(opened: Opened, two: TwoSources) -> int:
    """How many pages of the two nobody has tried to read yet."""
    readings = Readings(opened.folder, opened.archive)
    pages = {page for source in (two.one, two.other) for page in pages_of(source, opened.archive)}
    return sum(readings.key_of(page) is None and readings.failure_of(page) is None for page in pages)


def _likeness(alike: Alike | None) -> ShownLikeness | None:
    if alike is None:
        return None
    match = alike.match
    places = (alike.here, alike.there)
    return ShownLikeness(likeness=match.likeness.value, score=match.score, why=match.why, places=places)


def _errors(alike: Alike | None) -> tuple[tuple[str, str], ...]:
    if alike is None or not isinstance(alike.match, TextMatch):
        return ()
    return tuple(dict.fromkeys((error.written, error.usual) for error in alike.match.errors))
