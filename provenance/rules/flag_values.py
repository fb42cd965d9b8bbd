"""A flag: something about a feature or a source that somebody has to know or do something about."""

from dataclasses import dataclass
from enum import StrEnum

from provenance.records.archive import Archive
from provenance.records.dates import Day, EdtfDate

ALL_FLAGS = (
    "built-on-thin-evidence",
    "circular-identification",
    "conjecture-undeclared",
    "contested",
    "decision-overtaken",
    "does-not-mate",
    "doubtful-reading",
    "fixity-broken",
    "hazard-no-caution",
    "inferred-only",
    "loan-due",
    "measurements-disagree",
    "modern-change-unexplained",
    "never-coexisted",
    "no-datum",
    "no-evidence",
    "not-known-closely-enough",
    "not-transcribed",
    "other-example-only",
    "panel-overtaken",
    "query-open",
    "rights-unclear",
    "single-source",
    "unread-page",
    "untagged-find",
)
"""The ids of all flags; they are stable."""


class Level(StrEnum):
    """How pressing a flag is: `stop` before anything is made or printed, `warn`, or `note`."""

    STOP = "stop"
    WARN = "warn"
    NOTE = "note"


@dataclass(frozen=True, slots=True, kw_only=True)
class Flag:
    """Something about a feature or a source that somebody has to know or do something about.

    Attributes:
        flag: one of `ALL_FLAGS`.
        about: `component/feature`, or the id of a source, a component or a panel.
        sentence: what there is, for people.
        mend: what to do about it.
        claims: ids of the claims behind it, in order.
        sources: ids of the sources behind it, in order.
        needed_by: when the component is needed; for a source, the earliest of the features that it is evidence for.
    """

    flag: str
    severity: Level
    about: str
    sentence: str
    mend: str
    claims: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()
    needed_by: EdtfDate | None = None


_LEVELS = tuple(Level)
_PROMINENCE = {"focal": 0, "visible": 1, "hidden": 2, None: 3}
_NEVER = Day(10**9, 1, 1)


@dataclass(frozen=True, slots=True)
class Urgency:
    """How pressing what a flag is about is: when it is needed, then how prominent it is to visitors.

    Attributes:
        needed_by: None for not said.
        prominence: `focal`, `visible`, `hidden` or None.
    """

    needed_by: EdtfDate | None = None
    prominence: str | None = None

    @property
    def order(self) -> tuple[Day, int]:
        """What it is sorted by, the most pressing first."""
        day = self.needed_by.earliest or self.needed_by.latest if self.needed_by else None
        return day or _NEVER, _PROMINENCE.get(self.prominence, len(_PROMINENCE))


def urgencies(archive: Archive) -> dict[str, Urgency]:
    """Say how pressing each feature and component is; and each source, as the most pressing that it is evidence for."""
    found = {}
    for about in archive.features:
        component = archive.components[about.partition("/")[0]]
        found[about] = Urgency(component.needed_by, component.prominence)
    for claim in archive.claims.values():
        urgency = found.get(claim.about, Urgency())
        for item in claim.evidence:
            if item.source not in found or urgency.order < found[item.source].order:
                found[item.source] = urgency
    for component in archive.components.values():
        found.setdefault(component.id, Urgency(component.needed_by, component.prominence))
    return found


def in_order_of_severity(flag: Flag, urgency: Urgency) -> tuple[int, Day, int, str, str, str]:
    """Sort flags by severity, then when it is needed, then prominence, then what it is about."""
    return _LEVELS.index(flag.severity), *urgency.order, flag.about, flag.flag, flag.sentence
