"""Every explanation is compared whole, since it is what people read."""

import pytest
from builders import (
    FEATURE,
    Record,
    a_claim,
    a_component,
    a_feature,
    a_source,
    against,
    an_archive,
    an_event,
    an_item,
    applies,
    seen_on,
)

from provenance.records.archive import Archive
from provenance.records.claims import EvidenceItem
from provenance.records.kinds import Condition
from provenance.rules.judging import judge_feature


def told(archive: Archive) -> str:
    return judge_feature(archive, FEATURE).explanation


def tell(*records: Record) -> str:
    return told(an_archive(*records))


def test_nothing_entered() -> None:
    assert tell() == "Nothing has been entered about this yet."


def test_only_evidence_without_weight_or_against() -> None:
    unbuilt = a_source("unbuilt", "drawing", executed=False)

    assert tell(unbuilt, a_claim("acetylene", "unbuilt", against("manual"))) == (
        "Nothing that we hold supports any value. Evidence speaks only against: “Manual”. "
        "Set aside, without weight: the drawing “Unbuilt” (an unbuilt design)."
    )


def test_a_single_drawing() -> None:
    """12 points: 15.85 / 16.85 = .941."""
    assert tell(a_claim("acetylene", "works-drawing")) == (
        "“Acetylene” has about 94 chances in 100, but it rests on one witness: nothing independent says the same. "
        "Counted for it: “Works drawing”, which speaks of this machine alone."
    )


def test_what_is_not_counted_beside_is_told_with_its_reason() -> None:
    tracing = a_source("a-tracing", "drawing", of=["redrawn:works-drawing"])
    manual = a_source("manual", "manual", of=["cites:works-drawing"])
    claim = a_claim("acetylene", "works-drawing", "a-tracing", an_item("a-tracing", page=2), "manual")

    explanation = tell(a_source("works-drawing", "drawing"), tracing, manual, claim)

    assert "Four places are cited, and all go back to “Works drawing”. " in explanation
    assert (
        "Not counted beside that: the drawing “A tracing”, the same source once more; “Manual”, since it goes back to "
        "“Works drawing”, as “A tracing” does; and “Works drawing”, since “A tracing” was redrawn from it."
    ) in explanation


def test_a_copy_that_is_not_counted_beside_what_it_was_made_from() -> None:
    """The tracing can hardly be read, so the drawing is counted."""
    tracing = a_source("a-tracing", "drawing", of=["redrawn:works-drawing"], reliability="D")

    explanation = tell(
        a_source("works-drawing", "drawing"), tracing, a_claim("acetylene", "works-drawing", "a-tracing")
    )

    assert "Not counted beside that: the drawing “A tracing”, since it was redrawn from “Works drawing”." in explanation


def test_an_established_value_names_what_saw_it_as_built() -> None:
    view = an_item("view", "shows", seen=seen_on("9", "1934"))

    explanation = tell(a_source("view"), a_claim("acetylene", view, "works-drawing"))

    assert explanation == (
        "“Acetylene” is established, with more than 99 chances in 100: two independent witnesses speak for it, and the "
        "photograph “View” shows it as built. Counted for it: the photograph “View”, which shows this machine, known "
        "by "
        "its number; and “Works drawing”, which speaks of this machine alone."
    )


def test_the_part_itself_is_named_where_it_needs_no_second_witness() -> None:
    explanation = tell(
        a_source("lamp", "artefact"), a_claim("acetylene", an_item("lamp", "shows", seen=seen_on("9", "1934")))
    )

    assert explanation.startswith(
        "“Acetylene” is established, with about 98 chances in 100: it rests on the part itself, the piece “Lamp”, "
        "which "
        "needs no second witness, and nothing shows better how it was built. Counted for it:"
    )


def test_a_probable_value_that_is_not_likely_enough_does_not_say_as_designed() -> None:
    """Two letters of 1934, reliability C: 9.6 points: .901."""
    letters = [a_source(name, "letter", created="1934", reliability="C") for name in ("letter-a", "letter-b")]

    explanation = tell(*letters, a_claim("acetylene", "letter-a", "letter-b"))

    assert explanation.startswith(
        "“Acetylene” is probable, with about 90 chances in 100: two independent witnesses speak for it. Counted for it:"
    )


def test_a_possible_value_says_no_more() -> None:
    notes = [a_source(name, "notes", created="1934", origin_stated=True) for name in ("notes-a", "notes-b")]

    assert tell(*notes, a_claim("acetylene", "notes-a", "notes-b")).startswith(
        "“Acetylene” is possible, no more, with about 80 chances in 100: two independent witnesses speak for it, but "
        "they "
        "do not weigh enough."
    )


def test_a_contested_value_names_its_rival() -> None:
    letter = a_source("letter", "letter", created="1934")

    explanation = tell(letter, a_claim("acetylene", "works-drawing"), a_claim("electric", "letter"))

    assert explanation.startswith(
        "This is contested: “Acetylene” leads with about 68 chances in 100, but “Electric” with about 27 chances in "
        "100 "
        "is spoken for directly too."
    )
    assert explanation.endswith("“Electric” is what “Letter” says.")


def test_an_outweighed_value_is_named_with_its_chance() -> None:
    book = a_source("book", "book", created="1934")

    explanation = tell(book, a_claim("acetylene", "works-drawing"), a_claim("electric", "book"))

    assert explanation.endswith("“Electric” is outweighed, with about 13 chances in 100: “Book” says so.")


