"""The machines in order of production with what was seen on each of them."""

import json
from dataclasses import replace
from random import Random

import jsonschema_rs
import pytest
from builders import (
    FEATURE,
    a_claim,
    a_component,
    a_date,
    a_feature,
    a_source,
    a_withdrawal,
    an_archive,
    an_event,
    an_item,
    an_option,
    seen_on,
)
from hypothesis import given, settings
from hypothesis import strategies as st
from reports.sequences import SCHEMA, a_figure, judged
from rules.sighting_groups import a_production, a_sighting, a_target, an_archive_of, backwards

from provenance.records.archive import Archive
from provenance.records.claims import Claim
from provenance.records.components import OptionSign
from provenance.records.kinds import Changes, Expected, KnownBy, SignSeen
from provenance.records.sources import Source, Withdrawal
from provenance.reports.sequence import Observation, SequenceFigure, sequence_json, sequence_of, when_words
from provenance.rules.judging import judge_feature

LAMP = a_feature()
PLATE = a_feature(kind="text", aspect="marking", name="Maker's plate")
OIL_ON_8 = a_sighting("oil", seen_on("8", "1931"), source="eight")
SIGN = "conduit-on-cantrail"
OIL_ON_100 = a_sighting("oil", "100")
ELECTRIC_ON_10 = a_sighting("electric", seen_on("10", "1934-06"), source="ten")


def drawn(archive: Archive) -> SequenceFigure:
    figure = a_figure(archive)
    assert figure is not None
    return figure


def seen_of(archive: Archive, example: str) -> tuple[Observation, ...]:
    rows = [row for batch in drawn(archive).batches for row in batch.rows]
    return next(row.observations for row in rows if row.example == example)


def test_every_machine_stands_in_its_batch_in_order_of_production() -> None:
    figure = drawn(an_archive_of(LAMP, OIL_ON_8, ELECTRIC_ON_10))

    assert (figure.feature, figure.name, figure.target) == (FEATURE, "Headlamp type", "9")
    assert [(batch.batch, batch.built.text) for batch in figure.batches] == [
        ("first", "1927/1928"),
        ("second", "1930"),
        ("third", "1933"),
    ]
    assert [[row.example for row in batch.rows] for batch in figure.batches] == [
        ["1", "2", "3", "4"],
        ["5", "6", "7", "8"],
        ["9", "10", "11"],
    ]
    rows = [row for batch in figure.batches for row in batch.rows]
    assert [row.example for row in rows if row.is_target] == ["9"]
    assert [row.example for row in rows if row.near_target] == ["8", "9", "10"]
    assert [row.example for row in rows if row.observations] == ["8", "10"]


def test_the_order_is_that_of_the_archive_and_not_that_of_the_numbers_text() -> None:
    numbers = ["9", "10", "100", "50"]

    figure = drawn(an_archive_of(LAMP, OIL_ON_100, production=a_production(numbers), target=a_target("100")))

    assert [row.example for row in figure.batches[0].rows] == numbers
    assert [row.near_target for row in figure.batches[0].rows] == [False, True, True, True]


def test_where_a_change_over_was_computed_each_machine_in_it_has_the_chance_of_the_later_value() -> None:
    figure = drawn(an_archive_of(LAMP, OIL_ON_8, ELECTRIC_ON_10))

    chances = {row.example: row.chance for batch in figure.batches for row in batch.rows}
    told = {example: chance for example, chance in chances.items() if chance is not None}
    assert told == pytest.approx({"8": 0, "9": 5 / 6, "10": 1})
    assert (figure.earlier, figure.later) == ("Oil", "Electric")
    assert figure.said.startswith("“Oil” was seen on No. 8 and “Electric” on No. 10")


def test_where_none_was_computed_there_are_no_chances() -> None:
    figure = drawn(an_archive_of(LAMP, OIL_ON_8))

    assert (figure.earlier, figure.later, figure.said) == ("", "", "")
    assert {row.chance for batch in figure.batches for row in batch.rows} == {None}


def test_without_a_sighting_of_any_machine_there_is_no_figure() -> None:
    """A statement is no observation, and a related type stands in no order of production."""
    stated = an_archive(a_claim("oil", "letter", to="8"))
    related = an_archive_of(LAMP, a_sighting("oil", "Quarry tractor"), related=["Quarry tractor"])

    assert [a_figure(each) for each in (stated, related, an_archive())] == [None, None, None]


def test_a_statement_that_covers_a_machine_is_no_observation_of_it() -> None:
    statement = (a_source("manual", "manual"), a_claim("electric", "manual", to="8"))

    (only,) = seen_of(an_archive_of(LAMP, OIL_ON_8, statement), "8")

    assert only == Observation(
        values=("oil",),
        shown="“Oil”",
        against=False,
        when=a_date("1931"),
        known_by=KnownBy.NUMBER,
        sources=("eight",),
        direct=True,
        counts=True,
        why_not="",
    )


