"""What is about to be withdrawn."""

from builders import a_claim, a_decision, a_source, a_withdrawal, an_archive, an_item

from provenance.records.claims import At
from provenance.reports.to_withdraw import compose_to_withdraw

CLAIM = "headlamp-type-electric"
ARCHIVE = an_archive(
    a_claim("electric", an_item("photo", at=At(page=2)), an_item("letter", withdrawn=a_withdrawal("a hoax"))),
    a_source("photo", title="At Orrin"),
    a_decision(build="electric"),
)


def test_a_claim_is_told_with_each_item_of_its_evidence() -> None:
    told = compose_to_withdraw(ARCHIVE, "claims", CLAIM, None)

    assert told is not None
    assert (told.words, told.about, told.withdrawn) == ("the claim that it is “Electric”", "headlamp/type", None)
    assert [each.number for each in told.items] == [1, 2]
    assert told.items[0].words.startswith("“At Orrin” (photograph")
    assert told.items[0].words.endswith(", page 2")
    assert [each.withdrawn.why if each.withdrawn else None for each in told.items] == [None, "a hoax"]


def test_one_item_is_told_as_what_is_meant() -> None:
    first, second = (compose_to_withdraw(ARCHIVE, "claims", CLAIM, number) for number in (1, 2))

    assert first is not None
    assert second is not None
    assert (first.item, first.withdrawn) == (1, None)
    assert second.withdrawn is not None
    assert compose_to_withdraw(ARCHIVE, "claims", CLAIM, 3) is None
    assert compose_to_withdraw(ARCHIVE, "claims", CLAIM, 0) is None


def test_a_source_and_a_decision_have_no_items() -> None:
    source = compose_to_withdraw(ARCHIVE, "sources", "photo", None)
    decision = compose_to_withdraw(ARCHIVE, "decisions", "build-the-lamp", None)

    assert source is not None
    assert decision is not None
    assert (source.about, source.items) == (None, ())
    assert source.words.startswith("“At Orrin” (photograph")
    assert (decision.words, decision.about) == ("the decision to build “Electric”", "headlamp/type")
    assert compose_to_withdraw(ARCHIVE, "sources", "photo", 1) is None
