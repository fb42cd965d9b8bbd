"""Values that a feature cannot have, pages that a source does not have, and records that say the same twice."""

from collections import defaultdict
from collections.abc import Iterator

from provenance.errors import Place, Problem, Severity
from provenance.records.archive import Archive
from provenance.records.claims import At, Claim
from provenance.records.components import Feature
from provenance.records.decisions import Decision
from provenance.records.kinds import FeatureKind
from provenance.records.sources import Source


def impossible_pages(archive: Archive) -> Iterator[Problem]:
    """Places beyond the end of a source (rule `page-beyond`)."""
    for claim in archive.claims.values():
        for number, item in enumerate(claim.evidence):
            source = archive.sources.get(item.source)
            if source is not None:
                yield from _beyond(source, item.at, f"claims/{claim.id}.yaml", f"evidence[{number}].at")
                yield from _beside(source, item.at, f"claims/{claim.id}.yaml", f"evidence[{number}].at.page")
    for source in archive.sources.values():
        within = source.within
        container = archive.sources.get(within.source) if within else None
        if within is not None and within.pages is not None and container is not None:
            last = At(page=within.pages.last)
            yield from _beyond(container, last, f"sources/{source.id}.yaml", "within.pages", page_field="")


def _beside(source: Source, at: At, file: str, field: str) -> Iterator[Problem]:
    """A page of the container that the source does not stand on."""
    within = source.within
    if within is None or within.pages is None or at.page is None:
        return
    if not within.pages.first <= at.page <= within.pages.last:
        yield Problem(
            place=Place(file=file, field=field),
            rule="page-beyond",
            what=f"page {at.page} is none of the pages {within.pages} of {within.source} that {source.id} stands on",
            mend=f"write the page as it is counted in {within.source}",
        )


def _beyond(source: Source, at: At, file: str, field: str, *, page_field: str = ".page") -> Iterator[Problem]:
    if at.page is not None and source.pages is not None and at.page > source.pages:
        yield Problem(
            place=Place(file=file, field=f"{field}{page_field}"),
            rule="page-beyond",
            what=f"page {at.page} is beyond the end of {source.id}, which has {source.pages}",
            mend="pages count from 1 as in the scan; a number printed on the page goes into `page_label`",
        )
    if at.file is not None and source.files and at.file > len(source.files):
        yield Problem(
            place=Place(file=file, field=f"{field}.file"),
            rule="page-beyond",
            what=f"file {at.file} is beyond the files of {source.id}, which has {len(source.files)}",
            mend="files count from 1 in the order in which the source lists them",
        )


def impossible_values(archive: Archive) -> Iterator[Problem]:
    """Values that the feature cannot have (rule `impossible-value`)."""
    for claim in archive.claims.values():
        feature = archive.features.get(claim.about)
        if feature is None:
            continue
        allowed = _allowed(feature, claim.value)
        if allowed:
            yield Problem(
                place=Place(file=f"claims/{claim.id}.yaml", field="value"),
                rule="impossible-value",
                what=f"`{claim.value}` is no value of {claim.about}",
                mend=f"write {allowed}",
            )


def _allowed(feature: Feature, value: str) -> str:
    """What may stand there instead; empty where the value is one that the feature can have."""
    if feature.kind is FeatureKind.PRESENCE and value not in {"present", "absent"}:
        return "`present` or `absent`"
    if feature.kind is FeatureKind.CHOICE and feature.option_named(value) is None:
        options = ", ".join(f"`{option.id}`" for option in feature.options)
        return f"one of its options ({options or 'none is listed yet'}), or add an option to the component"
    return ""


