"""The words of a drawn order of production, and all that it tells for who cannot see it."""

from collections.abc import Iterator, Mapping, Sequence

from provenance.records.kinds import KnownBy
from provenance.reports.date_words import date_words
from provenance.reports.layout import counted, plain
from provenance.reports.sequence import BatchRows, ExampleRow, Observation, SequenceFigure, when_words

MOST_TOLD = 60
"""So many machines on which something was seen are told in words one by one; of more the number."""
_KNOWN: Mapping[KnownBy, str] = {
    KnownBy.NUMBER: "known by its number",
    KnownBy.CAPTION: "known by the caption",
    KnownBy.LIKENESS: "known by likeness only",
}


def sequence_title(figure: SequenceFigure) -> str:
    """What is drawn."""
    return f"Machine by machine: “{figure.name}” ({figure.feature})"


def sequence_sentences(figure: SequenceFigure) -> Iterator[str]:
    """What stands under the title: which machine is represented, and what is said of a change."""
    numbers = {row.example for batch in figure.batches for row in batch.rows}
    if figure.target is None:
        yield "In order of production. The archive does not say yet which machine is represented."
    elif figure.target in numbers:
        yield f"In order of production. No. {figure.target}, in the thick frame, is represented."
    else:
        yield f"In order of production. No. {figure.target} is represented, and is in none of the batches entered."
    if not figure.batches:
        yield "No batch is entered, so no machine has its place."
    if figure.said:
        yield figure.said
    if figure.later:
        yield f"The earlier value is “{figure.earlier}”, the later one “{figure.later}”."


def batch_words(batch: BatchRows) -> str:
    """A batch with when it was built."""
    return f"Batch {batch.batch}, built {date_words(batch.built)}"


def run_name(run: Sequence[ExampleRow]) -> str:
    """One machine, or the first and the last of several."""
    if len(run) == 1:
        return f"No. {run[0].example}"
    return f"Nos. {run[0].example} {'and' if len(run) == 2 else 'to'} {run[-1].example}"


def blank_words(run: Sequence[ExampleRow]) -> str:
    """That nothing was seen, and on how many machines."""
    return "nothing seen" if len(run) == 1 else f"nothing seen on these {len(run)} machines"


def seen_words(observation: Observation) -> str:
    """What was seen, when, how the machine was known, in which sources, and why it does not count."""
    without = "without " if observation.against else ""
    manner = "" if observation.direct else ", not seen directly"
    sources = ", ".join(observation.sources)
    why_not = "" if observation.counts else f"; does not count: {observation.why_not}"
    return (
        f"{without}{observation.shown}, {when_words(observation)}, {_KNOWN[observation.known_by]}{manner} "
        f"({sources}){why_not}"
    )


def percent(chance: float) -> str:
    """A chance from 0 to 1 in hundredths; nothing is called sure that is not."""
    hundredths = round(chance * 100)
    if hundredths >= 100 and chance < 1:
        return "over 99 %"
    if hundredths < 1 and chance > 0:
        return "under 1 %"
    return f"{hundredths} %"


def chance_words(run: Sequence[ExampleRow]) -> str:
    """The chance of the later value, of several machines from the first to the last; empty where there is none."""
    chances = [percent(row.chance) for row in run if row.chance is not None]
    if not chances:
        return ""
    return chances[0] if chances[0] == chances[-1] else f"{chances[0]} to {chances[-1]}"


def sequence_in_words(figure: SequenceFigure) -> str:
    """All that the drawing tells, in words that stand without it.

    Where something was seen on more than `MOST_TOLD` machines, those nearest to the machine represented are told (the
    first ones where it has no place), and of how many more something is known.
    """
    told = _told_one_by_one(figure)
    sentences = [f"{sequence_title(figure)}.", *sequence_sentences(figure)]
    for batch in figure.batches:
        sentences.append(f"{batch_words(batch)}.")
        blank: list[ExampleRow] = []
        for row in batch.rows:
            if row.example in told or row.is_target:
                sentences += [*_blank_sentence(blank, figure), _row_sentence(row, figure)]
                blank = []
            elif not row.observations:
                blank.append(row)
        sentences += _blank_sentence(blank, figure)
    left_out = sum(bool(row.observations) for batch in figure.batches for row in batch.rows) - len(told)
    if left_out > 0:
        sentences.append(f"On {counted(left_out, 'further machine')} something was seen that is not told here.")
    return plain(" ".join(sentences))


def _told_one_by_one(figure: SequenceFigure) -> frozenset[str]:
    rows = [row for batch in figure.batches for row in batch.rows]
    here = next((place for place, row in enumerate(rows) if row.is_target), 0)
    seen = sorted((abs(place - here), place, row.example) for place, row in enumerate(rows) if row.observations)
    return frozenset(example for _, _, example in seen[:MOST_TOLD])


def _blank_sentence(run: Sequence[ExampleRow], figure: SequenceFigure) -> Iterator[str]:
    if run:
        yield f"{run_name(run)}: {blank_words(run)}{_chance_told(run, figure)}."


def _row_sentence(row: ExampleRow, figure: SequenceFigure) -> str:
    represented = ", which is represented" if row.is_target else ""
    seen = "; ".join(map(seen_words, row.observations)) or blank_words([row])
    return f"{run_name([row])}{represented}: {seen}{_chance_told([row], figure)}."


def _chance_told(run: Sequence[ExampleRow], figure: SequenceFigure) -> str:
    chances = chance_words(run)
    return f"; chance of “{figure.later}” {chances}" if chances else ""
