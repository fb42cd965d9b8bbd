from dataclasses import replace
from decimal import Decimal

import pytest
from builders import BY, TODAY, a_claim, a_component, a_decision, a_feature, an_archive, an_item, applies, seen_on
from public_archives import CANARIES, an_archive_that_holds_back, an_open_source, leaked, texts_in
from reports.appendices import (
    a_whole_archive,
    marks_of,
    plain_text,
    supported,
    the_account,
    the_appendix,
    with_panel,
)

from provenance.records.claims import At
from provenance.records.decisions import ModernChange, Query
from provenance.records.kinds import Access, Publish, SourceKind
from provenance.records.regions import parse_time_span
from provenance.records.sources import Rights
from provenance.reports.appendix_words import CLAIMS, CLASSES, PARTS, REASONS
from provenance.store.schema_files import read_schema

TYPE = "headlamp/type"


def test_each_statement_has_numbered_citations_of_what_speaks_for_it_and_against_it_by_class_of_evidence() -> None:
    appendix = the_appendix(a_whole_archive())

    (first, second) = appendix.statements
    (lamp, hood) = first.accounts

    assert lamp.name == "Headlamp as it was: headlamp type"
    assert lamp.best is not None
    assert lamp.best.value == "Electric"
    assert supported(lamp.best) == {
        "In writing": ["[1, p. 14]"],
        "In pictures": ["[2]"],
        "As told by people": ["[3, at 00:12:31, Ada Penrith speaking]"],
    }
    assert marks_of(lamp.best.opposed) == ["[1, p. 15]"]
    assert [each.value for each in lamp.others] == ["Oil"]
    assert supported(lamp.others[0]) == {"In writing, of another machine": ["[1]"]}
    assert hood.best is None
    assert second.accounts == ()