def undefined_signs(archive: Archive) -> Iterator[Problem]:
    """Signs that the component does not define (rule `undefined-sign`).

    What a machine was told by may be a sign of any component; one that none defines would hide a circular
    identification.
    """
    for component in archive.components.values():
        defined = {sign.id for sign in component.signs}
        file = f"components/{component.id}.yaml"
        for number, feature in enumerate(component.features):
            for place, option in enumerate(feature.options):
                for row, sign in enumerate(option.signs):
                    if sign.sign not in defined:
                        field = f"features[{number}].options[{place}].signs[{row}].sign"
                        yield _undefined(sign.sign, component.id, file, field)
    anywhere = {sign.id for component in archive.components.values() for sign in component.signs}
    for claim in archive.claims.values():
        yield from _signs_of_claim(archive, claim, anywhere)


def _signs_of_claim(archive: Archive, claim: Claim, anywhere: set[str]) -> Iterator[Problem]:
    component = archive.components.get(claim.about.partition("/")[0])
    if component is None:
        return
    defined = {sign.id for sign in component.signs}
    file = f"claims/{claim.id}.yaml"
    for number, item in enumerate(claim.evidence):
        for sign, _ in item.signs:
            if sign not in defined:
                yield _undefined(sign, component.id, file, f"evidence[{number}].signs.{sign}")
        for row, sign in enumerate(item.seen.signs if item.seen else ()):
            if sign not in anywhere:
                yield _undefined(sign, component.id, file, f"evidence[{number}].seen.signs[{row}]")


def _undefined(sign: str, component: str, file: str, field: str) -> Problem:
    return Problem(
        place=Place(file=file, field=field),
        rule="undefined-sign",
        what=f"`{sign}` is no sign of {component}",
        mend=f"add it under `signs` in components/{component}.yaml, or name one that is there",
    )


def double_claims(archive: Archive) -> Iterator[Problem]:
    """Claims of the same value for the same machines (rule `double-claim`): they are one claim, unless withdrawn."""
    first: dict[tuple[object, ...], str] = {}
    for claim_id in sorted(archive.claims):
        claim = archive.claims[claim_id]
        if claim.withdrawn is not None:
            continue
        same = (claim.about, claim.value, claim.applies_to)
        if same in first:
            yield Problem(
                place=Place(file=f"claims/{claim_id}.yaml"),
                rule="double-claim",
                what=f"it claims the same as {first[same]}: {claim.about}, `{claim.value}`, for the same machines",
                mend=f"move its evidence into claims/{first[same]}.yaml, and withdraw this one",
            )
        first.setdefault(same, claim_id)


def several_in_force(archive: Archive) -> Iterator[Problem]:
    """Two decisions in force for one feature (rule `two-in-force`): released, and replaced by none such."""
    released: dict[str, list[Decision]] = defaultdict(list)
    for decision_id in sorted(archive.decisions):
        decision = archive.decisions[decision_id]
        if decision.status == "released" and decision.withdrawn is None:
            released[decision.about].append(decision)
    for about, decisions in released.items():
        replaced = {decision.replaces for decision in decisions}
        ids = [decision.id for decision in decisions if decision.id not in replaced]
        for later in ids[1:]:
            yield Problem(
                place=Place(file=f"decisions/{later}.yaml", field="status"),
                rule="two-in-force",
                what=f"{about} has {len(ids)} decisions in force: {', '.join(ids)}",
                mend="say in the later one which it `replaces`, or withdraw one",
            )


def sources_without_kind(archive: Archive) -> Iterator[Problem]:
    """Sources that evidence is taken from but nobody has said the kind of (rule `kind-missing`)."""
    cited = {
        item.source
        for claim in archive.claims.values()
        for item in claim.evidence
        if claim.withdrawn is None and item.withdrawn is None
    }
    for source_id in sorted(cited):
        source = archive.sources.get(source_id)
        if source is not None and source.kind is None:
            yield Problem(
                place=Place(file=f"sources/{source_id}.yaml", field="kind"),
                rule="kind-missing",
                what="claims rest on it, but it is not said what kind of source it is, so it weighs nothing",
                mend="add `kind:`, such as photograph, drawing or letter",
                severity=Severity.WARN,
            )
