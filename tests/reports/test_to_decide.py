"""What whoever decides on a feature chooses from."""

from builders import a_claim, a_component, a_decision, a_feature, against, an_archive, an_item

from provenance.records.archive import Archive
from provenance.reports.to_decide import ToDecide, compose_to_decide, value_words
from provenance.rules.grades import Grade
from provenance.rules.judging import judge_feature

FEATURE = "headlamp/type"


def to_decide(archive: Archive, feature: str = FEATURE) -> ToDecide:
    return compose_to_decide(archive, judge_feature(archive, feature))


def test_the_likeliest_value_comes_first_and_those_that_no_claim_speaks_of_last() -> None:
    archive = an_archive(a_claim("electric", "photo", "drawing"), a_claim("acetylene", "letter"))
    options = [option.id for option in archive.features[FEATURE].options]

    stands = to_decide(archive)

    offered = [each.build for each in stands.offered]
    assert offered[:2] == ["electric", "acetylene"]
    assert sorted(offered) == sorted(options)
    assert [each.is_best for each in stands.offered[:2]] == [True, False]
    assert {(each.grade, each.posterior, each.claims) for each in stands.offered[2:]} == {(Grade.UNSUPPORTED, 0.0, ())}


def test_a_presence_is_offered_both_ways_and_a_text_only_as_claims_say_it() -> None:
    hood, colour = a_feature("hood", "presence"), a_feature("colour", "text")
    archive = an_archive(a_component("headlamp", hood, colour), a_claim("absent", "letter", about="headlamp/hood"))

    assert [each.build for each in to_decide(archive, "headlamp/hood").offered] == ["absent", "present"]
    assert to_decide(archive, "headlamp/colour").offered == ()


def test_each_item_of_a_claim_is_told_with_what_speaks_against_it() -> None:
    items = (an_item("letter", quote="  lit by\nelectricity "), against("drawing"))
    archive = an_archive(a_claim("electric", *items))

    (claim,) = to_decide(archive).offered[0].claims

    assert claim.has_weight
    assert set(claim.items) == {
        f"“{archive.sources['letter'].title}”: “lit by electricity”",
        f"“{archive.sources['drawing'].title}”, against it",
    }


def test_a_long_quotation_is_cut_with_a_mark() -> None:
    archive = an_archive(a_claim("electric", an_item("letter", quote="lamp " * 60)))

    (claim,) = to_decide(archive).offered[0].claims

    assert claim.items[0].endswith("lamp …”")
    assert len(claim.items[0]) < 160


def test_what_is_in_force_and_what_is_proposed_stand_apart_and_a_decision_rests_on_all_of_their_files() -> None:
    archive = an_archive(
        a_claim("electric", "photo"),
        a_decision("one", build="electric"),
        a_decision("two", build="acetylene", status="proposed"),
        a_decision("gone", build="acetylene", status="withdrawn"),
    )

    stands = to_decide(archive)

    assert stands.in_force is not None
    assert (stands.in_force.id, [each.id for each in stands.proposed]) == ("one", ["two"])
    assert stands.files == ("decisions/one.yaml", "decisions/two.yaml", "claims/headlamp-type-electric.yaml")


def test_a_figure_is_offered_in_both_systems_and_as_its_claims_write_it() -> None:
    height = a_feature("height", "quantity", "dimension", unit="mm")
    claim = a_claim("40.5 in", an_item("survey", "measured"), about="headlamp/height")

    (offered,) = to_decide(an_archive(a_component("headlamp", height), claim), "headlamp/height").offered

    assert offered.is_called("40.5 in")
    assert offered.is_called(offered.build)
    assert not offered.is_called("41 in")
    assert ("40.5 in", "40.5 in (1028.70 mm)") in [*offered.wordings, (offered.build, offered.shown)]  # 40.5 x 25.4


def test_a_value_is_read_by_the_name_of_its_option_and_a_figure_in_both_units() -> None:
    height = a_feature("height", "quantity", "dimension", unit="mm")

    assert value_words(a_feature(), "electric") == "Electric"
    assert value_words(a_feature(), "candle") == "candle"
    assert value_words(height, "1 in") == "1 in (25.40 mm)"
    assert value_words(a_feature("colour", "text"), "cream") == "cream"