@pytest.mark.parametrize(
    ("item", "why"),
    [
        (
            an_item("view", "shows", seen=seen_on("4")),
            "by comparison with another of the type; nothing speaks directly of this machine or of its batch",
        ),
        (
            an_item("view", "implies", seen=seen_on("9", "1934")),
            "by comparison with what is known of this machine; nothing shows it or says so directly",
        ),
    ],
)
def test_an_inferred_value_says_what_from(item: EvidenceItem, why: str) -> None:
    explanation = tell(a_source("view"), a_claim("acetylene", item))

    assert "is inferred only, with about" in explanation
    assert f": {why}." in explanation


def test_what_had_ended_or_was_told_by_its_own_sign_is_of_no_weight_and_says_so() -> None:
    circular = an_item("view", "shows", seen=seen_on("9", "1934", "likeness", ["conduit-on-cantrail"]))
    ended = an_item("old-manual", applies_to=applies("all", until="1930"))

    explanation = tell(a_source("view"), a_claim("acetylene", "works-drawing", circular, ended))

    assert (
        "Set aside, without weight: the drawing “Old manual” (had ended: until 1930, before the building of its batch "
        "(1933)); and the photograph “View” (shows what is thought to be this machine, by likeness only, but "
        "told by a sign of this very feature (conduit-on-cantrail), which proves nothing)."
    ) in explanation


def test_a_kind_that_the_team_gives_no_weight_says_so() -> None:
    archive = an_archive(a_claim("acetylene", "works-drawing"), weights={"base.drawing": 0})

    assert told(archive).endswith(
        "Set aside, without weight: “Works drawing” (it counts nothing by the weights in use)."
    )


def test_what_is_only_possible_of_the_dates_is_minded() -> None:
    view = an_item("view", "shows", seen=seen_on("9", "1932"))
    archive = an_archive(a_source("view"), a_claim("acetylene", view), events=(an_event("1932-03"),))

    assert told(archive).endswith(
        "Mind: “View”: what happened to it may lie between that day and the one represented: rebuilt after a collision "
        "(1932-03)."
    )


def test_no_explanation_uses_the_words_of_the_trade_of_statistics() -> None:
    feature = a_component("headlamp", a_feature(kind="text"))
    explanation = tell(feature, a_claim("acetylene", "works-drawing", "manual"), a_claim("electric", "letter"))

    assert not any(word in explanation.lower() for word in ("posterior", "deciban", "likelihood", "%", "doctrine"))


def test_of_many_values_that_lose_two_are_named() -> None:
    """Drawing 12 against four of 4 points each by books that say where they have it: 2.51 each."""
    books = [a_source(f"book-{n}", "book", created="1934", origin_stated=True) for n in range(4)]
    lamps = a_component("headlamp", a_feature(kind="text"))
    lesser = [a_claim(f"lamp {n}", f"book-{n}") for n in range(4)]

    explanation = tell(lamps, *books, a_claim("acetylene", "works-drawing"), *lesser)

    assert "“lamp 1” is outweighed" in explanation
    assert "“lamp 2” is outweighed" not in explanation
    assert explanation.endswith("Two more are outweighed.")


def test_a_figure_of_one_source_is_not_called_a_mean() -> None:
    """Give or take half a millimetre: u = .5 / root 3 = .2887, so good to .58 mm."""
    height = a_component("headlamp", a_feature(kind="quantity", aspect="dimension", unit="mm"))
    survey = an_item("survey", "measured", seen=seen_on("9"))

    assert "It is the figure of one source, good to 0.58 mm either way." in tell(
        height, a_source("survey", "survey"), a_claim("1000 mm", survey)
    )


def test_a_figure_that_nothing_sound_sets_is_only_as_written() -> None:
    height = a_component("headlamp", a_feature(kind="quantity", aspect="dimension", unit="mm"))
    worn = an_item("stub", "measured", seen=seen_on("9"), condition=Condition.WORN)

    assert "No sound piece was measured, so the figure is only as written. A piece that is worn" in tell(
        height, a_source("stub", "artefact"), a_claim("1000 mm", worn)
    )


def test_the_figure_of_the_works_is_told_beside_what_was_measured() -> None:
    """1000 mm drawn for all; No. 9 measured 1000 mm to half a millimetre, No. 10 1000.5 mm to half a tenth.

    u = .5 / root 3 = .2887 and .05 / root 3 = .02887; U of the first alone .58, of both 2 / root(12 + 1200) = .0574;
    the mean is (12 x 1000 + 1200 x 1000.5) / 1212 = 1000.495.
    """
    height = a_component("headlamp", a_feature(kind="quantity", aspect="dimension", unit="mm"))
    surveys = [a_source(name, "survey") for name in ("a", "b")]
    claims = [
        a_claim("1000 mm", "plan", an_item("a", "measured", seen=seen_on("9")), to="all"),
        a_claim("1000.5 mm", an_item("b", "measured", seen=seen_on("10"))),
    ]

    assert "One measurement gives 1000.00 mm, good to 0.58 mm either way." in tell(height, surveys[0], *claims[:1])
    assert "Two measurements give 1000.495 mm, good to 0.057 mm either way. They agree" in tell(
        height, *surveys, *claims
    )
