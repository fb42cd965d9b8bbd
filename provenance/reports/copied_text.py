"""The page of `copies` that people read: each pair, why it looks alike, and what each ruling would change."""

from collections.abc import Iterator

from provenance.records.archive import Archive
from provenance.records.decisions import CopyPair, FoundBy
from provenance.records.kinds import Ruling
from provenance.reports.cautioned import caution_lines
from provenance.reports.copied import Copies, ListedPair, Making, TriedRuling
from provenance.reports.copied_words import person_words, place_in_words, ruling_words, source_words
from provenance.reports.date_words import date_words
from provenance.reports.layout import counted, listed, paragraph
from provenance.reports.tried import change_lines
from provenance.rules.source_words import derivation_in_words

_MARGIN = "   "
_FOUND = {"picture": "by comparing pictures", "text": "by comparing texts"}


def copies_text(copies: Copies, width: int) -> str:
    """The page that people read."""
    lines = [*copies.standing.as_lines(width), *caution_lines(copies.cautions, width)]
    for sentence in _head(copies):
        lines += paragraph(sentence, width)
    for number, each in enumerate(copies.pairs, 1):
        lines += ["", *_pair_lines(copies.archive, number, each, width)]
    if any(each.pair.ruling is Ruling.OPEN for each in copies.pairs):
        lines += ["", *_how_to_rule(copies, width)]
    return "\n".join(lines)


def _head(copies: Copies) -> Iterator[str]:
    counts = copies.counts
    waiting, ruled = counts[Ruling.OPEN], counts[Ruling.COPY] + counts[Ruling.DISTINCT]
    waits = "waits" if waiting == 1 else "wait"
    of = "" if copies.component is None else f" about {copies.component}"
    of += "" if copies.source is None else f" with {copies.source}"
    first = f"{counted(waiting, 'pair').capitalize()} of sources{of} {waits} for a ruling."
    yield f"{first} {_ruled_words(counts[Ruling.COPY], counts[Ruling.DISTINCT])}"
    if waiting and copies.asked in {"open", "all"}:
        yield "Until somebody rules on a pair, the two count as one witness."
    if ruled and copies.asked == "open":
        yield "Those that were ruled on are listed with --ruling all."
    if copies.archive.target is None and copies.pairs:
        yield "It is not said yet which example is represented, so it was not looked at what a ruling would change."


def _ruled_words(copied: int, distinct: int) -> str:
    if not copied and not distinct:
        return "None was ruled on yet."
    said = [f"{copied} as copies"] if copied else []
    said += [f"{distinct} as distinct"] if distinct else []
    return f"Ruled on so far: {listed(said)}."


def _pair_lines(archive: Archive, number: int, each: ListedPair, width: int) -> list[str]:
    pair = each.pair
    one, other = (archive.sources[source] for source in pair.between)
    hang = " " * len(f"{number}. ")
    lines = paragraph(f"{number}. {one.id} and {other.id}", width, hang=hang)
    texts = [source_words(one), source_words(other)]
    if pair.why is not None:
        texts.append(f"alike: {pair.why}")
    texts.append(found_words(archive, pair))
    if pair.note is not None:
        texts.append(f"note: {pair.note}")
    if pair.ruling is not Ruling.OPEN:
        texts.append(ruling_words(pair, archive))
    for text in texts:
        lines += paragraph(text, width, indent=_MARGIN, hang=f"{_MARGIN}  ")
    for tried in each.tried or ():
        lines += _tried_lines(tried, width)
    return lines


def found_words(archive: Archive, pair: CopyPair) -> str:
    """How a pair was found, where the two look alike, and who entered it."""
    entered = f"entered by {person_words(archive, pair.by)}, {date_words(pair.date)}"
    if pair.found_by is None:
        return entered
    found = pair.found_by
    score = f", alike to {found.score} of 1" if found.score is not None and found.method in _FOUND else ""
    if found.score is not None and found.method not in _FOUND:
        score = f", score {found.score}"
    method = _FOUND.get(found.method, found.method if found.method.startswith("by ") else f"by {found.method}")
    return f"found {method}{score}{_places_words(pair, found)}; {entered}"


def _places_words(pair: CopyPair, found: FoundBy) -> str:
    if not found.places:
        return ""
    named = (f"{place_in_words(place)} of {source}" for place, source in zip(found.places, pair.between, strict=True))
    return f", {listed(named)}"


def _tried_lines(tried: TriedRuling, width: int) -> list[str]:
    would = f"{counted(len(tried.changes), 'verdict') if tried.changes else 'no verdict'} would change"
    colon = ":" if tried.changes else "."
    said = f"{if_words(tried.ruling, tried.making)}: {would}{colon}"
    lines = paragraph(said, width, indent=_MARGIN, hang=f"{_MARGIN}  ")
    for change in tried.changes:
        lines += change_lines(change, width, indent=f"{_MARGIN}  ")
    return lines


def if_words(ruling: Ruling, making: Making | None) -> str:
    """On what it hangs that something would change: the ruling, and what it says of the two."""
    if ruling is Ruling.DISTINCT:
        taken = f" (and what {making.later} says in `derives_from` is taken out)" if making else ""
        return f"if neither is a copy of the other{taken}"
    if making is None:
        return "if they are copies (their dates do not say which was made from which)"
    made = derivation_in_words(making.how) if making.how is not None else "goes back to"
    on_record = ", as is on record already" if making.is_on_record else ""
    return f"if {making.later} {made} {making.earlier}{on_record}"


def _how_to_rule(copies: Copies, width: int) -> list[str]:
    """How the first open pair is ruled on; the commands are not wrapped, so that they can be copied."""
    first = next(each for each in copies.pairs if each.pair.ruling is Ruling.OPEN)
    confirming, ruling_out = ruling_commands(first)
    it = "a pair" if len(copies.pairs) > 1 else "it"
    return [
        *paragraph(f"To rule on {it}, if the one was made from the other:", width),
        f"  {confirming}",
        "and if neither was:",
        f"  {ruling_out}",
        *paragraph("With --try it is only told what would change.", width),
    ]


def ruling_commands(listed: ListedPair) -> tuple[str, str]:
    """What is typed to rule that the one of a pair was made from the other, and that neither was."""
    named = " ".join(listed.pair.between)
    is_told = any(each.ruling is Ruling.COPY and each.making is not None for each in listed.tried or ())
    original = "" if is_told else " --original ID"
    return (
        f'provenance copies confirm {named} --how print{original} --why "…"',
        f'provenance copies rule-out {named} --why "…"',
    )
