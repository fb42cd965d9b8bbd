"""Flags about doubts and challenges that nobody has answered."""

from collections.abc import Iterator

from provenance.records.archive import Archive
from provenance.records.decisions import Decision, Panel, Query
from provenance.rules.flag_values import Flag, Level

_LONGEST_GROUNDS = 160


def query_flags(archive: Archive) -> Iterator[Flag]:
    """Raise a flag for each open query, about the feature or the panel that it puts in doubt."""
    pressing = {each.about for each in archive.decisions.values() if each.status == "released" and not each.withdrawn}
    for query_id in sorted(archive.queries):
        query = archive.queries[query_id]
        panel, decision = archive.panels.get(query.about), archive.decisions.get(query.about)
        if not query.open:
            continue
        about = decision.about if decision else query.about
        printed = panel is not None and bool(panel.printed)
        yield Flag(
            flag="query-open",
            severity=Level.WARN if about in pressing or printed else Level.NOTE,
            about=about,
            sentence=f"{_what(archive, query, decision, panel)} is queried ({query.id}): {_grounds(query)}",
            mend="settle it, and enter the answer: "
            + (query.would_settle or f"provenance query {query.id} --answer …"),
            claims=tuple(sorted(decision.basis)) if decision else (),
        )


def _what(archive: Archive, query: Query, decision: Decision | None, panel: Panel | None) -> str:
    feature = archive.features.get(decision.about if decision else query.about)
    if feature is None:
        return f"Panel “{panel.title}”" if panel else f"“{query.about}”"
    return f"“{feature.name}”" + (f", as decided in {decision.id}," if decision else "")


def _grounds(query: Query) -> str:
    grounds = " ".join(query.grounds.split())
    if len(grounds) > _LONGEST_GROUNDS:
        return f"{grounds[:_LONGEST_GROUNDS].rstrip()}…"
    return grounds if grounds.endswith((".", "!", "?")) else f"{grounds}."
