"""The cautions at the head of an answer, for people and for programs."""

from collections.abc import Iterable

from provenance.reports.layout import paragraph
from provenance.rules.cautions import FITNESS, StandingCaution


def caution_lines(cautions: Iterable[StandingCaution], width: int) -> list[str]:
    """Each caution, then that evidence of form is none of fitness, then an empty line; nothing without a caution."""
    lines: list[str] = []
    for caution in cautions:
        text = f"CAUTION, {caution.hazard}: {caution.text} Consult {caution.consult}."
        lines += paragraph(text, width, hang="  ")
    return [*lines, *paragraph(FITNESS, width), ""] if lines else []


def cautions_json(cautions: Iterable[StandingCaution]) -> list[dict[str, str]]:
    """The same as every JSON answer writes them."""
    return [{"hazard": caution.hazard, "text": caution.text, "consult": caution.consult} for caution in cautions]
