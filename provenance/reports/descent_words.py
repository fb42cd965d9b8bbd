"""How the descent of sources is worded: what was made from what, who ruled on a pair, what a feature goes back to."""

from collections.abc import Mapping
from dataclasses import replace

from provenance.records.decisions import CopyPair
from provenance.records.kinds import Derivation, How, Ruling
from provenance.records.sources import Source
from provenance.reports.date_words import date_words
from provenance.reports.descended import Descended
from provenance.reports.evidence_text import place_words
from provenance.reports.layout import counted
from provenance.rules.family_tree import Link, Tie
from provenance.rules.sentences import listed, namer
from provenance.rules.source_words import kind_in_words
from provenance.rules.verdicts import Candidate, JudgedItem, Verdict

# How something was made from another: under the name of that other one, and in short beside an arrow.
_FROM_IT: Mapping[Derivation | None, tuple[str, str]] = {
    Derivation.FACSIMILE: ("a facsimile of it", "facsimile"),
    Derivation.PRINT: ("a print of it", "print"),
    Derivation.CROP: ("a part of it", "part"),
    Derivation.SCAN: ("a scan of it", "scan"),
    Derivation.RECORDING: ("a recording of it", "recording"),
    Derivation.TRANSCRIPTION: ("a transcription of it", "transcription"),
    Derivation.TRANSLATION: ("a translation of it", "translation"),
    Derivation.EXTRACT: ("an extract from it", "extract"),
    Derivation.CITES: ("takes what it says from it", "takes from it"),
    Derivation.REDRAWN: ("redrawn from it", "redrawn"),
    Derivation.CAST: ("cast from it", "cast"),
    Derivation.MEASURED_FROM: ("measured from it", "measured"),
    Derivation.SCALED_FROM: ("scaled from it", "scaled"),
    Derivation.ENHANCED: ("made clearer from it", "made clearer"),
    None: ("counts here on its word", "on its word"),
}


def made_words(how: Derivation | None) -> str:
    """How something was made, said under the name of what it was made from: a print of it."""
    return _FROM_IT[how][0]


def made_label(how: Derivation | None) -> str:
    """The same in short, beside an arrow that leads to what was made."""
    return _FROM_IT[how][1]


def kind_words(source: Source) -> str:
    """What a source is, in a word or two."""
    return kind_in_words(source.kind) if source.kind else "not tagged yet"


def when_words(source: Source) -> str:
    """When it was made."""
    return date_words(source.created) if source.created else "undated"


def id_words(source_id: str) -> str:
    """The id of a source as it is printed; that of one without a name loses the asterisks that keep it apart."""
    return source_id.strip("*")


def named(descended: Descended, source_id: str) -> str:
    """A source by title and id."""
    source = descended.sources.get(source_id)
    return f"“{source.title}” ({id_words(source_id)})" if source else f"“{source_id}”"


def about_source(source: Source) -> str:
    """Kind, date, and what is out of the ordinary."""
    said = [f"{kind_words(source)}, {when_words(source)}"]
    if not source.files:
        said.append("no file of it here")
    if source.withdrawn is not None:
        said.append(f"withdrawn on {date_words(source.withdrawn.date)}: {source.withdrawn.why.rstrip('.')}")
    return "; ".join(said)


def kept_words(descended: Descended, source: Source) -> str:
    """Where it is kept; empty where that is not inside another source."""
    if source.within is None:
        return ""
    pages = source.within.pages
    where = "" if pages is None else f", page {pages}" if len(pages) == 1 else f", pages {pages.first} to {pages.last}"
    return f"kept in {named(descended, source.within.source)}{where}; that is no descent"


def holding_words(descended: Descended) -> str:
    """What is kept in the source that was asked about; empty where nothing is."""
    if not descended.holding:
        return ""
    are = "is" if len(descended.holding) == 1 else "are"
    return f"in it {are} kept {listed([named(descended, each) for each in descended.holding])}; that is no descent"


def pair_words(descended: Descended, pair: CopyPair, other: str) -> str:
    """What is known of a pair, said under the name of one of the two.

    Args:
        descended: the answer, for names.
        pair: the record.
        other: the id of the other one.
    """
    source = descended.sources.get(other)
    name = f"{named(descended, other)[:-1]}: {kind_words(source)}, {when_words(source)})" if source else f"“{other}”"
    if pair.ruling is Ruling.OPEN:
        return f"looks like a copy of {name}, or the other way round; nobody has ruled{_because(pair.why)}"
    by = _by_whom(descended, pair)
    if pair.ruling is Ruling.DISTINCT:
        return f"ruled no copy{by}, of {name}{_because(pair.why_ruled)}"
    how = f" ({made_label(pair.how)})" if pair.how else ""
    return f"ruled a copy{how}{by}, of {name} or the other way round{_because(pair.why_ruled)}"