def test_what_several_sources_show_alike_is_one_observation_and_others_follow_by_date() -> None:
    archive = an_archive_of(
        LAMP,
        a_sighting("oil", "8", source="undated"),
        a_sighting("oil", seen_on("8", "1932"), source="later"),
        OIL_ON_8,
        a_sighting("oil", seen_on("8", "1931"), source="album"),
        a_sighting("oil", seen_on("8", "1931"), source="no-oil", stance="contradicts"),
    )

    told = [(each.sources, when_words(each), each.against) for each in seen_of(archive, "8")]

    assert told == [
        (("album", "eight"), "1931", False),
        (("no-oil",), "1931", True),
        (("later",), "1932", False),
        (("undated",), "at a date not known", False),
    ]


@pytest.mark.parametrize(
    ("sighting", "direct", "why_not"),
    [
        (a_sighting("oil", seen_on("8", "1936")), True, "seen more than 5 years after it was built"),
        (a_sighting("oil", seen_on("8", "1934")), True, "seen after what happened to it: burnt out (1933)"),
        (a_sighting("oil", "8", how="implies"), False, "only implied"),
        (
            a_sighting("oil", seen_on("8", signs=[SIGN])),
            True,
            f"shows No. 8, of another batch, but told by a sign of this very feature ({SIGN}), which proves nothing",
        ),
    ],
)
def test_what_does_not_count_is_drawn_with_the_reason(
    sighting: tuple[Source, Claim], *, direct: bool, why_not: str
) -> None:
    archive = an_archive_of(LAMP, sighting, events=(an_event("1933", "burnt out", example="8"),))

    (only,) = seen_of(archive, "8")

    assert (only.direct, only.counts, only.why_not) == (direct, False, why_not)


def test_what_weighs_nothing_or_was_withdrawn_does_not_count() -> None:
    def why_not(kind: str | None = "photograph", photograph: int = 14, withdrawn: Withdrawal | None = None) -> str:
        item = an_item("photo", "shows", seen=seen_on("8", "1931"), withdrawn=withdrawn)
        weights = {"base.photograph": photograph}
        (only,) = seen_of(an_archive(a_source("photo", kind), a_claim("oil", item), weights=weights), "8")
        assert not only.counts
        return only.why_not

    assert why_not(withdrawn=a_withdrawal("wrong roll")) == "withdrawn: wrong roll"
    assert why_not(kind=None) == "nobody has said yet what kind of source this is"
    assert why_not(photograph=0) == "it counts nothing by the weights in use"


def test_late_sightings_count_for_the_machine_itself_and_where_a_feature_changes_in_service() -> None:
    on_9 = a_sighting("oil", seen_on("9", "1950"))
    in_service = a_feature(changes=Changes.IN_SERVICE)

    assert [each.counts for each in seen_of(an_archive_of(LAMP, on_9), "9")] == [True]
    late = an_archive_of(in_service, a_sighting("oil", seen_on("8", "1950")))
    assert [each.counts for each in seen_of(late, "8")] == [True]


def test_a_broken_reading_that_fits_several_values_is_one_observation_of_either() -> None:
    names = (a_sighting("Ellison", "2"), a_sighting("Emerson", "3"), a_sighting("Edson", "4"))

    (only,) = seen_of(an_archive_of(PLATE, *names, a_sighting("E[...]son", "8", source="broken")), "8")

    assert only.values == ("Edson", "Ellison", "Emerson")
    assert only.shown == "“Edson”, “Ellison” or “Emerson”"
    assert only.sources == ("broken",)


def test_an_archive_that_represents_no_machine_yet_is_drawn_without_a_mark() -> None:
    archive = replace(an_archive_of(LAMP, OIL_ON_8), target=None)

    figure = drawn(archive)

    assert figure.target is None
    assert not any(row.is_target or row.near_target for batch in figure.batches for row in batch.rows)


def test_a_target_that_was_never_built_is_not_among_the_machines() -> None:
    figure = drawn(replace(an_archive_of(LAMP, OIL_ON_8), target=a_target("12")))

    assert figure.target == "12"
    assert not any(row.is_target or row.near_target for batch in figure.batches for row in batch.rows)


def numbered(first: int, last: int) -> list[str]:
    return [str(number) for number in range(first, last + 1)]


def test_long_runs_on_which_nothing_was_seen_are_drawn_together_but_not_next_to_the_machine() -> None:
    archive = an_archive_of(
        LAMP,
        a_sighting("oil", "3"),
        a_sighting("electric", "497"),
        production=a_production(numbered(1, 20), numbered(21, 500)),
        target=a_target("250"),
    )

    runs = [[row.example for row in run] for batch in drawn(archive).batches for run in batch.runs]

    assert runs == [
        ["1"],
        ["2"],
        ["3"],
        numbered(4, 20),
        numbered(21, 248),
        ["249"],
        ["250"],
        ["251"],
        numbered(252, 496),
        ["497"],
        ["498"],
        ["499"],
        ["500"],
    ]


