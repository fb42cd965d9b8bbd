from typing import Any

import pytest
from builders import a_date, a_feature, a_source, an_archive, an_item, seen_on

from provenance.records.claims import EvidenceItem
from provenance.records.kinds import Aspect, How, Legibility
from provenance.records.sources import Source
from provenance.rules.weighing import Weighed, how_taken, looks_back_to, weigh
from provenance.rules.weights import weights_of

STANDARD = weights_of(an_archive())


def weighed(
    item: EvidenceItem, source: Source | None, aspect: str = "form", speaks_of: str | None = "1934-06"
) -> Weighed:
    date = a_date(speaks_of) if speaks_of else None
    return weigh(item, source, a_feature(aspect=aspect), speaks_of=date, weights=STANDARD)


@pytest.mark.parametrize(
    ("kind", "weight"),
    [
        ("artefact", 16), ("photograph", 14), ("survey", 14), ("analysis", 14), ("film", 12), ("drawing", 12),
        ("specification", 11), ("manual", 11), ("catalogue", 11), ("logbook", 11), ("report", 9), ("letter", 8),
        ("newspaper", 5), ("oral-history", 5), ("book", 4), ("opinion", 4), ("artwork", 4), ("notes", 3),
        ("scale-model", 2), ("3d-model", 2), ("website", 2),
    ],
)  # fmt: skip
def test_a_source_that_states_it_clearly_weighs_by_its_kind(kind: str, weight: float) -> None:
    assert weighed(an_item("find"), a_source("find", kind)).weight == weight


@pytest.mark.parametrize(
    ("letter", "weight"), [("A", 12), ("B", 9.6), ("C", 7.2), ("D", 4.8), ("E", 1.2), ("F", 6), (None, 12)]
)
def test_the_reliability_of_a_source_is_a_factor(letter: str | None, weight: float) -> None:
    assert weighed(an_item("find"), a_source("find", "drawing", reliability=letter)).weight == pytest.approx(weight)


@pytest.mark.parametrize(
    ("how", "weight", "direct"),
    [("measured", 12, True), ("shows", 12, True), ("states", 12, True), ("implies", 6, False), ("analogy", 3, False)],
)
def test_how_an_item_speaks_is_a_factor(how: str, weight: float, *, direct: bool) -> None:
    found = weighed(an_item("find", how), a_source("find", "drawing"))

    assert (found.weight, found.direct) == (weight, direct)


def test_the_factors_multiply() -> None:
    """A letter of 1950, reliability B, implied, hardly legible, late: 8 x .5 x .8 x .5 x .5 = .8."""
    item = an_item("letter", "implies", legibility=Legibility.DOUBTFUL)

    found = weighed(item, a_source("letter", "letter", reliability="B", created="1950"))

    assert found.weight == pytest.approx(0.8)
    assert found.reasons == (
        "implied, not shown or stated",
        "its source is judged B for reliability",
        "the place can hardly be read",
        "told more than 10 years after",
    )


@pytest.mark.parametrize(
    ("kind", "created", "late"),
    [
        ("letter", "1945", True), ("report", "1945", True), ("notes", "1945", True), ("newspaper", "1945", True),
        ("book", "1945", True), ("opinion", "1945", True), ("oral-history", "1945", True), ("website", "2001", True),
        ("letter", "1944-06-30", False),  # ten years to the day
        ("letter", "1944-07-01", True),
        ("letter", "1944", False),  # not certainly
        ("letter", None, False),
        ("drawing", "1945", False), ("survey", "1945", False),
    ],
)  # fmt: skip
def test_an_account_made_certainly_more_than_ten_years_after_is_late_memory(
    kind: str, created: str | None, *, late: bool
) -> None:
    assert weighed(an_item("find"), a_source("find", kind, created=created)).late_memory is late


def test_an_account_looks_back_to_when_the_machine_was_seen_else_to_the_day_represented() -> None:
    as_at = a_date("1934-06")

    assert looks_back_to(seen_on("9", "1948"), as_at) == a_date("1948")
    assert looks_back_to(seen_on("9"), as_at) == as_at
    assert looks_back_to(None, None) is None


def test_where_no_day_is_represented_no_memory_is_late() -> None:
    assert not weighed(an_item("find"), a_source("find", "letter", created="1990"), speaks_of=None).late_memory


def test_an_unbuilt_design_weighs_nothing_and_a_built_one_in_full() -> None:
    assert weighed(an_item("find"), a_source("find", "drawing", executed=False)).weight == 0
    assert weighed(an_item("find"), a_source("find", "drawing", executed=True)).weight == 12


def test_a_source_that_nobody_has_tagged_or_that_is_not_there_weighs_nothing_and_says_why() -> None:
    untagged = weighed(an_item("find"), a_source("find", None))
    missing = weighed(an_item("find"), None)

    assert (untagged.weight, untagged.reasons) == (0, ("nobody has said yet what kind of source this is",))
    assert (missing.weight, missing.reasons) == (0, ("the archive has no such source",))


@pytest.mark.parametrize(
    ("kind", "aspect", "how", "taken"),
    [
        ("photograph", "material", "shows", "implies"),
        ("film", "material", "measured", "implies"),
        ("artwork", "material", "states", "implies"),
        ("photograph", "finish", "shows", "implies"),
        ("photograph", "dimension", "shows", "implies"),
        ("photograph", "dimension", "measured", "measured"),
        ("photograph", "quantity", "shows", "implies"),
        ("photograph", "form", "shows", "shows"),
        ("photograph", "material", "analogy", "analogy"),
        ("oral-history", "dimension", "measured", "implies"),
        ("oral-history", "material", "states", "states"),
        ("artefact", "material", "shows", "shows"),
    ],
)
def test_what_a_source_cannot_show_is_taken_as_implied(kind: str, aspect: str, how: str, taken: str) -> None:
    assert how_taken(How(how), a_source("find", kind), Aspect(aspect)) is How(taken)


@pytest.mark.parametrize(("process", "taken"), [("colour", "shows"), ("monochrome", "implies"), (None, "implies")])
def test_a_picture_shows_a_finish_only_in_colour(process: Any, taken: str) -> None:
    assert how_taken(How.SHOWS, a_source("find", process=process), Aspect.FINISH) is How(taken)


def test_what_is_taken_as_implied_weighs_half_and_is_no_longer_direct() -> None:
    found = weighed(an_item("find", "shows"), a_source("find"), "material")

    assert (found.weight, found.direct, found.how) == (7, False, How.IMPLIES)
    assert found.reasons == ("a photograph cannot show this for certain, so taken as implied",)


def test_an_analogy_says_that_it_is_one() -> None:
    found = weighed(an_item("find", "analogy"), a_source("find", "artefact"))

    assert (found.weight, found.reasons) == (4, ("by analogy only",))


def test_an_oral_history_is_given_its_article() -> None:
    found = weighed(an_item("tape"), a_source("tape", "oral-history"), "dimension")

    assert found.reasons == ("an oral history cannot show this for certain, so taken as implied",)
