"""What would lift a grade, found by trying."""

from dataclasses import replace
from pathlib import Path

import pytest
from builders import (
    FEATURE,
    LAMPS,
    a_claim,
    a_component,
    a_date,
    a_decision,
    a_feature,
    a_pair,
    a_source,
    against,
    an_archive,
    an_item,
    applies,
    common_over,
    seen_on,
)
from picture_pairs import alike
from reports.answering import whole_archive

from provenance.records.archive import Archive
from provenance.records.claims import AppliesTo, Claim
from provenance.records.components import Feature
from provenance.records.examples import ExampleSet
from provenance.records.production import Batch, Production
from provenance.rules.checks import usable_part
from provenance.rules.grades import STRENGTH, Grade
from provenance.rules.hoped_finds import as_records, hoped_finds, in_words
from provenance.rules.judging import judge_all, judge_feature
from provenance.rules.lifting import WEAK, Lift, Lifter
from provenance.rules.verdicts import Verdict
from provenance.store.loading import load

SAMPLE = Path(__file__).parents[2] / "sample_archive" / "archive"


def lifts_of(archive: Archive, feature: str = FEATURE) -> list[tuple[str, str]]:
    lifting = Lifter(archive).lifting_of(judge_feature(archive, feature))
    return [(lift.what, lift.becomes.value) for lift in lifting.lifts]


def photographed(source: str, example: str = "9") -> Claim:
    return a_claim("acetylene", an_item(source, "shows", seen=seen_on(example)), claim_id=f"by-{source}")


def test_the_weak_grades_are_all_below_probable() -> None:
    assert {grade.value for grade in WEAK} == {"unsupported", "contested", "inferred", "uncorroborated", "possible"}
    assert set(STRENGTH) == set(Grade) - {Grade.OUTWEIGHED}


def test_what_nothing_supports_is_lifted_by_a_letter_and_settled_by_the_part_itself() -> None:
    """One letter is one witness: uncorroborated. The part itself, 16 points, 97.5 %, needs no second witness."""
    assert lifts_of(an_archive()) == [
        ("a letter of the time that says what it was on No. 9", "uncorroborated"),
        ("the part itself from No. 9, known by its number, that shows it", "established"),
    ]


def test_a_single_drawing_is_confirmed_by_a_letter_of_the_time() -> None:
    """12 points and 8: 20, 100 : 1, 99 %, two witnesses; nobody saw it as built, so no more than probable."""
    archive = an_archive(a_claim("acetylene", "drawing"))

    assert lifts_of(archive) == [("a letter of the time that says “Acetylene” of No. 9", "probable")]


def test_what_is_inferred_from_another_batch_is_lifted_by_a_letter() -> None:
    """A photograph of No. 5, T_.75(14) = 4.3 points, and a letter, 8: 12.3, 17 : 1, 94 %, two witnesses."""
    archive = an_archive(a_source("no-5"), photographed("no-5", "5"))
    assert judge_feature(archive, FEATURE).grade is Grade.INFERRED

    assert lifts_of(archive) == [("a letter of the time that says “Acetylene” of No. 9", "probable")]


def test_a_contest_of_three_needs_more_than_a_letter() -> None:
    """Three drawings of 12 points each for one lamp each; with x points more the first has 10^(x/10) / (10^(x/10) + 2).

    A letter, 8: 6.3 / 8.3, 76 %, and each rival 12 %, under 15: possible. A photograph of a sister, 8.2: 6.7 / 8.7,
    77 %. A report, 9: 7.9 / 9.9, 79.9 %, just short. A manual, 10.0: 10.0 / 12.0, 83 %: probable. (The 1 for none of
    these is a sixteenth of a rival.)
    """
    drawn = [a_claim(option.id, f"drawing-{option.id}") for option in LAMPS]

    assert lifts_of(an_archive(*drawn)) == [
        ("a letter of the time that says “Acetylene” of No. 9", "possible"),
        ("a page of a manual for the batch of No. 9 that gives “Acetylene”", "probable"),
    ]


def test_two_finds_of_a_kind_are_tried_where_one_does_not_settle_it() -> None:
    """Where probable asks for 99.99 %, 40 points: a drawing, 12, and two photographs by number, 28, come to it."""
    archive = an_archive(a_claim("acetylene", "drawing"), weights={"probable": 0.9999, "established": 0.99999})

    assert lifts_of(archive) == [
        ("a letter of the time that says “Acetylene” of No. 9", "possible"),
        (
            "a photograph of No. 9 by its number that shows “Acetylene”, and a second one independent of it,",
            "probable",
        ),
    ]


def test_nothing_lifts_where_no_kind_of_source_counts() -> None:
    kinds = ["letter", "photograph", "report", "manual", "drawing", "artefact"]

    assert lifts_of(an_archive(weights={f"base.{kind}": 0 for kind in kinds})) == []


