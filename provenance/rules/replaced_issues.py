"""Until when a drawing, manual or catalogue holds that a later issue has replaced."""

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from provenance.records.dates import Day, EdtfDate
from provenance.records.kinds import Derivation
from provenance.records.sources import Source

_SAME_ISSUE = frozenset({Derivation.FACSIMILE, Derivation.PRINT, Derivation.SCAN, Derivation.REDRAWN})


@dataclass(frozen=True, slots=True)
class Replacement:
    """The issue that replaced another one, and when it was made (None: not known)."""

    source: str
    created: EdtfDate | None

    @property
    def ends(self) -> Day | None:
        """The last day on which the replaced issue can have held; None where that is not known."""
        return self.created.latest if self.created else None


def replacements(sources: Mapping[str, Source], out: frozenset[str]) -> Mapping[str, Replacement]:
    """Find for each source the issue that ended it: the first of those that replace it or what it was copied from.

    A facsimile, print, scan or redrawing of a replaced issue ends with it. An issue that replaces the one that replaced
    it ends it too, at the latest.

    Args:
        sources: all sources by id.
        out: ids of sources that are out of judgement; what they replace goes on to hold.
    """
    by_replaced: dict[str, list[str]] = defaultdict(list)
    for source_id in sorted(sources):
        replaced = sources[source_id].replaces
        if replaced is not None and source_id not in out:
            by_replaced[replaced].append(source_id)
    if not by_replaced:
        return {}
    found = {}
    for source_id in sources:
        later = [Replacement(issue, sources[issue].created) for issue in _later_issues(source_id, sources, by_replaced)]
        if later:
            found[source_id] = min(later, key=_first_known)
    return found


def _later_issues(source_id: str, sources: Mapping[str, Source], by_replaced: Mapping[str, list[str]]) -> Iterator[str]:
    issues = _same_issue(source_id, sources)
    waiting, seen = list(issues), set(issues)
    while waiting:
        for later in by_replaced.get(waiting.pop(), ()):
            if later not in seen:
                seen.add(later)
                waiting.append(later)
                yield later


def _same_issue(source_id: str, sources: Mapping[str, Source]) -> list[str]:
    found = [source_id]
    for each in found:
        source = sources.get(each)
        parents = source.derives_from if source else ()
        found.extend(parent.source for parent in parents if parent.how in _SAME_ISSUE and parent.source not in found)
    return found


def _first_known(replacement: Replacement) -> tuple[bool, Day, str]:
    ends = replacement.ends
    return (ends is None, ends or Day(0, 1, 1), replacement.source)
