"""The cautions at the head of an answer, for people and for programs."""

from collections.abc import Iterable

from provenance.reports.layout import paragraph
from provenance.rules.cautions import FITNESS, StandingCaution


def caution_lines(cautions: Iterable[StandingCaution], width: int) -> list[str]:
    """Each caution, then that evidence of form is none of fitness, then an empty line; nothing without a caution."""
    lines: list[str] = []
    for caution in cautions:
        lines += paragraph(f"CAUTION, {caution.hazard}: {caution_sentences(caution)}", width, hang="  ")
    return [*lines, *paragraph(FITNESS, width), ""] if lines else []


def caution_sentences(caution: StandingCaution) -> str:
    """What the hazard is, whom to consult, and under which rules."""
    return f"{caution.text} Consult {caution.consult}.{_under(caution)}"


def _under(caution: StandingCaution) -> str:
    """Name the rules and where they hold; others may hold beside them."""
    if caution.rules:
        return f" {caution.jurisdiction}: see {caution.rules}, among others."
    return f" ({caution.jurisdiction}.)" if caution.jurisdiction else ""


def cautions_json(cautions: Iterable[StandingCaution]) -> list[dict[str, str]]:
    """The same as every JSON answer writes them; `rules` and `jurisdiction` are empty where none is named."""
    return [
        {
            "hazard": caution.hazard,
            "text": caution.text,
            "consult": caution.consult,
            "rules": caution.rules,
            "jurisdiction": caution.jurisdiction,
        }
        for caution in cautions
    ]