def test_what_is_probable_can_still_be_established() -> None:
    """Two drawings: as designed. A letter saw nothing built; a report did."""
    archive = an_archive(a_claim("acetylene", "drawing", "other-drawing"))
    assert judge_feature(archive, FEATURE).grade is Grade.PROBABLE

    assert lifts_of(archive) == [("a report of the time that says “Acetylene” of No. 9", "established")]


def test_what_is_established_cannot_be_lifted() -> None:
    archive = an_archive(a_source("one"), a_source("two"), photographed("one"), photographed("two"))

    assert judge_feature(archive, FEATURE).grade is Grade.ESTABLISHED
    assert lifts_of(archive) == []


def test_a_ruling_that_asks_for_no_journey_comes_first_and_a_find_after_it() -> None:
    archive = an_archive(
        a_source("one"), a_source("two"), photographed("one"), photographed("two"), a_pair("one", "two")
    )

    (ruling, find) = Lifter(archive).lifting_of(judge_feature(archive, FEATURE)).lifts

    assert ruling == Lift(
        what="ruling, if it is so, that “One” and “Two” are no copies of one another",
        becomes=Grade.ESTABLISHED,
        at_home=True,
    )
    assert not find.at_home


def test_pairs_that_count_only_together_are_ruled_on_together() -> None:
    """Each print goes back to a negative of its own; while one of the pairs is open they share an ancestor."""
    archive = an_archive(
        *(a_source(name, of=[f"print:{name}-negative"]) for name in ("one", "two")),
        *(a_source(f"{name}-negative") for name in ("one", "two")),
        photographed("one"),
        photographed("two"),
        a_pair("one", "two"),
        a_pair("one-negative", "two-negative"),
    )

    what, becomes = lifts_of(archive)[0]

    assert becomes == "established"
    assert "“One” and “Two” are no copies of one another and “One negative” and “Two negative”" in what


def test_of_a_family_only_what_lies_between_what_is_cited_is_ruled_on() -> None:
    """One is like Two, and both are cited; Two is like Three, which is not."""
    archive = an_archive(
        *(a_source(name) for name in ("one", "two", "three")),
        *(photographed(name) for name in ("one", "two")),
        alike("one", "two"),
        alike("two", "three"),
    )

    offered = [what for what, _ in lifts_of(archive) if "copies" in what]

    assert offered == ["ruling, if it is so, that “One” and “Two” are no copies of one another"]


def test_a_ring_of_pictures_is_parted_by_all_its_rulings_together() -> None:
    """Fourteen pictures, each like the next, the last like the first: no one pair parts the two that are cited."""
    names = [f"print-{number}" for number in range(14)]
    archive = an_archive(
        *(a_source(name) for name in names),
        *(photographed(name) for name in (names[0], names[7])),
        *(alike(name, names[(number + 1) % 14]) for number, name in enumerate(names)),
    )

    (ruling,) = [what for what, _ in lifts_of(archive) if "copies" in what]

    assert ruling.endswith("and 10 more")


@pytest.mark.parametrize("ruling", ["copy", "distinct"])
def test_a_pair_that_was_ruled_on_is_not_offered_again(ruling: str) -> None:
    archive = an_archive(a_source("one"), a_source("two"), photographed("one"), a_pair("one", "two", ruling))

    assert not any("copies" in what for what, _ in lifts_of(archive))


def test_a_decision_that_sets_the_rival_aside_is_known_but_lifts_nothing() -> None:
    records = [a_claim("acetylene", "drawing"), a_claim("electric", "other-drawing")]
    aside = a_decision(set_aside=[("headlamp-type-electric", "it is of a later year")])
    one = an_archive(*records, aside)

    lifting = Lifter(one).lifting_of(judge_feature(one, FEATURE))
    two = an_archive(*records, a_decision(set_aside=[]))
    three = an_archive(*records)

    assert judge_feature(one, FEATURE).grade is Grade.CONTESTED
    assert lifting.set_aside
    assert [each.becomes for each in lifting.lifts] == [Grade.PROBABLE]
    assert not Lifter(two).lifting_of(judge_feature(two, FEATURE)).set_aside
    assert not Lifter(three).lifting_of(judge_feature(three, FEATURE)).set_aside


def test_where_the_batch_is_this_machine_alone_no_sister_is_hoped_for() -> None:
    """A drawing and a letter of No. 9 make it probable; established it is by who saw it as built: a report.

    In the ladder a sister's photograph stands between letter and report; alone in its batch the machine has none.
    """
    alone = Production(batches=(Batch(batch="third", examples=("9",), built=a_date("1933")),))
    archive = an_archive(a_claim("acetylene", "drawing", "letter"), a_source("letter", "letter"), production=alone)

    assert lifts_of(archive) == [("a report of the time that says “Acetylene” of No. 9", "established")]


