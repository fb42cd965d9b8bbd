"""The page of a descent that people read."""

from dataclasses import replace

import pytest
from builders import (
    FEATURE,
    a_claim,
    a_component,
    a_feature,
    a_pair,
    a_source,
    a_withdrawal,
    an_archive,
    an_item,
    common_over,
    seen_on,
)
from hypothesis import given
from reports.families import A_FILE, a_whole_family, answer, ruled
from reports.pages import NOT_WHOLE, WIDTH, any_text, obeyed, overlong, widths

from provenance.records.archive import Archive
from provenance.records.kinds import Derivation
from provenance.records.regions import PageRange
from provenance.records.sources import Within
from provenance.reports.descended_text import descended_text
from provenance.reports.descent_words import made_label, made_words


def page(archive: Archive, about: str) -> str:
    return descended_text(answer(archive, about), WIDTH)


def flat(archive: Archive, about: str) -> str:
    """The page without its line breaks."""
    return " ".join(page(archive, about).split())


def test_a_family_is_a_tree_with_the_oldest_at_the_top_and_what_was_asked_about_is_marked() -> None:
    archive = an_archive(
        a_source("negative", created="1934-07-21", files=(A_FILE,)),
        a_source("print", of=["print:negative"], created="1950~", files=(A_FILE,)),
        a_source("part", of=["crop:print"], title="The lamps, enlarged"),
    )

    assert page(archive, "print") == (
        "“Print” (print): it goes back to one other source, and one source goes back to it. The oldest stands\n"
        "first; what stands further in was made from what stands above it:\n"
        "\n"
        "- “Negative” (negative)\n"
        "  photograph, 21 July 1934\n"
        "  > a print of it: “Print” (print)\n"
        "    photograph, about 1950\n"
        "    - a part of it: “The lamps, enlarged” (part)\n"
        "      photograph, undated; no file of it here\n"
        "\n"
        "No feature rests on it alone."
    )


def test_a_source_that_was_made_from_two_stands_in_full_once_and_is_named_where_it_comes_again() -> None:
    archive = an_archive(
        a_source("drawing", "drawing", created="1926"),
        a_source("piece", "artefact", created="1933"),
        a_source("survey", "survey", of=["cites:drawing", "measured-from:piece"]),
        a_source("note", "notes", of=["survey"]),
    )

    text = page(archive, "survey")

    assert "  > takes what it says from it: “Survey” (survey)\n    survey, undated" in text
    assert (
        "- “Piece” (piece)\n  piece, 1933; no file of it here\n  - measured from it: “Survey” (survey), see above\n"
        in text
    )
    assert text.count("“Note” (note)") == 1


def test_a_circle_is_said_and_ends() -> None:
    archive = an_archive(a_source("a", of=["print:b"]), a_source("b", of=["print:a"]))

    text = flat(archive, "b")

    assert "“A” (a) and “B” (b) are entered as made from one another in a circle, which cannot be" in text
    assert "a print of it: “B” (b) photograph, undated; no file of it here - a print of it: “A” (a), see above" in text


def test_a_source_with_no_family_says_so() -> None:
    text = flat(an_archive(a_source("a", None)), "a")

    assert "“A” (a): as far as is known it was made from nothing else, and nothing was made from it." in text
    assert "> “A” (a) not tagged yet, undated; no file of it here" in text


def test_of_a_source_that_is_only_in_pairs_it_is_not_said_that_it_was_made_from_nothing() -> None:
    archive = an_archive(*(a_source(name) for name in "abc"), a_pair("a", "b"), a_pair("a", "c", "copy"))

    assert flat(archive, "a").startswith(
        "“A” (a): nothing is entered that it was made from, or that was made from it; it is in 2 pairs of copies, "
        "likely or ruled. > “A” (a)"
    )
    assert "it is in one pair of copies, likely or ruled." in flat(archive, "b")


