"""What archive.yaml does not say yet, and production sequences that cannot be."""

from collections import Counter
from collections.abc import Iterator

from provenance.errors import Place, Problem, Severity
from provenance.records.archive import Archive

FILE = "archive.yaml"


def gaps(archive: Archive) -> Iterator[Problem]:
    """What archive.yaml does not say yet (rule `archive-gap`), one by one."""
    missing = (
        (archive.subject is None, "subject", "what the machine is", "subject: {name: …, kind: …, claims_to_be: …}"),
        (
            archive.subject is not None and archive.subject.claims_to_be is None,
            "subject.claims_to_be",
            "what the finished object claims to be",
            "claims_to_be: reproduction",
        ),
        (
            not archive.production.batches,
            "production",
            "which examples were built, in which batches",
            'production: [{batch: first, examples: ["1", "2"], built: 1927}]',
        ),
        (
            archive.target is None,
            "target",
            "which example is represented, and as at which date",
            'target: {example: "1", as_at: 1930, why: …}',
        ),
        (
            archive.target is not None and archive.target.why is None,
            "target.why",
            "why this example and this date are represented",
            "why: …",
        ),
        (not archive.people, "people", "who works on it", "people: [{id: mh, name: …}]"),
    )
    for is_missing, field, what, example in missing:
        if is_missing:
            yield Problem(
                place=Place(file=FILE, field=field),
                rule="archive-gap",
                what=f"it does not say yet {what}",
                mend=f"add `{example}`",
                severity=Severity.WARN,
            )


def impossible_production(archive: Archive) -> Iterator[Problem]:
    """Batches, examples, people and types that are named twice (rule `named-twice`)."""
    production = archive.production
    names = (
        ("production", "batch", [batch.batch for batch in production.batches]),
        ("production", "example", list(production.order)),
        ("people", "person", [person.id for person in archive.people]),
        ("related", "related type", [related.name for related in archive.related]),
    )
    for field, word, listed in names:
        for name, times in Counter(listed).items():
            if times > 1:
                yield Problem(
                    place=Place(file=FILE, field=field),
                    rule="named-twice",
                    what=f"the {word} `{name}` is named {times} times",
                    mend="name each once",
                )