def test_features_of_one_sort_of_which_nothing_is_known_are_tried_once() -> None:
    component = a_component(
        "headlamp", a_feature("rim", "text"), a_feature("lens", "text"), a_feature("hood", "presence")
    )
    archive = an_archive(component)
    lifter = Lifter(archive)

    rim, lens, hood = (
        lifter.lifting_of(judge_feature(archive, f"headlamp/{name}")) for name in ("rim", "lens", "hood")
    )

    assert rim is lens
    assert hood is not rim
    assert [lift.what for lift in rim.lifts] == [lift.what for lift in hood.lifts]


def test_only_rulings_are_tried_while_no_machine_is_named() -> None:
    assert lifts_of(replace(an_archive(), target=None)) == []


@pytest.mark.parametrize(
    "asked",
    [
        a_feature("x", "presence", "presence"),
        a_feature("x", "quantity", "dimension", unit="mm"),
        a_feature("x", "quantity", "dimension"),
        a_feature("x", "text"),
        a_feature("x", options=()),
        a_feature("x"),
    ],
)
def test_every_kind_of_feature_of_which_nothing_is_known_can_be_lifted(asked: Feature) -> None:
    archive = an_archive(a_component("headlamp", asked))

    assert [becomes for _, becomes in lifts_of(archive, "headlamp/x")] == ["uncorroborated", "established"]


def test_a_value_against_which_something_speaks_is_not_the_one_hoped_for() -> None:
    """Where something speaks against every option the first is taken, as good as any."""
    spoken = [a_claim(value, against(f"no-{value}")) for value in ("acetylene", "electric")]
    everything = [*spoken, a_claim("oil", against("no-oil"))]

    assert lifts_of(an_archive(*spoken))[0][1] == "uncorroborated"
    assert lifts_of(an_archive(*everything))[0][1] == "uncorroborated"


def test_a_figure_is_confirmed_as_it_was_written() -> None:
    archive = an_archive(
        a_component("headlamp", a_feature("bore", "quantity", "dimension", unit="mm")),
        a_claim("32 mm", "drawing", about="headlamp/bore"),
    )

    assert [becomes for _, becomes in lifts_of(archive, "headlamp/bore")] == ["probable"]


def test_a_sister_counts_for_more_where_parts_are_interchangeable() -> None:
    """By the word of a drawing No. 10's lamp is No. 9's; features without a claim are then tried each for itself."""
    plain = an_archive()
    common = an_archive(a_component(common_to=(common_over("9..11", "parts-list"),)), a_source("parts-list", "manual"))

    assert lifts_of(common) == lifts_of(plain)


def test_features_without_a_claim_are_answered_alike_whichever_is_asked_first() -> None:
    archive = whole_archive()
    shared = Lifter(archive)

    for verdict in judge_all(archive).values():
        assert shared.lifting_of(verdict) == Lifter(archive).lifting_of(verdict)


def entered(archive: Archive, verdict: Verdict, lift: Lift) -> Archive | None:
    """The whole archive with the find entered by hand; None for a ruling or two finds."""
    assert archive.target is not None
    named = {in_words(find, archive.target.example, verdict.shown): find for find in hoped_finds(verdict.asked)}
    if lift.what not in named or verdict.best is None:
        return None
    records = as_records(named[lift.what], "zz-found", archive.production, archive.target)
    assert records is not None
    source, item = records
    first = archive.claims[verdict.best.claims[0]]
    to = AppliesTo(examples=ExampleSet(("9",)))
    claim = replace(first, id="zz-found", applies_to=to, evidence=(item,), reasoning=None)
    return replace(archive, sources={**archive.sources, source.id: source}, claims={**archive.claims, claim.id: claim})


def test_in_the_sample_archive_the_find_once_entered_gives_the_grade_that_was_foretold() -> None:
    archive, _ = usable_part(load(SAMPLE).archive)
    lifter, tried = Lifter(archive), 0

    for verdict in judge_all(archive).values():
        for lift in lifter.lifting_of(verdict).lifts:
            after = entered(archive, verdict, lift)
            if after is not None:
                tried += 1
                assert judge_feature(after, verdict.feature).grade is lift.becomes, verdict.feature

    assert tried >= 20


def test_a_broken_reading_does_not_become_what_is_hoped_for() -> None:
    """The reading by id first is `acet[...]`; what is sought is the whole wording that it fits."""
    archive = an_archive(
        a_component("headlamp", a_feature("type", "text")),
        a_claim("acet[...]", "worn-plate", claim_id="a-broken"),
        a_claim("acetylene", "drawing", claim_id="b-whole", to=applies("all")),
    )

    verdict = judge_feature(archive, FEATURE)

    assert verdict.value == "acetylene"
    assert all("“acetylene”" in what for what, _ in lifts_of(archive))
