"""Machines, batches and related types that the production sequence does not have."""

from collections.abc import Iterator

from provenance.errors import Place, Problem
from provenance.records.archive import Archive
from provenance.records.claims import AppliesTo, Claim
from provenance.records.examples import BackwardsRangeError, ExamplesError, ExampleSet


def unknown_examples(archive: Archive) -> Iterator[Problem]:
    """Examples that were never built, runs that go backwards, unknown batches and types.

    Rules `unknown-example`, `backwards-range`, `unknown-batch`, `unknown-type`.
    """
    yield from _of_archive(archive)
    for claim in archive.claims.values():
        yield from _of_claim(archive, claim)
    for component in archive.components.values():
        for number, common in enumerate(component.common_to):
            place = Place(file=f"components/{component.id}.yaml", field=f"common_to[{number}].examples")
            yield from _examples(archive, common.examples, place)
    for source in archive.sources.values():
        for number, shown in enumerate(source.shows):
            if shown.example is not None:
                place = Place(file=f"sources/{source.id}.yaml", field=f"shows[{number}].example")
                yield from _example_or_type(archive, shown.example, place)


def _of_archive(archive: Archive) -> Iterator[Problem]:
    named = [("target.example", archive.target.example)] if archive.target else []
    named += [(f"events[{number}].example", event.example) for number, event in enumerate(archive.events)]
    for field, example in named:
        if example not in archive.production:
            yield _unknown(archive, example, Place(file="archive.yaml", field=field))


def _of_claim(archive: Archive, claim: Claim) -> Iterator[Problem]:
    file = f"claims/{claim.id}.yaml"
    yield from _applies_to(archive, claim.applies_to, file, "applies_to")
    for number, item in enumerate(claim.evidence):
        if item.applies_to is not None:
            yield from _applies_to(archive, item.applies_to, file, f"evidence[{number}].applies_to")
        if item.seen is not None:
            place = Place(file=file, field=f"evidence[{number}].seen.example")
            yield from _example_or_type(archive, item.seen.example, place)


def _applies_to(archive: Archive, applies: AppliesTo, file: str, field: str) -> Iterator[Problem]:
    if applies.examples is not None:
        yield from _examples(archive, applies.examples, Place(file=file, field=f"{field}.examples"))
    if applies.batch is not None and archive.production.batch_named(applies.batch) is None:
        batches = [batch.batch for batch in archive.production.batches]
        yield Problem(
            place=Place(file=file, field=f"{field}.batch"),
            rule="unknown-batch",
            what=f"there is no batch `{applies.batch}`",
            mend=f"name one of the batches in archive.yaml: {', '.join(batches) or 'none is listed yet'}",
        )
    if applies.related is not None and applies.related not in _types(archive):
        yield Problem(
            place=Place(file=file, field=f"{field}.related"),
            rule="unknown-type",
            what=f"there is no related type `{applies.related}`",
            mend="add it under `related` in archive.yaml, or name one that is there",
        )


def _examples(archive: Archive, examples: ExampleSet, place: Place) -> Iterator[Problem]:
    try:
        archive.production.expand(examples)
    except ExamplesError as error:
        rule = "backwards-range" if isinstance(error, BackwardsRangeError) else "unknown-example"
        yield Problem(place=place, rule=rule, what=error.what, mend=error.mend)


def _example_or_type(archive: Archive, name: str, place: Place) -> Iterator[Problem]:
    if name not in archive.production and name not in _types(archive):
        yield _unknown(archive, name, place)


def _unknown(archive: Archive, example: str, place: Place) -> Problem:
    order = ", ".join(archive.production.order) or "none is listed yet"
    return Problem(
        place=place,
        rule="unknown-example",
        what=f"there is no example `{example}`",
        mend=f"name one of the production sequence in archive.yaml ({order})",
    )


def _types(archive: Archive) -> frozenset[str]:
    return frozenset(related.name for related in archive.related)
