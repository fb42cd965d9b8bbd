"""How an archive stands at a glance: what it is about, how sure its features are, what is needed soonest."""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass

from provenance.records.archive import Archive
from provenance.records.dates import EdtfDate
from provenance.records.decisions import Query
from provenance.records.kinds import Ruling
from provenance.records.sources import Source
from provenance.reports.flagged import Flagged
from provenance.reports.standing import Standing
from provenance.rules.flag_values import Level, Urgency
from provenance.rules.grades import Grade
from provenance.rules.lifting import WEAK
from provenance.rules.verdicts import Verdict


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
        features: how many features there are, judged or not.
        thin: how many features are on thin evidence.
        needed: those of them with a day by which they are needed, the soonest first, then the most prominent.
        finds: sources that nobody has looked at, in order of id; those that were withdrawn are none.
        queries: what is in doubt and not answered, in order of id.
        flags: how many flags there are of each level, the most pressing first; None while nothing can be flagged.
        open_pairs: how many pairs of sources look like copies and wait for a ruling.
    """

    standing: Standing
    archive: Archive
    features: int
    thin: int
    grades: tuple[tuple[Grade, int], ...]
    needed: tuple[Needed, ...]
    finds: tuple[Source, ...]
    queries: tuple[Query, ...]
    flags: tuple[tuple[Level, int], ...] | None
    open_pairs: int

    @property
    def is_empty(self) -> bool:
        """Whether nothing is entered yet but what stands in archive.yaml."""
        archive = self.archive
        return not (archive.components or archive.sources or archive.claims)


def compose_overview(
    archive: Archive, standing: Standing, verdicts: Mapping[str, Verdict], flagged: Flagged | None
) -> Overview:
    """Sum an archive up.

    Args:
        archive: the records that can be judged on.
        standing: what every answer begins with.
        verdicts: on every feature; empty while the archive does not say what it represents.
        flagged: all flags; None while it does not say so.
    """
    grades = Counter(verdict.grade for verdict in verdicts.values())
    levels = Counter(flag.severity for flag in flagged.flags) if flagged else Counter[Level]()
    finds = (source for _, source in sorted(archive.sources.items()) if not source.tagged and not source.withdrawn)
    return Overview(
        standing=standing,
        archive=archive,
        features=len(archive.features),
        thin=sum(grades[grade] for grade in WEAK),
        grades=tuple((grade, grades[grade]) for grade in Grade if grades[grade]),
        needed=_needed(archive, verdicts),
        finds=tuple(finds),
        queries=tuple(query for _, query in sorted(archive.queries.items()) if query.open),
        flags=tuple((level, levels[level]) for level in Level if levels[level]) if flagged else None,
        open_pairs=sum(pair.ruling is Ruling.OPEN for pair in archive.copies.values()),
    )


def _needed(archive: Archive, verdicts: Mapping[str, Verdict]) -> tuple[Needed, ...]:
    found = []
    for verdict in verdicts.values():
        part = archive.components[verdict.component]
        if verdict.grade in WEAK and part.needed_by is not None:
            order = Urgency(part.needed_by, part.prominence).order
            found.append((order, verdict.feature, Needed(verdict=verdict, component=part.name, by=part.needed_by)))
    return tuple(each for *_, each in sorted(found, key=lambda entry: entry[:2]))
