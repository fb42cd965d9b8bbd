"""What to look for in a picture, as people and programs are told."""

from typing import Any

from answers import faults_of
from builders import Record, a_claim, a_component, a_feature, a_source, an_archive, an_item, seen_on, shows
from rules.signed import NOT_SEEN, OUT_OF_VIEW, SEEN, a_choice, option_showing

from provenance.records.archive import Archive
from provenance.records.components import Feature, Sign
from provenance.reports.signs import SignsAnswer, signs_json, signs_text
from provenance.reports.standing import LeftOut, Standing
from provenance.rules.cautions import cautions_for
from provenance.rules.judging import judge_feature
from provenance.rules.looking_list import looking_list

WIDE = 1000
LAMP = a_choice(
    option_showing("electric", conduit="always by handbook", tank="sometimes"),
    option_showing("acetylene", conduit="never"),
)


def archive_with(feature: Feature, *records: Record) -> Archive:
    signs = (Sign(id="conduit", name="a steel tube"), Sign(id="tank", name="a tank below the floor"))
    component = a_component("headlamp", feature, a_feature("rim"), signs=signs)
    return an_archive(component, a_source("handbook", "manual"), *records)


def answer_on(feature: Feature, *records: Record, **fields: Any) -> SignsAnswer:
    archive = archive_with(feature, *records)
    return SignsAnswer(
        standing=fields.pop("standing", Standing(archive=archive.title)),
        looking=looking_list(archive, judge_feature(archive, "headlamp/type")),
        titles={source.id: source.title for source in archive.sources.values()},
        **fields,
    )


def a_report(source: str, about: str, **fields: Any) -> Record:
    """A claim of an option whose picture was looked at."""
    return a_claim("oil", an_item(source, "analogy", **fields), about=about, claim_id=f"{source}-claim")


def test_the_page_is_a_list_to_hold_beside_a_photograph() -> None:
    """Two options of which nothing is known: .5 each. Conduit: .713603 bits, .95 for the one or the other.

    The tank: electric sometimes, acetylene not listed: nothing.
    """
    answer = answer_on(
        LAMP,
        a_source("view", shows=(shows("9", "1934", "number"),)),
        a_source("scrap", topics=("headlamp",)),
        a_source("third"),
        a_report("third", "headlamp/rim", page=2, signs=(("conduit", NOT_SEEN),)),
    )

    assert signs_text(answer, WIDE).splitlines() == [
        "Headlamp type (headlamp/type)",
        "Nothing that we hold speaks for any option yet, so all count as equally likely: Electric, Acetylene.",
        "",
        "1. a steel tube (conduit): would tell 0.71 bits",
        "   Electric: always, by “Handbook” (handbook)",
        "   Acetylene: never, and nobody is named who says so",
        "   if it is seen: Electric leads, with about 95 chances in 100",
        "   if its place is in view and it is not there: Acetylene leads, with about 95 chances in 100",
        (
            "   looked for already: in “Third” (third, page 2) its place is in view and it is not there (claim "
            "third-claim; entered for headlamp/rim, so it counts only there)"
        ),
        "",
        "2. a tank below the floor (tank): would tell 0.00 bits",
        "   Electric: sometimes, and nobody is named who says so",
        "   Acetylene: sometimes, since nothing is written down",
        "   if it is seen: no option leads alone (about 50 chances in 100 each)",
        "   if its place is in view and it is not there: no option leads alone (about 50 chances in 100 each)",
        "",
        "The one that would decide most is a steel tube (conduit).",
        (
            "A bit is a measure of doubt: one bit halves it, as the answer to one question between two equally likely "
            "options does; none tells nothing. It is reckoned for a clear picture of this very machine; one of another "
            "machine tells less."
        ),
        (
            "Enter what you see with `provenance claim headlamp/type VALUE --source ID --sign conduit=seen` (or "
            "`=not-seen` where its place is in view, `=out-of-view` where it is not); VALUE is what the picture speaks "
            "for."
        ),
        "",
        "2 photographs and films in which nobody has looked for these signs yet:",
        "  “View” (view): shows this machine, known by its number",
        "  “Scrap” (scrap): tagged for this part",
    ]


