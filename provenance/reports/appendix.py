"""The sources appendix of a panel: what each statement rests on, as visitors and challengers may read it.

It is built from the public view alone, so nothing that is withheld can stand in it.
"""

from collections.abc import Iterable, Iterator

from provenance.records.components import Component
from provenance.records.dates import EdtfDate
from provenance.records.decisions import Panel, Statement
from provenance.records.kinds import Stance
from provenance.reports.appendix_values import Account, Appendix, Part, Reading, StatementAccount
from provenance.reports.appendix_words import PARTS, UNDECIDED, sureness
from provenance.reports.citations import Citation, NumberedSource, Numbering
from provenance.reports.date_words import date_words
from provenance.reports.declared import conjecture_in, definitions_of, feature_name, modern_changes_in
from provenance.rules.cautions import cautions_for
from provenance.rules.public_values import HELD_PRIVATELY, IN_CONFIDENCE, PublicArchive
from provenance.rules.verdicts import Candidate, JudgedItem, Verdict


def compose_appendix(view: PublicArchive, panel_id: str, *, printed: EdtfDate, draft: bool) -> Appendix:
    """Compose the appendix of a panel.

    Args:
        view: the archive as the public sees it.
        panel_id: the panel.
        printed: the day that it carries.
        draft: whether it is marked as a draft.
    """
    panel = view.archive.panels[panel_id]
    numbering = Numbering(view)
    statements = tuple(_statement(view, statement, numbering) for statement in panel.statements)
    sources = numbering.sources()
    parts = _parts(view, panel)
    shown = [verdict for part in parts for verdict in _verdicts_of(view, part)]
    spoken_of = [view.verdicts[each] for each in _features(panel) if each in view.verdicts]
    concerned = {verdict.feature: verdict for verdict in (*shown, *spoken_of)}.values()
    target = view.archive.target
    return Appendix(
        title=panel.title,
        printed=date_words(printed),
        draft=draft,
        object=_object(view),
        period=f"No. {target.example} as it was in {date_words(target.as_at)}" if target else "",
        why=target.why if target else None,
        cautions=cautions_for(view.archive, _hazards(view, parts, sources)),
        parts=tuple(Part(name=part.name, words=PARTS.get(part.made_as or "", UNDECIDED)) for part in parts),
        statements=statements,
        conjecture=tuple(conjecture_in(view, concerned)),
        changes=tuple(modern_changes_in(view, concerned)),
        sources=sources,
        definitions=tuple(definitions_of(view, spoken_of)),
        not_cleared=tuple(view.not_cleared[each.id] for each in sources if each.id in view.not_cleared),
    )


def _features(panel: Panel) -> tuple[str, ...]:
    return tuple(dict.fromkeys(feature for statement in panel.statements for feature in statement.features))


def _parts(view: PublicArchive, panel: Panel) -> list[Component]:
    """The parts that the panel names, then those that its statements speak of."""
    named = dict.fromkeys([*panel.components, *(feature.partition("/")[0] for feature in _features(panel))])
    return [view.archive.components[each] for each in named if each in view.archive.components]


def _verdicts_of(view: PublicArchive, part: Component) -> Iterator[Verdict]:
    if part.made_as != "not-represented":
        yield from (view.verdicts[f"{part.id}/{feature.id}"] for feature in part.features)


def _object(view: PublicArchive) -> str:
    subject = view.archive.subject
    if subject is None:
        return view.archive.title
    claims = f", {_with_article(subject.claims_to_be)}" if subject.claims_to_be else ""
    return f"{subject.name}{claims}"


def _with_article(word: str) -> str:
    return f"{'an' if word[0] in 'aeiou' else 'a'} {word}"


def _hazards(view: PublicArchive, parts: Iterable[Component], sources: Iterable[NumberedSource]) -> Iterator[str]:
    for part in parts:
        yield from part.hazards
    for source in sources:
        yield from view.archive.sources[source.id].hazards


def _statement(view: PublicArchive, statement: Statement, numbering: Numbering) -> StatementAccount:
    verdicts = [view.verdicts[feature] for feature in statement.features if feature in view.verdicts]
    return StatementAccount(
        text=statement.text, accounts=tuple(_account(view, verdict, numbering) for verdict in verdicts)
    )


def _account(view: PublicArchive, verdict: Verdict, numbering: Numbering) -> Account:
    best = _reading(verdict.best, numbering) if verdict.best else None
    others = [each for each in verdict.candidates if each is not verdict.best and each.supporting]
    return Account(
        name=feature_name(view, verdict),
        best=best,
        others=tuple(_reading(each, numbering) for each in others),
        remarks=tuple(withheld_remarks(view, verdict)),
    )


def withheld_remarks(view: PublicArchive, verdict: Verdict) -> Iterator[str]:
    """Say of a feature what the public is not shown, and no more than that."""
    private = view.held_privately[verdict.feature]
    if private == 1:
        yield f"{HELD_PRIVATELY[:1].upper()}{HELD_PRIVATELY[1:]} supports this too."
    elif private:
        yield f"{private} sources held privately support this too."
    if verdict.feature in view.in_confidence:
        yield f"{IN_CONFIDENCE[:1].upper()}{IN_CONFIDENCE[1:]}."


def _reading(candidate: Candidate, numbering: Numbering) -> Reading:
    opposed = [item for item in candidate.items if item.weight > 0 and item.stance is Stance.CONTRADICTS]
    return Reading(
        value=candidate.shown,
        sure=sureness(candidate),
        supported=_cited(candidate.supporting, numbering),
        opposed=_cited(opposed, numbering),
    )


def _cited(items: Iterable[JudgedItem], numbering: Numbering) -> tuple[Citation, ...]:
    return tuple(dict.fromkeys(numbering.cite(item) for item in items))