def test_a_pair_says_whether_anybody_ruled_who_when_and_why() -> None:
    archive = an_archive(
        a_source("a"),
        replace(a_pair("a", "b"), why="the same crease."),
        replace(ruled("a", "c"), how=Derivation.PRINT),
        ruled("a", "d", "distinct"),
        replace(a_pair("a", "e", "copy"), why_ruled=None),
        *(a_source(name) for name in "bcde"),
    )

    text = flat(archive, "a")

    assert (
        "looks like a copy of “B” (b: photograph, undated), or the other way round; nobody has ruled: the same crease "
        in text
    )
    assert (
        "ruled a copy (print) by Mary Holt, 3 October 2020, of “C” (c: photograph, undated) or the other way round: "
        "the same scratch"
    ) in text
    assert "ruled a copy, of “E” (e: photograph, undated) or the other way round " in text
    assert (
        "Ruled out: ruled no copy by Mary Holt, 3 October 2020, of “D” (d: photograph, undated): the same scratch"
        in text
    )


@pytest.mark.parametrize(
    ("ruling", "said"),
    [
        ("copy", "ruled a copy by Mary Holt, 3 October 2020: the same scratch"),
        ("open", "found alike as well; nobody has ruled: alike by eye"),
        (
            "distinct",
            "yet ruled no copy by Mary Holt, 3 October 2020: the same scratch; one of the two records is wrong",
        ),
    ],
)
def test_a_ruling_on_what_is_entered_as_made_from_the_other_stands_there(ruling: str, said: str) -> None:
    archive = an_archive(
        a_source("negative"), a_source("print", of=["print:negative"]), ruled("negative", "print", ruling)
    )

    assert f"a print of it: “Print” (print) photograph, undated; no file of it here {said} " in flat(
        archive, "negative"
    )


def test_what_is_kept_in_an_album_is_no_copy_of_it() -> None:
    within = Within(source="album", pages=PageRange(3, 7))
    archive = an_archive(
        a_source("album"),
        a_source("leaf", within=within),
        a_source("page", within=Within(source="album", pages=PageRange(4, 4))),
        a_source("loose", within=Within(source="album")),
    )

    assert "kept in “Album” (album), pages 3 to 7; that is no descent" in flat(archive, "leaf")
    assert "kept in “Album” (album), page 4; that" in flat(archive, "page")
    assert "kept in “Album” (album); that" in flat(archive, "loose")
    assert "in it are kept “Leaf” (leaf), “Loose” (loose) and “Page” (page); that is no descent" in flat(
        archive, "album"
    )


def test_what_was_withdrawn_is_shown_with_the_reason() -> None:
    text = flat(an_archive(a_source("a", withdrawn=a_withdrawal("a later hoax."))), "a")

    assert "photograph, undated; no file of it here; withdrawn on 25 November 2026: a later hoax " in text


def test_one_person_behind_several_is_said() -> None:
    tom = {"creator": "Tom", "kind": "letter"}
    archive = an_archive(a_source("a", **tom), a_source("b", **tom), a_source("c", "letter", of=["a"], creator="Ann"))

    assert "“A” (a) goes back to what is known from Tom, as “B” (b) does; they are one witness." in flat(archive, "c")


def test_the_features_that_rest_on_a_source_alone_are_named() -> None:
    archive = an_archive(
        a_source("ledger", "logbook"),
        a_source("letter", "letter", of=["ledger"]),
        a_source("report", "report", of=["ledger"]),
        a_component("headlamp", a_feature(), a_feature("rim", "text", name="Rim")),
        a_claim("acetylene", "letter", "report"),
        a_claim("broad", "ledger", about="headlamp/rim"),
    )

    text = flat(archive, "ledger")

    assert "2 features rest on it alone:" in text
    assert (
        "every witness for “Headlamp type” (headlamp/type) goes back to it: “Acetylene”, 2 places in 2 sources" in text
    )
    assert "“Rim” (headlamp/rim) has no other witness: “broad”, one place in it" in text


