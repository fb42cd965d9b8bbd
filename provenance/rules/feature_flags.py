"""Flags about features: thin, one-sided, contested or circular evidence, and measures taken from nowhere."""

from collections.abc import Callable, Iterable, Iterator

from provenance.records.archive import Archive
from provenance.records.kinds import Aspect
from provenance.rules.chosen_builds import chosen_build
from provenance.rules.explaining import if_ruled_out, inferred_from
from provenance.rules.flag_values import Flag, Level
from provenance.rules.grades import Category, Grade
from provenance.rules.open_pairs import OpenPairs
from provenance.rules.sentences import chance_in_words, counted, listed, namer
from provenance.rules.verdicts import Candidate, JudgedItem, Verdict

_NEAR = frozenset({Category.ITSELF, Category.COVERED})
_MEASURED_FROM = frozenset({Aspect.DIMENSION, Aspect.POSITION})


def feature_flags(archive: Archive, verdict: Verdict, open_pairs: OpenPairs) -> Iterator[Flag]:
    """Raise the flags about one feature.

    Args:
        archive: the archive.
        verdict: on the feature.
        open_pairs: the pairs of likely copies of the archive on which nobody has ruled.
    """
    name = namer(archive.sources)
    for raised in (
        _no_evidence(verdict),
        _contested(verdict),
        _single_source(verdict, archive, open_pairs, name),
        _inferred_only(verdict),
        _other_example_only(verdict),
        _circular_identification(verdict, name),
        _no_datum(verdict),
    ):
        if raised is not None:
            yield raised


def _no_evidence(verdict: Verdict) -> Flag | None:
    if verdict.best is not None:
        return None
    claims = sorted({claim for candidate in verdict.candidates for claim in candidate.claims})
    entered = "has claims, but none of their evidence supports a value" if claims else "has no claim about it"
    declared = verdict.decision is not None and chosen_build(verdict, verdict.decision).declares_conjecture
    said = "what is built is declared conjecture" if declared else "whatever is built would be conjecture"
    return Flag(
        flag="no-evidence",
        severity=Level.NOTE if declared else Level.STOP,
        about=verdict.feature,
        sentence=f"“{verdict.name}” {entered}: {said}.",
        mend="find and enter evidence, or declare the build conjecture",
        claims=tuple(claims),
        sources=_sources(item for candidate in verdict.candidates for item in candidate.items),
    )


def _contested(verdict: Verdict) -> Flag | None:
    if verdict.best is None or verdict.grade is not Grade.CONTESTED:
        return None
    rivals = [each for each in verdict.candidates if each is not verdict.best and each.grade is Grade.CONTESTED]
    against = {item.claim for rival in rivals for item in rival.supporting}
    decision = verdict.decision
    settled = decision is not None and chosen_build(verdict, decision).sets_aside(against)
    values = listed([f"“{each.shown}” ({chance_in_words(each.posterior)})" for each in (verdict.best, *rivals)])
    said = f"; decision {decision.id} sets the other claims aside, with its reason" if decision and settled else ""
    return Flag(
        flag="contested",
        severity=Level.NOTE if settled else Level.STOP,
        about=verdict.feature,
        sentence=f"“{verdict.name}” is contested between {values}{said}.",
        mend="look for what tells them apart, or set the other claims aside in a released decision and say why",
        claims=tuple(sorted({*verdict.best.claims, *against})),
        sources=_sources(item for each in (verdict.best, *rivals) for item in each.supporting),
    )


def _single_source(
    verdict: Verdict, archive: Archive, open_pairs: OpenPairs, name: Callable[[str], str]
) -> Flag | None:
    best = verdict.best
    if best is None or best.lines != 1:
        return None
    held = verdict.grade not in (Grade.UNCORROBORATED, Grade.CONTESTED, Grade.INFERRED)
    many = (
        f", though {counted(len(best.supporting), 'place is', 'places are')} cited" if len(best.supporting) > 1 else ""
    )
    if_ruled = if_ruled_out(best, open_pairs, name)
    return Flag(
        flag="single-source",
        severity=Level.NOTE if held else Level.WARN,
        about=verdict.feature,
        sentence=f"“{verdict.name}”: {_what_it_rests_on(best, name)}{many}{f'; {if_ruled}' if if_ruled else ''}.",
        mend="look for a witness that does not go back to it"
        + ("; rule on the pairs of likely copies" if if_ruled else ""),
        claims=tuple(sorted({item.claim for item in best.supporting})),
        sources=tuple(
            sorted({*_sources(best.supporting), *(part for part in best.rests_on if part in archive.sources)})
        ),
    )


