from dataclasses import replace
from decimal import Decimal

import pytest
from builders import a_claim, a_component, a_decision, a_feature, an_archive
from public_archives import CANARIES, an_archive_that_holds_back, an_open_source, leaked, texts_in
from reports.appendices import a_whole_archive, the_appendix, with_panel

from provenance.records.decisions import ModernChange
from provenance.records.kinds import Access, Publish
from provenance.records.sources import Rights
from provenance.reports.appendix_words import CLAIMS, PARTS, REASONS
from provenance.store.schema_files import read_schema

TYPE = "headlamp/type"


def test_each_statement_has_numbered_citations_of_what_speaks_for_it_and_against_it() -> None:
    appendix = the_appendix(a_whole_archive())

    (first, second) = appendix.statements
    (lamp, hood) = first.accounts

    assert lamp.name == "Headlamp as it was: headlamp type"
    assert lamp.best is not None
    assert lamp.best.value == "Electric"
    assert [each.mark for each in lamp.best.supported] == [
        "[1, page 14]",
        "[2, page 1]",
        "[3, at 00:12:31, Ada Penrith speaking]",
    ]
    assert [each.mark for each in lamp.best.opposed] == ["[1, page 15]"]
    assert [each.value for each in lamp.others] == ["Oil"]
    assert hood.best is None
    assert second.accounts == ()


def test_a_source_is_cited_with_maker_title_kind_date_and_holder() -> None:
    appendix = the_appendix(a_whole_archive())

    assert [each.text for each in appendix.sources] == [
        "Tamlin Works. Handbook. Manual, issue 2, about 1933.",
        "as it was. as it was. Photograph, 12 June 1934. Held by as it was, as it was.",
        "Ada Penrith. Talk. Oral history, undated.",
    ]
    assert {each.credit for each in appendix.sources} == {"Orrin Library. Copyright Not Evaluated (CNE)."}


def test_where_no_credit_line_is_written_the_holder_is_credited_else_the_maker() -> None:
    bare = Rights(publish=Publish.ALLOWED)
    sources = (
        an_open_source("a", "manual", rights=bare, holder="Orrin Library"),
        an_open_source("b", "manual", rights=None, creator="Tamlin Works", reference="MS 4"),
        an_open_source("c", "manual", rights=bare, title="Rules"),
    )
    archive = with_panel(an_archive(*sources, a_claim("electric", "a", "b", "c")), ("Lit.", (TYPE,)))

    appendix = the_appendix(archive, draft=True)

    assert [each.credit for each in appendix.sources] == ["Orrin Library.", "Tamlin Works.", "Rules."]
    assert appendix.sources[1].text == "Tamlin Works. B. Manual, undated. MS 4."
    assert [each.source for each in appendix.not_cleared] == ["b"]


def test_what_is_represented_is_said_with_the_reason() -> None:
    archive = a_whole_archive()

    assert the_appendix(archive).period == "No. 9 as it was in June 1934"
    assert the_appendix(archive).why is None
    assert the_appendix(replace(archive, target=None)).period == ""


def test_what_the_object_claims_to_be_is_said_and_defined() -> None:
    appendix = the_appendix(a_whole_archive())

    assert appendix.object == "Velling petrol railcar, a reproduction"
    assert appendix.definitions[0] == ("reproduction", CLAIMS["reproduction"])
    assert the_appendix(replace(a_whole_archive(), subject=None)).object == "Railcar No. 9"


def test_every_grade_that_is_printed_is_defined_with_the_chances_that_the_team_asks_for() -> None:
    ours = replace(a_whole_archive(), weights={"established": Decimal("0.9")})

    said = dict(the_appendix(ours).definitions)

    assert set(said) == {"reproduction", "established", "unsupported", "outweighed", "independent witness"}
    assert "at least 90 chances in 100" in said["established"]


