"""The answer of `finds`: what nobody has looked at yet, and what it may speak of."""

from dataclasses import dataclass

from provenance.reports.layout import counted, listed, paragraph
from provenance.reports.standing import Standing
from provenance.rules.suggesting import Suggestion

_MOST_SHOWN = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class SuspectedCopy:
    """Another source that the find looks like a copy of.

    Attributes:
        kind: how that was found; empty where it is not said.
        score: the figure of that method; None where it gave none.
    """

    source: str
    kind: str
    score: float | None
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Find:
    """A source that nobody has tagged.

    Attributes:
        files: paths relative to the archive.
        pages: how many; None where it has none, or they cannot be counted.
        reading_confidence: mean confidence of the recogniser over its pages, 0 to 100; None where nothing was
            recognised: no pages, pages not read yet, or text that needs no recogniser.
        lots: the lots that it came with.
        dates: that its text names, in EDTF.
        examples: that its text names, in the order of production.
        pictured: the number of the page that can be shown of it; None where no page can be seen.
        digest: SHA-256 of the file that this page is in; empty without one.
    """

    source: str
    title: str
    files: tuple[str, ...]
    pages: int | None
    reading_confidence: float | None
    lots: tuple[str, ...]
    suggested_components: tuple[Suggestion, ...]
    suspected_copies: tuple[SuspectedCopy, ...]
    dates: tuple[str, ...]
    examples: tuple[str, ...]
    pictured: int | None = None
    digest: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Finds:
    """Everything that nobody has tagged, in order of lot, then id."""

    standing: Standing
    finds: tuple[Find, ...]


def finds_json(answer: Finds) -> dict[str, object]:
    """The JSON answer `finds`."""
    return {**answer.standing.as_json("finds"), "finds": [_as_json(find) for find in answer.finds]}


def _as_json(find: Find) -> dict[str, object]:
    return {
        "source": find.source,
        "title": find.title,
        "files": list(find.files),
        "pages": find.pages,
        "reading_confidence": find.reading_confidence,
        "lots": list(find.lots),
        "suggested_components": [
            {"component": each.component, "why": each.why, "score": each.score} for each in find.suggested_components
        ],
        "suspected_copies": [
            {"source": each.source, "kind": each.kind, "score": each.score, "why": each.why}
            for each in find.suspected_copies
        ],
        "dates": list(find.dates),
        "examples": list(find.examples),
    }


def finds_text(answer: Finds, width: int) -> str:
    """The page that people read."""
    lines = answer.standing.as_lines(width)
    if not answer.finds:
        return "\n".join([*lines, "Everything that is held has been looked at."])
    lines += paragraph(f"{counted(len(answer.finds), 'find').capitalize()} to be looked at:", width)
    for find in answer.finds:
        lines += ["", *_find_lines(find, width)]
    first = answer.finds[0]
    component = first.suggested_components[0].component if first.suggested_components else "ID"
    lines += ["", *paragraph(f"Next: provenance tag {first.source} --kind … --component {component}", width)]
    return "\n".join(lines)


def _find_lines(find: Find, width: int) -> list[str]:
    facts = [find.source]
    if find.pages is not None:
        facts.append(counted(find.pages, "page"))
    if find.reading_confidence is not None:
        facts.append(f"read with confidence {find.reading_confidence:.0f}")
    facts += find.lots
    lines = [*paragraph(find.title, width), *paragraph("; ".join(facts), width, indent="    ")]
    for each in find.suggested_components[:_MOST_SHOWN]:
        said = f"may speak of {each.component}: {each.why}"
        lines += paragraph(said, width, indent="    ", hang="      ")
    if len(find.suggested_components) > _MOST_SHOWN:
        rest = [each.component for each in find.suggested_components[_MOST_SHOWN:]]
        lines += paragraph(f"and perhaps of {listed(rest)}", width, indent="    ", hang="      ")
    for copy in find.suspected_copies:
        lines += paragraph(f"looks like a copy of {copy.source}: {copy.why}", width, indent="    ", hang="      ")
    if find.examples:
        lines += paragraph(f"names No. {listed(find.examples)}", width, indent="    ")
    if find.dates:
        lines += paragraph(f"names {listed(find.dates)}", width, indent="    ", hang="      ")
    return lines
