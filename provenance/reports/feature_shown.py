"""One feature as the team is shown it: its dossier, where each picture is found, and what hangs on a source."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from provenance.records.archive import Archive
from provenance.records.components import Component
from provenance.reports.document import Figure
from provenance.reports.dossier import Dossier, FeatureDossier, Shown, shown_of
from provenance.reports.fittings import way_down
from provenance.reports.signs import SignsAnswer
from provenance.rules.verdicts import Candidate, JudgedItem, Verdict


@dataclass(frozen=True, slots=True, kw_only=True)
class PictureThere:
    """Where the picture of a place is found, which is made only when it is asked for.

    Attributes:
        claim: the id of the claim that names the place.
        number: of the item in that claim, from 1.
        why_not: why there is no picture, in words that end a sentence; empty where there is one.
    """

    claim: str
    number: int
    why_not: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnFigure:
    """A figure of our own.

    Attributes:
        name: `sequence`, `measures` or `descent`.
        figure: the drawing, with all that it tells in words, and its caption.
    """

    name: str
    figure: Figure


@dataclass(frozen=True, slots=True, kw_only=True)
class FeatureShown:
    """One feature.

    Attributes:
        above: the assemblies that its component is part of, the outermost first.
        pictures: by place.
        reasoning: how the team reads the evidence, by the value of each candidate that it is written down for.
        figures: drawings of the verdict.
        notes: what the team noted beside its records of the feature: on what, and what; empty for nothing.
        signs: what to look for in a picture, to tell the options apart; None but for a choice with signs.
        photographs: the sources of photographs of what was made, by the number of the piece, from 1.
    """

    dossier: Dossier
    feature: FeatureDossier
    above: tuple[Component, ...]
    pictures: Mapping[Shown, PictureThere]
    reasoning: Mapping[str, tuple[str, ...]]
    notes: tuple[tuple[str, str], ...]
    figures: tuple[DrawnFigure, ...]
    signs: SignsAnswer | None
    photographs: Mapping[int, str]

    @property
    def verdict(self) -> Verdict:
        """What the evidence says."""
        return self.feature.feature.verdict

    @property
    def sources(self) -> tuple[str, ...]:
        """The sources that speak for any value or against it, in order of their titles."""
        items = (item for candidate in self.verdict.candidates for item in candidate.items)
        titles = self.dossier.evidence.titles
        return tuple(sorted({item.source for item in items}, key=lambda each: (titles[each].casefold(), each)))

    def picture_of(self, item: JudgedItem) -> PictureThere | None:
        """Where the picture of an item's place is found; None where none is looked for."""
        return self.pictures.get(shown_of(item))


@dataclass(frozen=True, slots=True, kw_only=True)
class WhatIf:
    """A verdict, and what it would be if some sources were withdrawn.

    Attributes:
        without: the ids of these sources.
        unknown: ids that no source has, each with what may have been meant.
        stands: the verdict with all sources.
        then: the verdict without them; None where none of the ids is known.
    """

    without: tuple[str, ...]
    unknown: tuple[tuple[str, str], ...]
    stands: Verdict
    then: Verdict | None

    @property
    def values(self) -> tuple[tuple[str, Candidate | None, Candidate | None], ...]:
        """Every value that either of the two names, as people read it: how it stands, and how it would."""
        now = {each.value: each for each in self.stands.candidates}
        then = {each.value: each for each in self.then.candidates} if self.then else {}
        named = dict.fromkeys((*now, *then))
        return tuple(((now.get(each) or then[each]).shown, now.get(each), then.get(each)) for each in named)


def compose_feature_shown(
    archive: Archive,
    dossier: Dossier,
    pictures: Mapping[Shown, str],
    figures: tuple[DrawnFigure, ...],
    signs: SignsAnswer | None,
) -> FeatureShown:
    """Put what is shown of one feature together.

    Args:
        archive: on which it was judged.
        dossier: of that feature alone.
        pictures: of each place that is shown why there is no picture of it; empty where there is one.
        figures: drawings of the verdict.
        signs: what to look for; None for nothing.
    """
    (feature,) = dossier.features
    verdict = feature.feature.verdict
    made = verdict.decision.made if verdict.decision else ()
    return FeatureShown(
        dossier=dossier,
        feature=feature,
        above=way_down(archive, verdict.component),
        pictures=_there(archive, verdict, pictures),
        reasoning={
            candidate.value: tuple(dict.fromkeys(told))
            for candidate in verdict.candidates
            if (told := [each for claim in candidate.claims if (each := archive.claims[claim].reasoning)])
        },
        notes=tuple(_notes(archive, verdict.feature)),
        figures=figures,
        signs=signs,
        photographs={
            number: each.photo for number, each in enumerate(made, 1) if each.photo and each.photo in archive.sources
        },
    )


def _notes(archive: Archive, name: str) -> Iterator[tuple[str, str]]:
    """The notes on the feature itself, on what is claimed of it and by what, and on what was decided, in that order."""
    if note := archive.features[name].note:
        yield "the feature", note
    for claim in archive.claims_by_feature.get(name, ()):
        if claim.note:
            yield f"what is claimed, “{claim.value}”", claim.note
        for item in claim.evidence:
            if item.note:
                yield f"what “{archive.sources[item.source].title}” says for that", item.note
    for _, decision in sorted(archive.decisions.items()):
        if decision.about == name and decision.note:
            yield f"the decision to build “{decision.build}”", decision.note


def _there(archive: Archive, verdict: Verdict, pictures: Mapping[Shown, str]) -> dict[Shown, PictureThere]:
    """The address of each place: the first item of its claim that names it."""
    found: dict[Shown, PictureThere] = {}
    for candidate in verdict.candidates:
        for item in candidate.items:
            place = shown_of(item)
            if place in pictures and place not in found:
                named = [(each.source, each.at, each.quote) for each in archive.claims[item.claim].evidence]
                found[place] = PictureThere(claim=item.claim, number=named.index(place) + 1, why_not=pictures[place])
    return found