def test_programs_are_told_the_same_with_all_figures() -> None:
    """The photograph shows electric, 14 points: .961713; the rest, .038287, is that of acetylene.

    Conduit seen: .961713 x .95 + .038287 x .05 = .915541; then .913627 / .915541 = .997909. Not seen: .084459; then
    .038287 x .95 / .084459 = .430660, electric .569340.
    """
    seen = an_item("view", "shows", seen=seen_on("9", "1934"), page=1, signs=(("conduit", OUT_OF_VIEW),))
    answer = answer_on(LAMP, a_source("view"), a_claim("electric", seen, claim_id="c"))

    told: dict[str, Any] = signs_json(answer)

    assert faults_of(told) == []
    assert (told["answer"], told["feature"], told["name"]) == ("signs", "headlamp/type", "Headlamp type")
    assert told["chances_known"] is True
    assert [(each["option"], each["name"], round(each["chance"], 6)) for each in told["options"]] == [
        ("electric", "Electric", 0.961713),
        ("acetylene", "Acetylene", 0.038287),
    ]
    conduit, tank = told["signs"]
    assert (conduit["sign"], conduit["name"], told["decides_most"]) == ("conduit", "a steel tube", "conduit")
    assert conduit["options"] == [
        {"option": "electric", "expect": "always", "listed": True, "sources": ["handbook"]},
        {"option": "acetylene", "expect": "never", "listed": True, "sources": []},
    ]
    assert [(each["expect"], each["listed"]) for each in tank["options"]] == [("sometimes", True), ("sometimes", False)]
    outcomes = [
        (told_of["option"], round(told_of["chance"], 4), round(told_of["posterior"], 4))
        for told_of in (conduit["if_seen"], conduit["if_not_seen"])
    ]
    assert outcomes == [("electric", 0.9155, 0.9979), ("electric", 0.0845, 0.5693)]
    assert conduit["reported"] == [
        {"claim": "c", "feature": "headlamp/type", "source": "view", "at": {"page": 1}, "seen": "out-of-view"}
    ]
    assert (told["pictures"], told["said"]) == ([], "")
    assert signs_text(answer, WIDE).splitlines()[1] == (
        "As it stands: Electric, about 96 chances in 100; Acetylene, about 4 chances in 100."
    )


def test_a_sign_of_which_two_options_share_the_lead_names_none() -> None:
    told: dict[str, Any] = signs_json(answer_on(LAMP))

    assert [sign["if_seen"]["option"] for sign in told["signs"]] == ["electric", None]


def test_where_all_pictures_were_looked_at_that_is_said() -> None:
    page = signs_text(
        answer_on(LAMP, a_source("view"), a_report("view", "headlamp/type", signs=(("tank", SEEN),))), WIDE
    )

    assert "looked for already: in “View” (view) it is seen (claim view-claim)" in page
    assert page.endswith(
        "No photograph or film is left in which to look: in each that is tagged for this part, or shows a machine, "
        "some sign has been reported."
    )


def test_of_many_pictures_twenty_are_shown_and_all_are_told_to_programs() -> None:
    answer = answer_on(LAMP, *(a_source(f"view-{number:02}", topics=("headlamp",)) for number in range(22)))

    page, told = signs_text(answer, WIDE), signs_json(answer)

    assert page.splitlines()[-2:] == [
        "  “View 19” (view-19): tagged for this part",
        "  and 2 more (`--json` names them all)",
    ]
    pictures = told["pictures"]
    assert isinstance(pictures, list)
    assert pictures[-1]["source"] == "view-21"


def test_one_sign_alone_is_not_said_to_decide_most_and_one_that_tells_nothing_is_said_to() -> None:
    one = a_choice(option_showing("electric", conduit="always"), option_showing("acetylene", conduit="never"))
    idle = a_choice(option_showing("electric", conduit="sometimes"), option_showing("acetylene"))

    assert "decide most" not in signs_text(answer_on(one), WIDE)
    assert "None of these signs would change what is thought now." in signs_text(answer_on(idle), WIDE)


def test_without_signs_the_page_says_what_to_do_first_and_nothing_else() -> None:
    answer = answer_on(a_choice(option_showing("electric"), option_showing("oil")), no_signs="Write some down.")

    assert signs_text(answer, WIDE) == "Headlamp type (headlamp/type)\nWrite some down."
    assert signs_json(answer)["said"] == "Write some down."
    assert faults_of(signs_json(answer)) == []


def test_cautions_and_what_takes_no_part_stand_first() -> None:
    archive = archive_with(LAMP)
    left_out = Standing(archive="Railcar No. 9", left_out=(LeftOut(file="claims/c.yaml", why="no value"),))
    answer = answer_on(LAMP, standing=left_out, cautions=cautions_for(archive, ["asbestos"]))

    lines = signs_text(answer, WIDE).splitlines()

    assert lines[0].startswith("Not the whole archive: one record takes no part in this answer")
    assert lines[3].startswith("CAUTION, asbestos: ")
    assert lines.index("Headlamp type (headlamp/type)") > 3
    assert faults_of(signs_json(answer)) == []


def test_no_line_is_wider_than_the_page() -> None:
    answer = answer_on(LAMP, a_source("view", shows=(shows("9", "1934", "number"),), topics=("headlamp",)))

    assert max(map(len, signs_text(answer, 60).splitlines())) <= 60
