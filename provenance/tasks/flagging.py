"""What needs attention, the most urgent first."""

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import date

from provenance.errors import UnknownRecordError, UsageRefusedError
from provenance.records.archive import Archive
from provenance.records.days import Day
from provenance.reports.flagged import Flagged
from provenance.rules.cautions import cautions_for
from provenance.rules.flags import ALL_FLAGS, Flag, Level, flags, not_looked_for
from provenance.rules.judging import judge_all
from provenance.rules.verdicts import Verdict
from provenance.tasks.findings import look
from provenance.tasks.nearest import nearest_mend
from provenance.tasks.opening import Opened

FIXITY = "fixity-broken"


def raise_flags(
    opened: Opened,
    *,
    today: date,
    rule: str | None = None,
    component: str | None = None,
    verdicts: Mapping[str, Verdict] | None = None,
    on_progress: Callable[[int, int], None] | None = None,
) -> Flagged:
    """Flag what needs attention.

    Args:
        opened: the archive.
        today: decides which loans are overdue.
        rule: only this flag; for `fixity-broken` every original is read, which otherwise counts as not looked for.
        component: only flags about this component's features.
        verdicts: on every feature, where they are known; None to judge them.
        on_progress: told how many originals are done, where they are read.

    Raises:
        UsageRefusedError: there is no such flag.
        UnknownRecordError: there is no such component.
        ArchiveError: the archive does not say yet what it represents.
    """
    archive = opened.archive
    _ = opened.target
    if rule is not None and rule not in ALL_FLAGS:
        raise UsageRefusedError(f"there is no flag `{rule}`", nearest_mend(rule, ALL_FLAGS, ", ".join(ALL_FLAGS)))
    if component is not None and component not in archive.components:
        mend = nearest_mend(component, archive.components, "the components are the files in the folder components")
        raise UnknownRecordError(f"there is no component `{component}`", mend)
    findings = look(opened, digests=rule == FIXITY, on_progress=on_progress)
    day = Day(today.year, today.month, today.day)
    raised = Flagged(
        standing=opened.standing,
        flags=flags(archive, findings, today=day, verdicts=judge_all(archive) if verdicts is None else verdicts),
        features=len(archive.features),
        not_looked_for=() if rule else not_looked_for(findings, day),  # what one rule needs is always looked for
    )
    return narrowed(archive, raised, rule=rule, component=component)


def narrowed(
    archive: Archive,
    flagged: Flagged,
    *,
    level: Level | None = None,
    rule: str | None = None,
    component: str | None = None,
) -> Flagged:
    """Keep of what was flagged only some, and the cautions of what that is about.

    What was not looked for stays said.

    Args:
        archive: the archive that was flagged.
        flagged: all flags of it.
        level: only the flags of this level.
        rule: only this flag.
        component: only flags about this component's features.
    """
    kept = tuple(
        flag
        for flag in flagged.flags
        if level in {None, flag.severity} and rule in {None, flag.flag} and _is_about(flag, component)
    )
    hazards = {hazard for flag in kept for hazard in _hazards(archive, flag)}
    return replace(flagged, flags=kept, cautions=cautions_for(archive, hazards))


def _hazards(archive: Archive, flag: Flag) -> tuple[str, ...]:
    """The hazards of what a flag is about: of a component or of that of a feature, or of a source."""
    if flag.about_kind == "sources":
        source = archive.sources.get(flag.about)
        return source.hazards if source else ()
    component = archive.components.get(flag.about.partition("/")[0]) if flag.about_kind != "panels" else None
    return component.hazards if component else ()


def _is_about(flag: Flag, component: str | None) -> bool:
    is_of_component = flag.about_kind in {"features", "components"} and flag.about.partition("/")[0] == component
    return component is None or is_of_component