@pytest.mark.parametrize(("length", "together"), [(5, False), (6, True)])
def test_a_short_run_is_drawn_machine_by_machine(length: int, *, together: bool) -> None:
    numbers = numbered(1, length + 1)
    production = a_production(numbers, ["a"])

    archive = an_archive_of(LAMP, a_sighting("oil", numbers[-1]), production=production, target=a_target("a"))

    assert (len(drawn(archive).batches[0].runs) == 2) is together


def test_in_json_every_machine_stands_with_what_was_seen_on_it() -> None:
    archive = an_archive_of(LAMP, OIL_ON_8, ELECTRIC_ON_10, weights={"batch_step": 1})

    told = json.loads(json.dumps(sequence_json(drawn(archive))))

    assert (told["target"], told["earlier"], told["later"]) == ("9", "Oil", "Electric")
    assert told["batches"][1]["examples"][0] == {"example": "5", "chance": None, "seen": []}
    assert told["batches"][2] == {
        "batch": "third",
        "built": "1933",
        "examples": [
            {"example": "9", "chance": 0.5, "seen": []},
            {
                "example": "10",
                "chance": 1.0,
                "seen": [
                    {
                        "values": ["electric"],
                        "against": False,
                        "when": "1934-06",
                        "known_by": "number",
                        "sources": ["ten"],
                        "direct": True,
                        "counts": True,
                        "why_not": None,
                    }
                ],
            },
            {"example": "11", "chance": None, "seen": []},
        ],
    }


sightings = st.lists(
    st.tuples(
        st.sampled_from(("oil", "electric")),
        st.sampled_from(("1", "8", "9", "10", "11", "12")),
        st.sampled_from(("1931", "1934", None)),
        st.sampled_from(("supports", "contradicts")),
    ),
    max_size=6,
)


@settings(max_examples=60, deadline=None)
@given(sightings, st.randoms(use_true_random=False))
def test_the_figure_is_the_same_in_any_order_of_entry_and_fits_its_schema(
    seen: list[tuple[str, str, str | None, str]], shuffle: Random
) -> None:
    entered = [
        a_sighting(value, seen_on(example, when), stance=stance, source=f"s{number}")
        for number, (value, example, when, stance) in enumerate(seen)
    ]
    figure = a_figure(an_archive_of(LAMP, *entered))
    shuffle.shuffle(entered)

    assert a_figure(backwards(an_archive_of(LAMP, *entered))) == figure
    told = None if figure is None else json.loads(json.dumps(sequence_json(figure)))
    assert jsonschema_rs.Draft202012Validator(SCHEMA).is_valid(told)


def test_the_figure_is_drawn_from_the_verdict_alone() -> None:
    archive = an_archive_of(LAMP, OIL_ON_8, ELECTRIC_ON_10)

    assert sequence_of(archive, judged(archive)) == a_figure(archive)


def test_of_a_measure_each_machine_shows_its_own_figure_however_late_it_was_measured() -> None:
    """Nos. 10 and 11, built 1933, measured in 2016 and 2020: 69.9 and 70.1 mm."""
    journal = a_feature(kind="quantity", aspect="dimension", unit="mm")
    archive = an_archive_of(
        journal,
        a_sighting("69.9 mm", seen_on("10", "2016"), how="measured", kind="survey", source="a"),
        a_sighting("70.1 mm", seen_on("11", "2020"), how="measured", kind="survey", source="b"),
    )

    figure = a_figure(archive)

    assert figure is not None
    seen = [(row.example, each.shown, each.counts) for row in figure.batches[2].rows for each in row.observations]
    assert seen == [("10", "“69.9 mm”", True), ("11", "“70.1 mm”", True)]


def test_a_picture_that_its_signs_speak_for_is_drawn_once() -> None:
    """The lamp itself is only implied; the conduit on the cantrail tells electric, always, and never acetylene."""
    options = (
        replace(an_option("electric"), signs=(OptionSign(sign="conduit-on-cantrail", expect=Expected.ALWAYS),)),
        replace(an_option("oil"), signs=(OptionSign(sign="conduit-on-cantrail", expect=Expected.NEVER),)),
    )
    item = an_item("view", "implies", seen=seen_on("10", "1934"), signs=(("conduit-on-cantrail", SignSeen.SEEN),))
    archive = an_archive(
        a_component("headlamp", a_feature(options=options)), a_source("view"), a_claim("electric", item)
    )

    figure = sequence_of(archive, judge_feature(archive, FEATURE))

    assert figure is not None
    (row,) = [row for batch in figure.batches for row in batch.rows if row.observations]
    assert [(each.shown, each.counts, each.direct) for each in row.observations] == [("“Electric”", True, True)]
