"""The words about a drawn descent: its title, the sentences under it, and all that it tells for who cannot see it.

For the public they leave out what is meant for the team alone: how to mend records, and which files are held here.
"""

from collections.abc import Iterator

from provenance.reports.cautioned import caution_sentences
from provenance.reports.descended import Descended
from provenance.reports.descent_boxes import source_box, tie_box, value_box
from provenance.reports.descent_lines import Stroke, lines_of
from provenance.reports.descent_words import bottleneck_words, circle_words, named, resting_words
from provenance.reports.layout import counted, plain
from provenance.rules.cautions import FITNESS

MOST_TOLD = 40
"""So many sources, and so many ways in which they hang together, are told in words one by one; of more the number."""
_SHOWN = 6
_FOR_THE_TEAM = "For the team: it may name what is held in confidence. "


def drawn_title(descended: Descended) -> str:
    """What is drawn."""
    if descended.verdict is None:
        return f"Descent of {named(descended, descended.about)}"
    return f"Descent of “{descended.verdict.name}” ({descended.about})"


def drawn_told(descended: Descended, *, is_public: bool = False) -> str:
    """For whom it is, how many sources are drawn, and how the drawing is read."""
    for_whom = "" if is_public else _FOR_THE_TEAM
    drawn = counted(len(descended.tree.members), "source is drawn", "sources are drawn").capitalize()
    return f"{for_whom}{drawn}, the oldest at the top; an arrow leads from each to what was made from it."


def drawn_sentences(descended: Descended, *, is_public: bool = False) -> Iterator[str]:
    """The sentences under the title."""
    left_out = descended.standing.left_out
    if left_out:
        many = counted(len(left_out), "record takes", "records take").capitalize()
        mend = "" if is_public else " (`provenance check` names the mends)"
        yield f"Not the whole archive: {many.lower()} no part in this{mend}."
    yield from (f"Caution, {each.hazard}: {caution_sentences(each)}" for each in descended.cautions)
    if descended.cautions:
        yield FITNESS
    if descended.verdict is not None:
        yield from bottleneck_words(descended)
    else:
        yield from _resting_sentences(descended)
    yield from (circle_words(descended, circle, is_public=is_public) for circle in descended.tree.circles)


def _resting_sentences(descended: Descended) -> Iterator[str]:
    if descended.resting is None:
        yield f"Which features rest on it alone could not be judged: {descended.not_judged}."
        return
    sentences = [resting_words(verdict, descended.about) for verdict in descended.resting]
    yield from (f"{each[:1].upper()}{each[1:]}." for each in sentences[:_SHOWN])
    if len(sentences) > _SHOWN:
        more = counted(len(sentences) - _SHOWN, "further feature rests", "further features rest")
        yield f"{more.capitalize()} on it alone."


def descent_in_words(descended: Descended, *, is_public: bool = False) -> str:
    """All that the drawing tells, in words that stand without it.

    Of very large families the first `MOST_TOLD` sources, the oldest first, and the first `MOST_TOLD` ways in which they
    hang together are told, and how many more there are.
    """
    sentences = [f"{drawn_title(descended)}.", drawn_told(descended, is_public=is_public)]
    sentences += drawn_sentences(descended, is_public=is_public)
    boxes = [source_box(descended, each, is_public=is_public).says for each in descended.tree.members]
    sentences += _up_to(boxes, "source")
    sentences += _up_to(list(_ways(descended)), "way in which they hang together", "ways in which they hang together")
    return plain(" ".join(sentences))


def _up_to(told: list[str], one: str, many: str | None = None) -> Iterator[str]:
    yield from (f"{each[:1].upper()}{each[1:].rstrip('.')}." for each in told[:MOST_TOLD])
    if len(told) > MOST_TOLD:
        yield f"And {counted(len(told) - MOST_TOLD, f'more {one}', f'more {many}' if many else None)}, not told here."


def _ways(descended: Descended) -> Iterator[str]:
    """Every line of the drawing as a sentence: what was made from what, what is alike, who stands behind several."""
    value = value_box(descended)
    names = {} if value is None else {value.id: f"the value ({value.says})"}
    ties = [tie_box(descended, tie, number) for number, tie in enumerate(descended.tree.ties, 1)]
    names |= {box.id: box.says for box in ties}
    names |= {f"source-{each}": named(descended, each) for each in descended.tree.members}
    for line in lines_of(descended):
        how = line.label if line.stroke in {Stroke.MADE, Stroke.WORD} else line.stroke.value
        yield f"from {names[line.upper]} to {names[line.lower]}: {how}"
