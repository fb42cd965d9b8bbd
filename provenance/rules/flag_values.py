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
    "suspected-copy",
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

    @property
    def about_kind(self) -> str:
        """What it is about: `features`, `sources`, `components` or `panels`; two of them may have the same id."""
        if "/" in self.about:
            return "features"
        if self.about in self.sources:
            return "sources"
        return "components" if self.flag == "hazard-no-caution" else "panels"


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


def urgencies(archive: Archive) -> dict[tuple[str, str], Urgency]:
    """Say how pressing each feature and component is; and each source, as the most pressing that it is evidence for.

    Returns:
        By kind, as `Flag.about_kind` names it, and id.
    """
    found: dict[tuple[str, str], Urgency] = {}
    for component in archive.components.values():
        urgency = Urgency(component.needed_by, component.prominence)
        found["components", component.id] = urgency
        found.update({("features", f"{component.id}/{feature.id}"): urgency for feature in component.features})
    for claim in archive.claims.values():
        urgency = found.get(("features", claim.about), Urgency())
        for item in claim.evidence:
            key = "sources", item.source
            if key not in found or urgency.order < found[key].order:
                found[key] = urgency
    return found


def in_order_of_severity(flag: Flag, urgency: Urgency) -> tuple[int, Day, int, str, str, str]:
    """Sort flags by severity, then when it is needed, then prominence, then what it is about."""
    return _LEVELS.index(flag.severity), *urgency.order, flag.about, flag.flag, flag.sentence