def test_without_a_machine_to_represent_no_feature_can_be_judged_and_the_descent_is_told_all_the_same() -> None:
    text = flat(replace(an_archive(a_source("a")), target=None), "a")

    assert "> “A” (a)" in text
    assert "Which features rest on it alone could not be judged: archive.yaml does not say which example" in text


def test_a_feature_names_what_everything_hangs_on_and_what_stands_behind_it() -> None:
    archive = an_archive(
        a_source("diary", "logbook"),
        a_source("ledger", "logbook", of=["transcription:diary"]),
        a_source("letter", "letter", of=["ledger"]),
        a_source("report", "report", of=["ledger"]),
        a_claim("acetylene", an_item("letter", page=2), an_item("report", "analogy"), claim_id="gas"),
    )

    text = flat(archive, FEATURE)

    assert text.startswith(
        "“Headlamp type” (headlamp/type): “Acetylene”, uncorroborated, 2 places in 2 sources Everything hangs on "
        "“Ledger” (ledger): every witness for this value goes back to it. Behind that stands “Diary” (diary); that too "
        "carries all of it. What it goes back to."
    )
    assert "it states the value, page 2 (claim gas)" in text
    assert "it speaks for the value by comparison (claim gas)" in text


def test_a_feature_with_one_source_hangs_on_that() -> None:
    text = flat(an_archive(a_claim("acetylene", "drawing")), FEATURE)

    assert "Everything hangs on “Drawing” (drawing): nothing else speaks for this value." in text


def test_a_feature_on_independent_witnesses_hangs_on_no_single_source() -> None:
    text = flat(an_archive(a_claim("acetylene", "drawing", "manual")), FEATURE)

    assert "No single source carries it: it has 2 independent witnesses." in text


def test_where_each_shares_something_with_the_next_it_is_said_what() -> None:
    archive = an_archive(a_pair("card", "photo"), a_claim("acetylene", "card", "photo"))

    text = flat(archive, FEATURE)

    assert (
        "No single source carries it, and yet it has one witness only, for independence cannot be shown: “Card” and "
        "“Photo” share an original of which both may be copies." in text
    )


def test_a_feature_that_nothing_supports_goes_back_to_nothing() -> None:
    assert page(an_archive(), FEATURE) == (
        "“Headlamp type” (headlamp/type)\nNothing that we hold supports any value, so there is nothing to go back to."
    )


def test_what_counts_on_the_word_of_another_stands_under_it() -> None:
    archive = an_archive(
        a_source("handbook", "manual"),
        a_source("photo"),
        a_component("headlamp", a_feature(), common_to=(common_over("9..11", "handbook"),)),
        a_claim("acetylene", an_item("photo", "shows", seen=seen_on("10"))),
    )

    assert "- counts here on its word: “Photo” (photo)" in page(archive, FEATURE)


def test_the_caution_stands_before_everything_but_what_is_left_out() -> None:
    text = descended_text(answer(a_whole_family(), FEATURE, NOT_WHOLE.left_out), WIDTH)

    assert text.startswith("Not the whole archive: 2 records take no part")
    assert text.index("CAUTION, asbestos:") < text.index("Everything hangs on")


def test_deep_down_the_step_is_numbered_instead_of_indented() -> None:
    chain = [
        a_source("s000", created="1900"),
        *(a_source(f"s{n:03}", of=[f"print:s{n - 1:03}"]) for n in range(1, 400)),
    ]

    text = page(an_archive(*chain), "s000")

    assert "[step 399] a print of it: “S399” (s399)" in text
    assert overlong(text, WIDTH) == []
    assert text.count("[step 20]") == 0


def test_every_way_of_making_has_its_words() -> None:
    for how in (*Derivation, None):
        assert made_words(how)
        assert len(made_label(how)) <= 15


@given(any_text, widths)
def test_no_text_of_people_runs_the_terminal_or_over_the_edge(words: str, width: int) -> None:
    archive = a_whole_family(words)

    for about in ("print", "turn", "album", FEATURE):
        text = descended_text(answer(archive, about, NOT_WHOLE.left_out), width)
        assert obeyed(text) == []
        assert overlong(text, width) == []
