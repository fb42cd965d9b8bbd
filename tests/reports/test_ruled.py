"""What was ruled on two sources, as people and programs read it."""

from answers import faults_of
from builders import a_claim, a_pair, a_source, an_archive, an_item

from provenance.records.archive import Archive
from provenance.reports.ruled import Ruled, changed_sentences, ruled_json, ruled_text
from provenance.reports.standing import Standing
from provenance.reports.tried import Change
from provenance.tasks.trying import changes_between

FILE = "copies/first--second.yaml"


def an_archive_ruled(ruling: str) -> Archive:
    items = [an_item(name, "shows") for name in ("first", "second")]
    pictures = [a_source(name) for name in ("first", "second")]
    return an_archive(a_claim("acetylene", *items), *pictures, a_pair("first", "second", ruling))


def ruled(changes: tuple[Change, ...] | None, written: tuple[str, ...] = (FILE,)) -> Ruled:
    return Ruled(
        standing=Standing(archive="Railcar No. 9"),
        answer="copies-rule-out",
        record="first--second",
        written=written,
        said=("Ruled: neither.",),
        changes=changes,
    )


def test_what_has_changed_stands_between_what_was_ruled_and_what_was_written() -> None:
    changes = changes_between(an_archive_ruled("open"), an_archive_ruled("distinct"), [FILE])

    assert ruled_text(ruled(changes), 100) == (
        "Ruled: neither.\n"
        "\n"
        "One verdict has changed:\n"
        "\n"
        "headlamp/type (Headlamp type)\n"
        "  before: Acetylene: uncorroborated, chance 96 %, one independent witness\n"
        "  after: Acetylene: established, chance over 99 %, 2 independent witnesses\n"
        "\n"
        f"written: {FILE}"
    )
    assert "These verdicts have changed:" in ruled_text(ruled(changes * 2), 100)
    assert faults_of(ruled_json(ruled(changes))) == []


def test_a_ruling_that_changes_nothing_says_so() -> None:
    assert ruled_text(ruled(()), 100) == f"Ruled: neither.\nNo verdict changes.\nwritten: {FILE}"
    assert ruled_text(ruled((), ()), 100) == "Ruled: neither.\nNothing was to do."
    assert faults_of(ruled_json(ruled(()))) == []


def test_where_nothing_can_be_judged_yet_that_is_said() -> None:
    text = ruled_text(ruled(None), 100)

    assert "so no verdict was looked at" in text
    assert ruled_json(ruled(None))["changes"] is None
    assert faults_of(ruled_json(ruled(None))) == []


def test_what_has_changed_is_told_a_sentence_for_each_verdict() -> None:
    changes = changes_between(an_archive_ruled("open"), an_archive_ruled("distinct"), [FILE])

    (sentence,) = changed_sentences(ruled(changes))

    assert sentence == (
        "headlamp/type: before: Acetylene: uncorroborated, chance 96 %, one independent witness; "
        "after: Acetylene: established, chance over 99 %, 2 independent witnesses."
    )
    assert changed_sentences(ruled(())) == ("No verdict changes.",)
    assert "so no verdict was looked at" in changed_sentences(ruled(None))[0]
    assert changed_sentences(ruled(changes, ())) == ()
