"""What may be shown outside the team: access to a source, and whether its publication is cleared.

`access_until` is the date until which `access` is so. A source of the team's, or a closed one, is open once that date
has certainly passed, as holdings of archives are at the end of their closure. An open one is open no longer as soon as
the date may have passed. Opened or not, it is printed only when its rights allow that.
"""

from dataclasses import dataclass

from provenance.records.dates import Day
from provenance.records.kinds import Access, Publish
from provenance.records.sources import Permission, Source

SCOPE = "panel"
"""What a permission must have been given for, where it names what it was given for."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NotCleared:
    """A source that a public output shows though its publication is not cleared.

    Attributes:
        source: its id.
        title: its title.
        why: what is missing, in words.
        ask: whom to ask.
    """

    source: str
    title: str
    why: str
    ask: str

    def __str__(self) -> str:
        """Write what to ask whom."""
        return f"ask {self.ask} about “{self.title}” ({self.source}): {self.why}"


def access_on(source: Source, day: Day) -> Access:
    """Say who may see a source on a day; what may have ceased to be open counts as closed."""
    until = source.access_until
    if until is None:
        return source.access
    if source.access is Access.OPEN:
        ends = until.earliest
        return Access.OPEN if ends is not None and day <= ends else Access.CLOSED
    has_passed = until.latest is not None and until.latest < day
    return Access.OPEN if has_passed else source.access


def why_not_cleared(source: Source, day: Day) -> str:
    """Say why a source may not be printed on a panel or beside it on a day; empty where it may.

    It is cleared when its record says `publish: allowed`, and a permission that is entered covers panels and has not
    certainly ended by that day.
    """
    rights = source.rights
    if rights is None:
        return "nothing is entered about its rights"
    if rights.publish is not Publish.ALLOWED:
        return _NOT_ALLOWED[rights.publish]
    return _why_not_permitted(rights.permission, day) if rights.permission else ""


def whom_to_ask(source: Source) -> str:
    """Name who can clear a source: the holder of the rights, else its holder."""
    return (source.rights.holder if source.rights else None) or source.holder or "whoever holds the rights"


_NOT_ALLOWED = {
    None: "it is not said whether it may be published",
    Publish.ASK: "permission to publish it has still to be asked for, and `publish: allowed` entered",
    Publish.REFUSED: "its publication was refused",
}


def _why_not_permitted(permission: Permission, day: Day) -> str:
    until = permission.until
    if SCOPE not in permission.scope:
        covers = f"covers {', '.join(permission.scope)}" if permission.scope else "does not say what it covers"
        return f"the permission {covers}, not panels"
    if until is not None and until.latest is not None and until.latest < day:
        return f"the permission ended ({until})"
    return ""