def test_conjecture_and_what_is_known_by_comparison_alone_are_declared() -> None:
    appendix = the_appendix(a_whole_archive())

    nothing = "nothing that can be shown here supports"
    assert appendix.conjecture == (
        "Headlamp as it was: lagging, “glass cord”, is inferred by comparison with other machines.",
        f"Headlamp as it was: hood: {nothing} any answer; whatever is shown is conjecture.",
        f"Headlamp as it was: paint, built as “as it was”, is conjecture: {nothing} it.",
    )


def test_conjecture_in_public_that_rests_on_what_is_withheld_says_so() -> None:
    appendix = the_appendix(an_archive_that_holds_back())

    (finish,) = appendix.conjecture

    assert finish.startswith("Headlamp: finish: nothing that can be shown here supports any answer")
    assert finish.endswith(". A further source is held in confidence.")


def test_changes_that_the_present_day_asks_for_are_declared_with_the_reason_and_the_mark_of_the_new_part() -> None:
    (change,) = the_appendix(a_whole_archive()).changes

    assert change == (
        "Headlamp as it was: lagging, built as “glass wool” for safety: as it was. The evidence speaks for “glass "
        "cord”. The new part is marked: R9."
    )


def test_a_part_that_is_not_shown_declares_nothing() -> None:
    archive = a_whole_archive()
    hidden = replace(archive.components["headlamp"], made_as="not-represented")

    appendix = the_appendix(replace(archive, components={"headlamp": hidden}))

    assert [part.words for part in appendix.parts] == ["not shown"]
    assert appendix.changes == ()


def test_parts_that_only_a_statement_speaks_of_are_named_too() -> None:
    lamp, board = a_component(), a_component("board", a_feature("form", "text"), name="Roof board")
    archive = with_panel(
        an_archive(lamp, board), ("It had boards.", ("board/form", "board/gone")), components=("gone",)
    )

    appendix = the_appendix(archive)

    assert [(part.name, part.words) for part in appendix.parts] == [("Roof board", "not recorded yet")]
    assert len(appendix.statements[0].accounts) == 1


def test_what_is_withheld_is_told_as_that_and_no_more() -> None:
    appendix = the_appendix(an_archive_that_holds_back())

    assert appendix.statements[0].accounts[0].remarks == (
        "A source held privately supports this too.",
        "A further source is held in confidence.",
    )
    assert leaked(texts_in(appendix)) == set()
    assert CANARIES


def test_cautions_of_the_parts_and_of_the_sources_shown_come_with_it() -> None:
    appendix = the_appendix(a_whole_archive())

    assert {caution.hazard for caution in appendix.cautions} == {"asbestos", "nitrate-film"}


@pytest.mark.parametrize(
    ("words", "schema", "path"),
    [
        (CLAIMS, "archive", ("properties", "subject", "properties", "claims_to_be", "enum")),
        (PARTS, "component", ("properties", "made_as", "enum")),
        (REASONS, "decision", ("properties", "modern_change", "properties", "reason", "enum")),
    ],
)
def test_every_defined_word_of_the_records_has_words_for_visitors(
    words: dict[str, str], schema: str, path: tuple[str, ...]
) -> None:
    listed: object = read_schema(schema)
    for step in path:
        assert isinstance(listed, dict)
        listed = listed[step]

    assert list(words) == listed


def test_a_modern_change_of_what_nothing_supports_is_declared_as_a_change_alone() -> None:
    change = a_decision("d", build="led", modern_change=ModernChange(reason="cost"))
    archive = with_panel(an_archive(a_component(), change), ("Lit.", (TYPE,)))

    appendix = the_appendix(archive)

    assert appendix.conjecture == ()
    assert appendix.changes == ("Headlamp: headlamp type, built as “led” for its cost.",)


def test_several_sources_held_privately_are_counted() -> None:
    held = [an_open_source(name, "manual", access=Access.TEAM) for name in ("b", "c")]
    claim = a_claim("electric", "a", "b", "c")
    archive = with_panel(an_archive(an_open_source("a", "manual"), *held, claim), ("Lit.", (TYPE,)))

    (account,) = the_appendix(archive).statements[0].accounts

    assert account.remarks[0] == "2 sources held privately support this too."
