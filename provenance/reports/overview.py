"""How an archive stands at a glance: what it is about, how sure its features are, what is needed soonest."""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass

from provenance.records.archive import Archive
from provenance.records.dates import EdtfDate
from provenance.records.decisions import Query
from provenance.records.sources import Source
from provenance.reports.flagged import Flagged
from provenance.reports.standing import Standing
from provenance.rules.flag_values import Level
from provenance.rules.grades import Grade
from provenance.rules.verdicts import Verdict

THIN = frozenset({Grade.UNSUPPORTED, Grade.CONTESTED, Grade.INFERRED, Grade.UNCORROBORATED, Grade.POSSIBLE})
"""The grades on which nothing should be made without another look."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Needed:
    """A feature on thin evidence that the build programme needs by a day."""

    verdict: Verdict
    component: str
    by: EdtfDate


@dataclass(frozen=True, slots=True, kw_only=True)
class Overview:
    """How an archive stands.

    Attributes:
        grades: how many features have each grade, the surest first; grades that none has are left out.
        needed: features on thin evidence with a day by which they are needed, the soonest first.
        finds: sources that nobody has looked at, in order of id.
        queries: what is in doubt and not answered, in order of id.
        flags: how many flags there are of each level, the most pressing first.
        open_pairs: how many pairs of sources look like copies and wait for a ruling.
    """

    standing: Standing
    archive: Archive
    features: int
    grades: tuple[tuple[Grade, int], ...]
    needed: tuple[Needed, ...]
    finds: tuple[Source, ...]
    queries: tuple[Query, ...]
    flags: tuple[tuple[Level, int], ...]
    open_pairs: int


def compose_overview(
    archive: Archive, standing: Standing, verdicts: Mapping[str, Verdict], flagged: Flagged
) -> Overview:
    """Sum an archive up.

    Args:
        archive: the records that can be judged on.
        standing: what every answer begins with.
        verdicts: on every feature; empty while the archive does not say what it represents.
        flagged: all flags.
    """
    grades = Counter(verdict.grade for verdict in verdicts.values())
    levels = Counter(flag.severity for flag in flagged.flags)
    return Overview(
        standing=standing,
        archive=archive,
        features=len(verdicts),
        grades=tuple((grade, grades[grade]) for grade in Grade if grades[grade]),
        needed=_needed(archive, verdicts),
        finds=tuple(source for source in archive.sources.values() if not source.tagged),
        queries=tuple(query for query in archive.queries.values() if query.open),
        flags=tuple((level, levels[level]) for level in Level if levels[level]),
        open_pairs=sum(pair.ruling == "open" for pair in archive.copies.values()),
    )


def _needed(archive: Archive, verdicts: Mapping[str, Verdict]) -> tuple[Needed, ...]:
    found = []
    for verdict in verdicts.values():
        part = archive.components[verdict.component]
        if verdict.grade in THIN and part.needed_by is not None:
            found.append(Needed(verdict=verdict, component=part.name, by=part.needed_by))
    return tuple(sorted(found, key=lambda each: (str(each.by.latest or "9999"), each.verdict.feature)))
