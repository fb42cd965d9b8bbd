"""What every public output has to pass before it is written: the one door, a whole archive, rights that are cleared."""

from collections.abc import Iterable, Sequence

from provenance.errors import UsageRefusedError, WriteRefusedError
from provenance.records.dates import Day, EdtfError, parse_edtf
from provenance.reports.layout import paragraph
from provenance.reports.standing import LeftOut, Standing
from provenance.rules.clearance import NotCleared
from provenance.rules.public_values import PublicArchive
from provenance.rules.public_view import public_view
from provenance.tasks.opening import Opened

LIST_WIDTH = 100
"""How many characters a line of the list of whom to ask may have."""


def day_of(text: str) -> Day:
    """The day that a public output carries.

    Raises:
        UsageRefusedError: it is no single day.
    """
    mend = "give one day, such as `2026-11-24`"
    try:
        date = parse_edtf(text)
    except EdtfError as error:
        raise UsageRefusedError(error.what, mend) from error
    if date.earliest is None or date.earliest != date.latest:
        raise UsageRefusedError(f"`{text}` is not a single day", mend)
    return date.earliest


def through_the_door(opened: Opened, day: Day, *, draft: bool, judged: bool = True) -> PublicArchive:
    """Make the public view of an archive.

    Args:
        opened: the archive.
        day: on which closures and permissions are looked at.
        draft: whether it may go on without some of its records.
        judged: whether its features are judged; else the view holds no verdict and no claim.

    Raises:
        ArchiveError: it is to be judged, and does not say yet what it represents.
        WriteRefusedError: records could not be used, so nobody knows what they would change; a draft may go on.
    """
    if judged:
        _ = opened.target
    if opened.left_out and not draft:
        files = ", ".join(record.file for record in opened.left_out)
        raise WriteRefusedError(
            f"not the whole archive can be used, so nothing is printed of it: {files}",
            "mend what `provenance check` names, or make a draft with `--draft`",
        )
    return public_view(opened.archive, day, only=None if judged else ())


def require_cleared(sources: Sequence[NotCleared], *, draft: bool) -> None:
    """Stop what shows sources that are not cleared; a draft may show them.

    Raises:
        WriteRefusedError: with the list of what to ask whom.
    """
    if sources and not draft:
        listed = [
            line
            for number, source in enumerate(sources, 1)
            for line in paragraph(f"({number}) {source}", LIST_WIDTH, indent="  ", hang="      ")
        ]
        raise WriteRefusedError(
            "\n".join(("not everything that it shows is cleared for print:", *listed)),
            "enter the answers under `rights` in those sources, or make a draft with `--draft`",
        )


def still_to_clear(sources: Iterable[NotCleared]) -> tuple[str, ...]:
    """What the maker of a draft has still to do; a sentence each."""
    return tuple(f"Before it is printed, {source}." for source in sources)


def public_standing(opened: Opened, view: PublicArchive) -> Standing:
    """What a public answer begins with: how many records could not be used, not which."""
    left_out = tuple(LeftOut(file="(a record)", why="it could not be used") for _ in opened.left_out)
    return Standing(archive=view.archive.title, left_out=left_out)
