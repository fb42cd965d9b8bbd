"""The answer of `copies show`: what two sources have in common, and where."""

from collections.abc import Iterator
from dataclasses import dataclass

from provenance.records.archive import Archive
from provenance.records.decisions import AlikePlace, CopyPair
from provenance.reports.aligned_text import aligned_lines
from provenance.reports.cautioned import caution_lines, cautions_json
from provenance.reports.copied_words import place_in_words, ruling_words, source_words
from provenance.reports.layout import counted, listed, paragraph
from provenance.reports.standing import Standing
from provenance.rules.cautions import StandingCaution

_SEEN = {"copy": "looks like a copy", "possible": "may be a copy", "distinct": "is not taken for a copy"}


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownLikeness:
    """A likeness of two pictures or two texts.

    Attributes:
        likeness: `copy`, `possible` or `distinct`, by the comparison alone.
        score: 0 to 1; 1 for equal.
        why: one sentence with the figures.
        places: where in the one and in the other.
    """

    likeness: str
    score: float
    why: str
    places: tuple[AlikePlace, AlikePlace]


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownPair:
    """What two sources have in common.

    Attributes:
        archive: whose sources they are.
        between: the two ids, in order.
        pair: what is on record of them; None for nothing.
        picture: the likeliest of their pictures; None where none are alike.
        text: the likeliest of their texts; None where none are alike.
        passages: the aligned passages; empty where no texts are alike.
        unread: how many pages of the two were not read yet, so that they were not compared.
        errors: odd wordings that both have at the same place: as written, and the usual word.
        output: the file that was written; None for none.
        cautions: for the hazards of the two.
    """

    standing: Standing
    archive: Archive
    between: tuple[str, str]
    pair: CopyPair | None
    picture: ShownLikeness | None = None
    text: ShownLikeness | None = None
    passages: tuple[str, str] = ("", "")
    errors: tuple[tuple[str, str], ...] = ()
    unread: int = 0
    output: str | None = None
    cautions: tuple[StandingCaution, ...] = ()


def shown_json(shown: ShownPair) -> dict[str, object]:
    """The JSON answer `copies-show`."""
    text = shown.text
    return {
        **shown.standing.as_json("copies-show"),
        "cautions": cautions_json(shown.cautions),
        "between": list(shown.between),
        "ruling": shown.pair.ruling.value if shown.pair else None,
        "why": shown.pair.why if shown.pair else None,
        "picture": None if shown.picture is None else _likeness_json(shown.picture),
        "text": None
        if text is None
        else {
            **_likeness_json(text),
            "passages": list(shown.passages),
            "errors": [{"written": written, "usual": usual} for written, usual in shown.errors],
        },
        "unread": shown.unread,
        "output": shown.output,
    }


def _likeness_json(likeness: ShownLikeness) -> dict[str, object]:
    return {
        "likeness": likeness.likeness,
        "score": round(likeness.score, 3),
        "why": likeness.why,
        "places": [
            {
                "page": place.page,
                "region": str(place.region) if place.region else None,
                "time": str(place.time) if place.time else None,
            }
            for place in likeness.places
        ],
    }


def shown_text(shown: ShownPair, width: int) -> str:
    """The page that people read."""
    lines = [*shown.standing.as_lines(width), *caution_lines(shown.cautions, width)]
    for letter, source in zip("AB", shown.between, strict=True):
        words = f"{letter}: {source}, {source_words(shown.archive.sources[source])}"
        lines += paragraph(words, width, hang="   ")
    for sentence in _on_record(shown):
        lines += paragraph(sentence, width)
    for name, likeness in (("picture", shown.picture), ("text", shown.text)):
        if likeness is not None:
            lines += ["", *paragraph(likeness_words(name, likeness), width)]
    if shown.text is not None:
        lines += ["", *aligned_lines(*shown.passages, width)]
    if shown.errors:
        said = listed(f"“{written}” where “{usual}” is usual" for written, usual in shown.errors)
        lines += ["", *paragraph(f"Odd wordings that both have in the same place: {said}.", width)]
    if shown.picture is None and shown.text is None:
        lines += ["", *paragraph("No picture and no text of the two were found alike.", width)]
    if shown.unread:
        pages = counted(shown.unread, "page was", "pages were").capitalize()
        lines += ["", *paragraph(f"{pages} not compared, since nobody has read them yet: `provenance rebuild`.", width)]
    if shown.output is not None:
        lines += ["", *paragraph(f"written: {shown.output}", width)]
    return "\n".join(lines)


def _on_record(shown: ShownPair) -> Iterator[str]:
    if shown.pair is None:
        yield "Nothing is on record of the two as copies."
        return
    yield f"On record: {ruling_words(shown.pair, shown.archive)}."
    if shown.pair.why is not None:
        yield f"Alike: {shown.pair.why}"


def likeness_words(name: str, likeness: ShownLikeness) -> str:
    """What two sources, named A and B, have in common: by the `picture` or by the `text`."""
    where = listed(f"{place_in_words(place)} of {letter}" for place, letter in zip(likeness.places, "AB", strict=True))
    seen = _SEEN[likeness.likeness]
    return f"By the {name} the one {seen} of the other, {where}: {likeness.why.rstrip('.')}."
