"""All flags of an archive, the most pressing first."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from provenance.records.archive import Archive
from provenance.records.dates import Day
from provenance.records.uninterrupted import uninterrupted
from provenance.rules.caution_flags import caution_flags
from provenance.rules.chosen_builds import standing_decisions
from provenance.rules.coexistence_flags import coexistence_flags
from provenance.rules.copy_flags import copy_flags
from provenance.rules.decision_flags import decision_flags
from provenance.rules.descent import Lineage
from provenance.rules.feature_flags import feature_flags
from provenance.rules.findings import Findings
from provenance.rules.flag_values import ALL_FLAGS, Flag, Level, Urgency, in_order_of_severity, urgencies
from provenance.rules.judging import judge_all, judge_feature
from provenance.rules.mate_flags import mate_flags
from provenance.rules.measure_flags import measure_flags
from provenance.rules.open_pairs import OpenPairs
from provenance.rules.panel_flags import panel_flags
from provenance.rules.query_flags import query_flags
from provenance.rules.source_flags import source_flags
from provenance.rules.verdicts import Verdict

__all__ = ["ALL_FLAGS", "Flag", "Level", "flags", "flags_of", "not_looked_for"]


def flags(
    archive: Archive, findings: Findings, *, today: Day | None, verdicts: Mapping[str, Verdict] | None = None
) -> tuple[Flag, ...]:
    """Raise every flag, in order of severity, then of when it is needed, then of prominence to visitors.

    Args:
        archive: the archive.
        findings: what was found on disk; what was not looked for raises nothing, and `not_looked_for` names it.
        today: the day on which it is asked; None: loans, permissions that run out and printed panels are not looked at.
        verdicts: those of `judge_all`, where they are at hand; None judges all features.
    """
    with uninterrupted():
        return _flags(archive, findings, today, judge_all(archive) if verdicts is None else verdicts)


def _flags(archive: Archive, findings: Findings, today: Day | None, judged: Mapping[str, Verdict]) -> tuple[Flag, ...]:
    open_pairs = OpenPairs(archive, Lineage(archive))
    raised = [flag for verdict in judged.values() for flag in feature_flags(archive, verdict, open_pairs)]
    raised.extend(flag for verdict in judged.values() for flag in measure_flags(verdict))
    whole = judged.keys() >= archive.features.keys()
    everything = judged.values if whole else lambda: judge_all(archive).values()
    raised.extend(copy_flags(archive, judged.values(), open_pairs))
    raised.extend(coexistence_flags(archive, judged.values(), everything))
    raised.extend(_flags_of_decisions(archive, judged, today))
    raised.extend(
        mate_flags(archive, judged.values(), lambda about: judged.get(about) or judge_feature(archive, about))
    )
    raised.extend(query_flags(archive))
    raised.extend(caution_flags(archive))
    raised.extend(source_flags(archive, findings, today))
    raised.extend(panel_flags(archive, today) if today is not None else ())
    urgent = urgencies(archive)
    pressing = [(flag, urgent.get((flag.about_kind, flag.about), Urgency())) for flag in raised]
    pressing.sort(key=lambda pair: in_order_of_severity(*pair))
    return tuple(
        replace(flag, needed_by=urgency.needed_by, sources=flag.sources or _cited_in(archive, flag.claims))
        for flag, urgency in pressing
    )


def _cited_in(archive: Archive, claims: Iterable[str]) -> tuple[str, ...]:
    """The sources behind a flag that names claims alone."""
    known = [archive.claims[claim] for claim in claims if claim in archive.claims]
    return tuple(sorted({item.source for claim in known for item in claim.evidence if item.withdrawn is None}))


def _flags_of_decisions(archive: Archive, judged: Mapping[str, Verdict], today: Day | None) -> Iterator[Flag]:
    standing = standing_decisions(archive)
    for about, verdict in judged.items():
        for decision in standing.get(about, ()):
            yield from decision_flags(archive, verdict, decision, today)


def flags_of(feature: str, raised: Iterable[Flag]) -> tuple[str, ...]:
    """Name the flags about one feature, each once, in the order in which they come."""
    return tuple(dict.fromkeys(flag.flag for flag in raised if flag.about == feature))


def not_looked_for(findings: Findings, today: Day | None) -> tuple[str, ...]:
    """Say in a sentence each what was not looked for; never to be passed over in silence."""
    loans = (
        ("Loans that fall due, permissions that run out and printed panels were not looked for.",)
        if today is None
        else ()
    )
    return findings.not_looked_for + loans