def ruling_words(descended: Descended, link: Link) -> str:
    """What was ruled of two of which the one is entered as made from the other; empty where there is no such record."""
    pair = link.pair
    if pair is None:
        return ""
    if pair.ruling is Ruling.OPEN:
        return f"found alike as well; nobody has ruled{_because(pair.why)}"
    if pair.ruling is Ruling.COPY:
        return f"ruled a copy{_by_whom(descended, pair)}{_because(pair.why_ruled)}"
    why = _because(pair.why_ruled)
    return f"yet ruled no copy{_by_whom(descended, pair)}{why}; one of the two records is wrong"


def _by_whom(descended: Descended, pair: CopyPair) -> str:
    person = descended.person(pair.ruled_by)
    by = f" by {person}" if person else ""
    when = f", {date_words(pair.ruled_date)}" if pair.ruled_date else ""
    return f"{by}{when}"


def _because(why: str | None) -> str:
    return f": {why.rstrip('.')}" if why else ""


def tie_words(descended: Descended, tie: Tie) -> str:
    """That several sources go back to somebody, or to an origin that nobody named."""
    name = namer(descended.sources)(tie.origin)
    own = listed([named(descended, each) for each in tie.sources])
    if not tie.others:
        return f"{own} go back to {name}, and count as one witness."
    others = listed([named(descended, each) for each in tie.others])
    do = "goes" if len(tie.sources) == 1 else "go"
    return f"{own} {do} back to {name}, as {others} {'does' if len(tie.others) == 1 else 'do'}; they are one witness."


def circle_words(descended: Descended, circle: tuple[str, ...], *, is_public: bool = False) -> str:
    """That some sources are entered as made from one another in a circle; for the team, what shows the mend as well."""
    names = listed([named(descended, each) for each in circle], shown=8)
    mend = "" if is_public else "; `provenance check` names the fields"
    return (
        f"{names} are entered as made from one another in a circle, which cannot be{mend}. Which of them is the oldest "
        "is not known."
    )


def places_words(candidate: Candidate) -> str:
    """How many places in how many sources support a value."""
    sources = {item.source for item in candidate.supporting}
    places = counted(len(candidate.supporting), "place")
    return f"{places} in {counted(len(sources), 'source')}"


_SPEAKS: Mapping[How, str] = {
    How.MEASURED: "the value was measured on it",
    How.SHOWS: "it shows the value",
    How.STATES: "it states the value",
    How.IMPLIES: "it implies the value",
    How.ANALOGY: "it speaks for the value by comparison",
}


def cited_words(item: JudgedItem) -> str:
    """How a source speaks for the value, where in it, and in which claim that is entered."""
    place = place_words(replace(item.at, region=None))
    signs = ", by the signs seen in it" if item.told_by else ""
    return f"{_SPEAKS[item.how]}{signs}{f', {place}' if place else ''} (claim {item.claim})"


def resting_words(verdict: Verdict, source_id: str) -> str:
    """That a feature rests on one source alone."""
    best = verdict.best
    if best is None:
        return ""
    feature = f"“{verdict.name}” ({verdict.feature})"
    if all(item.source == source_id for item in best.supporting):
        return f"{feature} has no other witness: “{best.shown}”, {counted(len(best.supporting), 'place')} in it"
    return f"every witness for {feature} goes back to it: “{best.shown}”, {places_words(best)}"


def bottleneck_words(descended: Descended) -> tuple[str, ...]:
    """What all that supports the best value of a feature goes back to; a sentence for each thing to know."""
    verdict, best = descended.verdict, descended.best
    if verdict is None or best is None:
        return ("Nothing that we hold supports any value, so there is nothing to go back to.",)
    name = namer(descended.sources)
    if best.lines > 1:
        return (f"No single source carries it: it has {best.lines} independent witnesses.",)
    if not descended.bottleneck:
        shared = [
            f"{name(each.sources[0])} and {name(each.sources[1])} share {listed([name(part) for part in each.shared])}"
            for each in best.overlaps
        ]
        why = f"independence cannot be shown: {listed(shared, shown=3)}"
        return (f"No single source carries it, and yet it has one witness only, for {why}.",)
    nearest, *others = descended.bottleneck
    alone = len({item.source for item in best.supporting}) == 1 and best.supporting[0].source == nearest
    first = (
        f"Everything hangs on {_part(descended, nearest)}: "
        f"{'nothing else speaks for this value' if alone else 'every witness for this value goes back to it'}."
    )
    if not others:
        return (first,)
    return (
        first,
        f"Behind that stands {listed([_part(descended, each) for each in others])}; that too carries all of it.",
    )


def _part(descended: Descended, part: str) -> str:
    return named(descended, part) if part in descended.sources else namer(descended.sources)(part)