def test_a_source_is_cited_with_maker_title_kind_date_and_holder() -> None:
    appendix = the_appendix(a_whole_archive())

    assert appendix.numbered
    assert [plain_text(each.reference) for each in appendix.sources] == [
        "Tamlin Works. Handbook. Manual, issue 2, about 1933.",
        "as it was. as it was. Photograph, 12 June 1934. Held by as it was, as it was.",
        "Ada Penrith. Talk. Recollection, undated.",
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
    assert plain_text(appendix.sources[1].reference) == "Tamlin Works. B. Manual, undated. MS 4."
    assert [each.source for each in appendix.not_cleared] == ["b"]


def test_what_is_represented_is_said_with_the_reason() -> None:
    archive = a_whole_archive()

    assert the_appendix(archive).period == "No. 9 as it was in June 1934"
    assert the_appendix(archive).why is None
    assert the_appendix(replace(archive, target=None)).period == ""


def test_what_the_object_claims_to_be_is_said_and_defined() -> None:
    appendix = the_appendix(a_whole_archive())

    assert appendix.object == "Velling petrol railcar, a reproduction"
    assert appendix.definitions[0] == appendix.claimed == ("reproduction", CLAIMS["reproduction"])
    assert the_appendix(replace(a_whole_archive(), subject=None)).claimed is None
    assert the_appendix(replace(a_whole_archive(), subject=None)).object == "Railcar No. 9"


def test_every_grade_that_is_printed_is_defined_with_the_chances_that_the_team_asks_for() -> None:
    ours = replace(a_whole_archive(), weights={"established": Decimal("0.9")})

    said = dict(the_appendix(ours).definitions)

    grades = {"established", "inferred", "unsupported", "outweighed"}
    assert set(said) == {"reproduction", *grades, "independent witness"}
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

    assert [(part.words, part.standings) for part in appendix.parts] == [("not shown", ())]
    assert appendix.changes == ()


def test_parts_that_only_a_statement_speaks_of_are_named_too() -> None:
    lamp, board = a_component(), a_component("board", a_feature("form", "text"), name="Roof board")
    archive = with_panel(
        an_archive(lamp, board), ("It had boards.", ("board/form", "board/gone")), components=("gone",)
    )

    appendix = the_appendix(archive)

    assert [(part.name, part.words) for part in appendix.parts] == [
        ("Roof board", "not recorded yet whether it is an original or newly made")
    ]
    assert len(appendix.statements[0].accounts) == 1


def test_what_is_withheld_is_told_as_that_and_no_more() -> None:
    appendix = the_appendix(an_archive_that_holds_back())

    assert appendix.statements[0].accounts[0].withheld == (
        "A source held privately supports this too.",
        "A further source is held in confidence.",
    )
    assert {"held privately", "held in confidence"} <= {word for word, _ in appendix.definitions}
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

    assert account.withheld[0] == "2 sources held privately support this too."


def test_every_kind_of_source_belongs_to_a_class_of_evidence() -> None:
    assert set(CLASSES) == set(SourceKind)


def test_of_each_part_it_is_said_what_is_shown_and_how_that_is_known() -> None:
    """Of each feature a status, as charters for reconstructions ask: known of it, by parallel, conjecture, modern."""
    (part,) = the_appendix(a_whole_archive()).parts

    assert part.words == "newly made, after the evidence"
    assert [(each.name, each.shown, each.known) for each in part.standings] == [
        (
            "Headlamp type",
            "not decided yet; the evidence speaks for \u201cElectric\u201d",
            "from evidence of this very machine; established, on 3 independent witnesses",
        ),
        ("Lagging", "glass wool", "changed for the present day; the evidence speaks for \u201cglass cord\u201d"),
        ("Hood", "not decided yet", "nothing that can be shown here supports any answer"),
        ("Paint", "as it was", "conjecture"),
    ]


@pytest.mark.parametrize("made_as", ["original", "conserved-original"])
def test_of_an_original_part_it_is_said_that_it_is_the_part_itself(made_as: str) -> None:
    archive = a_whole_archive()
    kept = replace(archive.components["headlamp"], made_as=made_as)

    (part,) = the_appendix(replace(archive, components={"headlamp": kept})).parts

    assert [(each.shown, each.known) for each in part.standings] == [
        ("Electric", "the original part itself"),
        ("glass cord", "the original part itself"),
        ("as it survives", "the original part itself"),
        ("as it survives", "the original part itself"),
    ]


@pytest.mark.parametrize(
    ("covered", "known"),
    [
        ("9", "from evidence of this very machine; uncorroborated, on one independent witness"),
        ("all", "from evidence of a group of machines with this one among them; uncorroborated, on one independent"),
        ("10", "by comparison with a sister machine of its batch; uncorroborated, on one independent witness"),
        ("3", "by comparison with other machines"),
    ],
)
def test_how_near_the_evidence_comes_to_the_machine_is_said(covered: str, known: str) -> None:
    built = a_decision("d", build="electric")
    claim = a_claim("electric", "a", to=covered)
    archive = with_panel(an_archive(a_component(), an_open_source("a", "manual"), claim, built), ("Lit.", (TYPE,)))

    (standing,) = the_appendix(archive).parts[0].standings

    assert standing.shown == "Electric"
    assert standing.known.startswith(known)


def test_a_build_against_the_evidence_says_what_the_evidence_speaks_for() -> None:
    built = a_decision("d", build="oil")
    claims = a_claim("electric", "a", "c"), a_claim("oil", "b", to="3")
    sources = [an_open_source(each, "manual") for each in ("a", "b", "c")]
    archive = with_panel(an_archive(a_component(), *sources, *claims, built), ("Lit.", (TYPE,)))

    (standing,) = the_appendix(archive).parts[0].standings

    assert standing.shown == "Oil"
    assert standing.known.endswith("; the evidence speaks for \u201cElectric\u201d")
    assert the_account(archive).remarks == (
        "Here it is shown as \u201cOil\u201d, which is not what the evidence speaks for most.",
    )
    assert the_appendix(archive).conjecture == (
        (
            "Headlamp: headlamp type, built as \u201cOil\u201d, is in doubt: the evidence speaks more for "
            "\u201cElectric\u201d."
        ),
    )


def test_analogy_other_machines_and_late_accounts_are_flagged() -> None:
    sources = [
        an_open_source("a", "manual"),
        an_open_source("b", "manual"),
        an_open_source("c", "letter", created="1980", creator="A. Smith"),
        an_open_source("d", "artefact"),
    ]
    claim = a_claim(
        "electric",
        an_item("a", "analogy"),
        an_item("b", applies_to=applies("3")),
        an_item("c"),
        an_item("d", "shows", seen=seen_on("9", "1934")),
    )

    best = the_account(with_panel(an_archive(a_component(), *sources, claim), ("Lit.", (TYPE,)))).best

    assert supported(best) == {
        "In writing, by analogy": ["[1]"],
        "In writing, of another machine": ["[2]"],
        "In writing, long afterwards": ["[3]"],
        "On what survives": ["[4]"],
    }


def test_designs_that_were_never_built_are_shown_as_that_and_their_value_is_not_lost() -> None:
    sources = [
        an_open_source("a", "manual"),
        an_open_source("b", "drawing", executed=False),
        an_open_source("c", "drawing", executed=False),
    ]
    claims = a_claim("electric", "a", "b"), a_claim("oil", "c")
    archive = with_panel(an_archive(a_component(), *sources, *claims), ("Lit.", (TYPE,)))

    account = the_account(archive)

    assert account.best is not None
    assert marks_of(account.best.unbuilt) == ["[2]"]
    assert [(each.value, each.sure, each.supported, marks_of(each.unbuilt)) for each in account.others] == [
        ("Oil", "", (), ["[3]"])
    ]
    assert "design never built" in dict(the_appendix(archive).definitions)
    assert "design never built" not in dict(the_appendix(a_whole_archive()).definitions)


def test_sources_that_are_not_independent_are_said_to_count_as_fewer() -> None:
    sources = an_open_source("a", "manual"), an_open_source("b", "manual", of=["facsimile:a"])
    archive = with_panel(an_archive(a_component(), *sources, a_claim("electric", "a", "b")), ("Lit.", (TYPE,)))

    best = the_account(archive).best

    assert best is not None
    assert best.counted == "These 2 sources are not all independent of one another: they count as one witness."
    whole = the_account(a_whole_archive()).best
    assert whole is not None
    assert whole.counted == ""


def test_how_new_parts_are_marked_is_said_whether_they_depart_from_the_evidence_or_not() -> None:
    built = a_decision("d", build="electric", stamp="R9 on the rim.")
    archive = with_panel(an_archive(a_component(), built), ("Lit.", (TYPE,)))

    assert the_appendix(archive).marked == ("Headlamp: headlamp type: R9 on the rim.",)
    assert the_appendix(a_whole_archive()).marked == ("Headlamp as it was: lagging: R9.",)


def test_what_may_never_have_been_together_is_declared() -> None:
    """One value is stated for No. 3 alone, the other for the machine represented alone: no machine had both."""
    part = a_component("headlamp", a_feature(), a_feature("lagging", "text", "material", name="Lagging"))
    sources = an_open_source("a", "manual"), an_open_source("b", "manual")
    claims = a_claim("electric", "a", to="9"), a_claim("cord", "b", about="headlamp/lagging", to="3")
    builds = a_decision("d", build="electric"), a_decision("e", "headlamp/lagging", build="cord")
    archive = with_panel(an_archive(part, *sources, *claims, *builds), ("Lit.", (TYPE,)))

    (said,) = the_appendix(archive).never_together

    assert said.startswith("Headlamp: lagging: no source says that this and all else that is chosen were ever together")
    assert the_appendix(a_whole_archive()).never_together == ()


def test_a_page_is_named_by_its_printed_number_else_counted_and_not_at_all_where_there_are_none() -> None:
    sources = an_open_source("a", "manual"), an_open_source("b"), an_open_source("c", "artefact")
    claim = a_claim(
        "electric",
        an_item("a", at=At(page=14, page_label="xii")),
        an_item("b", page=1),
        an_item("b", page=2),
        an_item("c", page=1),
    )
    archive = with_panel(an_archive(a_component(), *sources, claim), ("Lit.", (TYPE,)))

    best = the_account(archive).best

    assert [mark for marks in supported(best).values() for mark in marks] == ["[1, p. xii]", "[2]", "[2, p. 2]", "[3]"]
    assert the_appendix(archive).names_pages


def test_a_stretch_of_a_recording_is_told_to_the_second() -> None:
    tape = an_open_source("a", "oral-history")
    claim = a_claim("electric", an_item("a", at=At(time=parse_time_span("01:02:03.500/01:02:09"))))
    archive = with_panel(an_archive(a_component(), tape, claim), ("Lit.", (TYPE,)))

    assert supported(the_account(archive).best) == {"As told by people": ["[1, at 01:02:03 to 01:02:09]"]}
    assert not the_appendix(archive).names_pages


def test_by_name_and_date_each_mark_leads_to_its_source_in_the_sorted_list() -> None:
    appendix = the_appendix(a_whole_archive(), style="iso-690-author-date")

    titles = {each.anchor: each.title for each in appendix.sources}
    lamp = appendix.statements[0].accounts[0].best

    assert not appendix.numbered
    assert [each.title for each in appendix.sources] == ["Talk", "as it was", "Handbook"]
    assert lamp is not None
    led = {run.to: plain_text(each.mark) for group in lamp.supported for each in group.citations for run in each.mark}
    assert {titles[anchor]: mark for anchor, mark in led.items()} == {
        "Handbook": "(Tamlin Works, about 1933, p. 14)",
        "as it was": "(as it was, 12 June 1934)",
        "Talk": "(Ada Penrith, undated, at 00:12:31, Ada Penrith speaking)",
    }


def test_a_panel_that_names_nothing_has_an_appendix_that_says_nothing_wrong() -> None:
    appendix = the_appendix(with_panel(an_archive(a_component()), components=()))

    assert (appendix.parts, appendix.statements, appendix.sources, appendix.definitions[1:]) == ((), (), (), ())


def test_a_source_says_what_it_was_made_from_and_what_was_done_to_it_but_nothing_of_what_is_withheld() -> None:
    sources = [
        an_open_source("a", of=["print:b", "crop:c"], altered="retouched"),
        an_open_source("b", title="Plate 4"),
        an_open_source("c", title="Secret", access=Access.TEAM),
    ]
    claim = a_claim("electric", an_item("a", "shows", seen=seen_on("9", "1934")))
    archive = with_panel(an_archive(a_component(), *sources, claim), ("Lit.", (TYPE,)))

    (cited,) = the_appendix(archive).sources

    assert cited.lineage == ("It is a print of \u201cPlate 4\u201d.", "The picture is retouched.")


def test_that_a_doubt_is_open_is_said_and_not_whose_or_what() -> None:
    doubt = Query(id="q", about=TYPE, by=BY, date=TODAY, grounds="Smith says otherwise")
    archive = replace(a_whole_archive(), queries={"q": doubt})

    lamp, hood = the_appendix(archive).statements[0].accounts

    assert lamp.remarks == ("A doubt about this was raised and has not been answered yet.",)
    assert hood.remarks == ()
    assert "Smith" not in "".join(texts_in(the_appendix(archive)))


def test_a_contested_value_is_declared_as_in_doubt() -> None:
    sources = [an_open_source(each, "manual") for each in ("a", "b")]
    claims = a_claim("electric", "a", to="9"), a_claim("oil", "b", to="9")
    archive = with_panel(an_archive(a_component(), *sources, *claims), ("Lit.", (TYPE,)))

    (said,) = the_appendix(archive).conjecture

    assert said.endswith(", is contested: another answer is supported too, and directly.")


def test_a_statement_on_what_was_changed_for_the_present_day_says_so() -> None:
    archive = a_whole_archive()
    spoken_of = with_panel(archive, ("It was lagged.", ("headlamp/lagging",)))

    (said,) = the_account(spoken_of).remarks

    assert said == "Here it is shown as \u201cglass wool\u201d, changed for the present day."
