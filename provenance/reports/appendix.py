"""The sources appendix of a panel: what each statement rests on, as visitors and challengers may read it.

It is built from the public view alone, so nothing that is withheld can stand in it.
"""

from collections.abc import Iterable, Iterator

from provenance.records.components import Component
from provenance.records.dates import EdtfDate
from provenance.records.decisions import Panel
from provenance.reports.appendix_parts import part_of_panel, verdicts_of
from provenance.reports.appendix_readings import account_of, cited_in, verdicts_on
from provenance.reports.appendix_values import Appendix, StatementAccount
from provenance.reports.appendix_words import CLAIMS, UNBUILT
from provenance.reports.citations import Citations, CitedSource, Citing
from provenance.reports.date_words import date_words
from provenance.reports.declared import (
    conjecture_in,
    definitions_of,
    marks_in,
    modern_changes_in,
    never_together_in,
)
from provenance.rules.cautions import cautions_for
from provenance.rules.public_values import PublicArchive
from provenance.rules.verdicts import Verdict


def compose_appendix(view: PublicArchive, panel_id: str, citing: Citing, *, printed: EdtfDate, draft: bool) -> Appendix:
    """Compose the appendix of a panel.

    Args:
        view: the archive as the public sees it.
        panel_id: the panel.
        citing: how sources are cited.
        printed: the day that it carries.
        draft: whether it is marked as a draft.

    Raises:
        UsageRefusedError: the style of the citations cannot be used.
    """
    panel = view.archive.panels[panel_id]
    citations = Citations(view, citing, cited_in(view, panel.statements))
    statements = tuple(account_of(view, statement, citations) for statement in panel.statements)
    parts = _parts(view, panel)
    concerned = _concerned(view, panel, parts)
    subject, target = view.archive.subject, view.archive.target
    claims = subject.claims_to_be if subject else None
    return Appendix(
        title=panel.title,
        archive=view.archive.title,
        printed=date_words(printed),
        written=date_words(panel.date),
        draft=draft,
        object=_object(view),
        claimed=(claims, CLAIMS[claims]) if claims in CLAIMS else None,
        period=f"No. {target.example} as it was in {date_words(target.as_at)}" if target else "",
        why=target.why if target else None,
        never_together=tuple(never_together_in(view, concerned)),
        cautions=cautions_for(view.archive, _hazards(view, parts, citations.sources)),
        parts=tuple(part_of_panel(view, part) for part in parts),
        statements=statements,
        conjecture=tuple(conjecture_in(view, concerned)),
        changes=tuple(modern_changes_in(view, concerned)),
        marked=tuple(marks_in(view, concerned)),
        sources=citations.sources,
        numbered=citations.numbered,
        names_pages=citations.names_pages,
        style=citing.style.name,
        definitions=(*definitions_of(view, concerned), *([UNBUILT] if _shows_unbuilt(statements) else [])),
        not_cleared=tuple(view.not_cleared[each.id] for each in citations.sources if each.id in view.not_cleared),
    )


def _parts(view: PublicArchive, panel: Panel) -> list[Component]:
    """The parts that the panel names, then those that its statements speak of."""
    spoken_of = (feature.partition("/")[0] for statement in panel.statements for feature in statement.features)
    named = dict.fromkeys([*panel.components, *spoken_of])
    return [view.archive.components[each] for each in named if each in view.archive.components]


def _concerned(view: PublicArchive, panel: Panel, parts: Iterable[Component]) -> list[Verdict]:
    """What is shown of the parts, then whatever else the statements speak of."""
    shown = (verdict for part in parts for verdict in verdicts_of(view, part))
    spoken_of = (verdict for statement in panel.statements for verdict in verdicts_on(view, statement))
    return list({verdict.feature: verdict for verdict in (*shown, *spoken_of)}.values())


def _object(view: PublicArchive) -> str:
    subject = view.archive.subject
    if subject is None:
        return view.archive.title
    claims = f", {_with_article(subject.claims_to_be)}" if subject.claims_to_be else ""
    return f"{subject.name}{claims}"


def _with_article(word: str) -> str:
    return f"{'an' if word[0] in 'aeiou' else 'a'} {word}"


def _hazards(view: PublicArchive, parts: Iterable[Component], sources: Iterable[CitedSource]) -> Iterator[str]:
    for part in parts:
        yield from part.hazards
    for source in sources:
        yield from view.archive.sources[source.id].hazards


def _shows_unbuilt(statements: Iterable[StatementAccount]) -> bool:
    accounts = (account for statement in statements for account in statement.accounts)
    return any(each.unbuilt for account in accounts for each in (account.best, *account.others) if each)
