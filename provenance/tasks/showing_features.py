"""Show one feature to the team: the dossier without its pictures, which are made when they are asked for."""

from collections.abc import Iterator, Mapping, Sequence

from provenance.errors import UnknownRecordError
from provenance.records.archive import Archive
from provenance.records.kinds import FeatureKind
from provenance.reports import dossier_words as say
from provenance.reports.document import Figure, Picture, words
from provenance.reports.dossier import Dossier, Shown, compose_dossier, shown_of
from provenance.reports.feature_shown import DrawnFigure, FeatureShown, WhatIf, compose_feature_shown
from provenance.reports.figures import descent_picture, measure_picture, sequence_picture
from provenance.reports.signs import SignsAnswer
from provenance.rules.flag_values import Flag
from provenance.rules.judged_part import judged_part
from provenance.rules.judging import judge_feature
from provenance.rules.lifting import Lifter
from provenance.rules.verdicts import Verdict
from provenance.tasks.cutting_out import Wanted
from provenance.tasks.dossiers import descents_behind
from provenance.tasks.evidence import evidence_at_hand
from provenance.tasks.nearest import nearest_mend
from provenance.tasks.opening import Opened
from provenance.tasks.page_readings import Readings
from provenance.tasks.places_to_show import NothingToShowError, PlacesToShow
from provenance.tasks.signs import signs_by


def show_feature(
    opened: Opened,
    feature: str,
    *,
    verdicts: Mapping[str, Verdict],
    raised: Sequence[Flag],
    readings: Readings,
    lifter: Lifter | None = None,
) -> FeatureShown:
    """Put together what is shown of a feature; no picture is made.

    Args:
        opened: the archive.
        feature: `component/feature`.
        verdicts: on every feature.
        raised: all flags.
        readings: of the archive's pages.
        lifter: finds what would lift a grade, where one is at hand.

    Raises:
        UnknownRecordError: no such component or feature; with the nearest.
        ArchiveError: the archive does not say yet what it represents.
    """
    archive = opened.archive
    evidence = evidence_at_hand(opened, feature, verdicts=verdicts, raised=raised, readings=readings, lifter=lifter)
    dossier = compose_dossier(evidence, archive, {}, descents_behind(archive, evidence))
    verdict = evidence.features[0].verdict
    return compose_feature_shown(
        archive,
        dossier,
        dict(_why_not(PlacesToShow(readings), verdict)),
        tuple(_figures(dossier)),
        _signs(opened, verdict),
    )


def _why_not(places: PlacesToShow, verdict: Verdict) -> Iterator[tuple[Shown, str]]:
    """Of each place why there is no picture. Where quoted words stand is not looked for: it changes nothing of that."""
    for candidate in verdict.candidates:
        for item in candidate.items:
            try:
                places.find(item.source, item.at, None)
            except NothingToShowError as error:
                yield shown_of(item), str(error)
            else:
                yield shown_of(item), ""


def _figures(dossier: Dossier) -> Iterator[DrawnFigure]:
    (feature,) = dossier.features
    of = feature.feature
    if of.sequence is not None:
        yield _drawn("sequence", sequence_picture(of.sequence), say.SEQUENCE)
    if of.verdict.quantity:
        yield _drawn("measures", measure_picture(of.verdict.quantity, dossier.evidence.titles), say.MEASURES)
    if feature.descended is not None:
        yield _drawn("descent", descent_picture(feature.descended), say.DESCENT)


def _drawn(name: str, picture: Picture, caption: str) -> DrawnFigure:
    return DrawnFigure(name=name, figure=Figure(picture=picture, caption=words(caption)))


def _signs(opened: Opened, verdict: Verdict) -> SignsAnswer | None:
    if verdict.kind is not FeatureKind.CHOICE or not any(option.signs for option in verdict.asked.options):
        return None
    return signs_by(opened, verdict)


def judged_without(archive: Archive, stands: Verdict, without: Sequence[str]) -> WhatIf:
    """Judge a feature as if some sources were withdrawn, beside how it stands.

    Args:
        archive: the archive.
        stands: the verdict with all sources.
        without: the ids of sources; one that there is not is named, and the others are left out all the same.
    """
    asked = tuple(dict.fromkeys(without))
    known = tuple(each for each in asked if each in archive.sources)
    listing = "the sources are the files in the folder sources"
    then = None
    if known:
        then = judge_feature(judged_part(archive, stands.feature), stands.feature, without=frozenset(known))
    return WhatIf(
        without=known,
        unknown=tuple((each, nearest_mend(each, archive.sources, listing)) for each in asked if each not in known),
        stands=stands,
        then=then,
    )


def place_of_item(opened: Opened, claim_id: str, number: int) -> Wanted:
    """The place that an item of evidence names, to be cut out.

    Args:
        opened: the archive.
        claim_id: the claim.
        number: of the item in it, from 1.

    Raises:
        UnknownRecordError: there is no such claim, or it has no such item.
    """
    claim = opened.archive.claims.get(claim_id)
    if claim is None:
        mend = nearest_mend(claim_id, opened.archive.claims, "the claims are the files in the folder claims")
        raise UnknownRecordError(f"there is no claim `{claim_id}`", mend)
    if not 1 <= number <= len(claim.evidence):
        raise UnknownRecordError(
            f"`{claim_id}` has no item of evidence {number}", f"it has {len(claim.evidence)}, counted from 1"
        )
    item = claim.evidence[number - 1]
    return Wanted(source=item.source, at=item.at, quote=item.quote)


def photograph_of_made(shown: FeatureShown, number: int) -> Wanted:
    """The photograph of a piece that was made to the decision in force, to be cut out.

    Args:
        shown: the feature.
        number: of the piece, from 1.

    Raises:
        UnknownRecordError: there is no photograph of such a piece.
    """
    if number not in shown.photographs:
        raise UnknownRecordError(
            f"there is no photograph of piece {number} of `{shown.verdict.feature}`", "pieces are counted from 1"
        )
    return Wanted(source=shown.photographs[number])


def drawing_of(shown: FeatureShown, name: str) -> bytes:
    """The drawing of that name, as SVG.

    Raises:
        UnknownRecordError: the feature has no such figure.
    """
    drawn = {each.name: each.figure.picture.data for each in shown.figures}
    if name not in drawn:
        told = f"it has: {', '.join(drawn)}" if drawn else "it has none"
        raise UnknownRecordError(f"`{shown.verdict.feature}` has no figure `{name}`", told)
    return drawn[name]