def _what_it_rests_on(best: Candidate, name: Callable[[str], str]) -> str:
    value = f"“{best.shown}” rests on"
    if len(best.supporting) == 1:
        return f"{value} {name(best.supporting[0].source)} alone"
    if best.rests_on:
        return f"{value} {listed([name(part) for part in best.rests_on])} alone"
    shared = [
        f"{name(each.sources[0])} and {name(each.sources[1])} share {_each_once(each.shared, name)}"
        for each in best.overlaps
    ]
    return f"{value} one witness only, since independence cannot be shown ({listed(shared, shown=3)})"


def _each_once(parts: Iterable[str], name: Callable[[str], str]) -> str:
    """Name parts of a descent: what stands for likely copies has one name, however many of it there are."""
    return listed(list(dict.fromkeys(map(name, parts))))


def _inferred_only(verdict: Verdict) -> Flag | None:
    best = verdict.best
    if best is None or verdict.grade is not Grade.INFERRED:
        return None
    return Flag(
        flag="inferred-only",
        severity=Level.WARN,
        about=verdict.feature,
        sentence=f"“{verdict.name}”: “{best.shown}” is inferred only: {inferred_from(verdict.change_over, best)}.",
        mend="look for something that shows or states it of this machine or of its batch",
        claims=tuple(sorted({item.claim for item in best.supporting})),
        sources=_sources(best.supporting),
    )


def _other_example_only(verdict: Verdict) -> Flag | None:
    best = verdict.best
    if best is None or any(item.applies in _NEAR for item in best.supporting):
        return None
    others = list(dict.fromkeys(item.applies.words for item in best.supporting))
    return Flag(
        flag="other-example-only",
        severity=Level.WARN,
        about=verdict.feature,
        sentence=f"“{verdict.name}”: all that supports “{best.shown}” speaks of other machines ({listed(others)}).",
        mend="look for something that speaks of this machine, or of a group with it",
        claims=tuple(sorted({item.claim for item in best.supporting})),
        sources=_sources(best.supporting),
    )


def _circular_identification(verdict: Verdict, name: Callable[[str], str]) -> Flag | None:
    items = [item for each in verdict.candidates for item in each.items if item.circular and not item.left_out]
    if not items:
        return None
    sources = _sources(items)
    titles = listed([name(source) for source in sources])
    return Flag(
        flag="circular-identification",
        severity=Level.WARN,
        about=verdict.feature,
        sentence=f"“{verdict.name}”: the machine in {titles} was told by a sign of "
        "this very feature, so what it shows here proves nothing.",
        mend="tell the machine by its number, its caption or something that this feature does not decide",
        claims=tuple(sorted({item.claim for item in items})),
        sources=sources,
    )


def _no_datum(verdict: Verdict) -> Flag | None:
    feature = verdict.asked
    claims = {item.claim for each in verdict.candidates for item in each.items if not item.left_out}
    if feature.aspect not in _MEASURED_FROM or feature.datum is not None or not (claims or verdict.decision):
        return None
    return Flag(
        flag="no-datum",
        severity=Level.WARN if verdict.decision else Level.NOTE,
        about=verdict.feature,
        sentence=f"“{verdict.name}” is a {feature.aspect}, and it is not said from where it is taken.",
        mend="write under datum in the component from where it is measured, such as `datum: top of rail`",
        claims=tuple(sorted(claims)),
    )


def _sources(items: Iterable[JudgedItem]) -> tuple[str, ...]:
    return tuple(sorted({item.source for item in items}))
