"""Dates that cannot be: seen before it was built, shown after the picture was made, and the like."""

from collections.abc import Iterator

from provenance.errors import Place, Problem
from provenance.records.archive import Archive
from provenance.records.claims import AppliesTo, Claim
from provenance.records.dates import EdtfDate, certainly_after, certainly_before
from provenance.records.sources import Source

RULE = "impossible-date"


def impossible_dates(archive: Archive) -> Iterator[Problem]:
    """Dates that contradict one another for certain (rule `impossible-date`); a mere possibility is no fault."""
    yield from _of_archive(archive)
    for source in archive.sources.values():
        yield from _of_source(archive, source)
    for claim in archive.claims.values():
        yield from _of_claim(archive, claim)


def _of_archive(archive: Archive) -> Iterator[Problem]:
    if archive.target is not None:
        when = archive.target.as_at
        yield from _before_built(archive, archive.target.example, when, "archive.yaml", "target.as_at")
    for number, event in enumerate(archive.events):
        yield from _before_built(archive, event.example, event.date, "archive.yaml", f"events[{number}].date")


def _of_source(archive: Archive, source: Source) -> Iterator[Problem]:
    file = f"sources/{source.id}.yaml"
    for number, shown in enumerate(source.shows):
        field = f"shows[{number}].when"
        yield from _before_built(archive, shown.example, shown.when, file, field)
        yield from _after_made(source, shown.when, file, field)
    for number, parent in enumerate(source.derives_from):
        field = f"derives_from[{number}].source"
        yield from _older(archive, source, parent.source, field=field, verb="is made from")
    if source.replaces is not None:
        yield from _older(archive, source, source.replaces, field="replaces", verb="replaces")


def _of_claim(archive: Archive, claim: Claim) -> Iterator[Problem]:
    file = f"claims/{claim.id}.yaml"
    yield from _backwards(claim.applies_to, file, "applies_to")
    for number, item in enumerate(claim.evidence):
        if item.applies_to is not None:
            yield from _backwards(item.applies_to, file, f"evidence[{number}].applies_to")
        if item.seen is not None:
            field = f"evidence[{number}].seen.when"
            yield from _before_built(archive, item.seen.example, item.seen.when, file, field)
            if item.source in archive.sources:
                yield from _after_made(archive.sources[item.source], item.seen.when, file, field)


def _before_built(
    archive: Archive, example: str | None, when: EdtfDate | None, file: str, field: str
) -> Iterator[Problem]:
    if when is None or example is None or example not in archive.production:
        return
    built = archive.production.batch_of(example).built
    if certainly_before(when, built):
        yield Problem(
            place=Place(file=file, field=field),
            rule=RULE,
            what=f"{when} is before example {example} was built ({built})",
            mend="correct this date, the number of the example, or `built` of its batch in archive.yaml",
        )


def _after_made(source: Source, when: EdtfDate | None, file: str, field: str) -> Iterator[Problem]:
    if when is not None and source.created is not None and certainly_after(when, source.created):
        yield Problem(
            place=Place(file=file, field=field),
            rule=RULE,
            what=f"{when} is after {source.id} was made ({source.created}): it cannot show a later time",
            mend="correct this date, or `created` of the source",
        )


def _older(archive: Archive, source: Source, other: str, *, field: str, verb: str) -> Iterator[Problem]:
    earlier = archive.sources.get(other)
    if earlier is None or earlier.created is None or source.created is None:
        return
    if certainly_before(source.created, earlier.created):
        yield Problem(
            place=Place(file=f"sources/{source.id}.yaml", field=field),
            rule=RULE,
            what=f"{source.id} ({source.created}) {verb} {other}, which was made later ({earlier.created})",
            mend="turn the two round, or correct `created` of one of them",
        )


def _backwards(applies: AppliesTo, file: str, field: str) -> Iterator[Problem]:
    if applies.since is not None and applies.until is not None and certainly_after(applies.since, applies.until):
        yield Problem(
            place=Place(file=file, field=f"{field}.until"),
            rule=RULE,
            what=f"the period ends ({applies.until}) before it begins ({applies.since})",
            mend="write the earlier date in `from` and the later in `until`",
        )
