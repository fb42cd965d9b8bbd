from dataclasses import replace

from builders import a_claim, a_component, a_date, a_decision, a_feature, an_archive
from reports.answering import the_answer
from reports.appendices import a_whole_archive

from provenance.records.decisions import Made
from provenance.reports.brief import brief_text


def test_the_brief_says_what_to_make_to_what_limits_from_where_and_how_to_mark_it() -> None:
    archive = a_whole_archive()
    part = archive.components["headlamp"]
    measured = [replace(each, datum="the rail", unit="mm") for each in part.features]
    archive = replace(archive, components={"headlamp": replace(part, features=tuple(measured), references=("H-204",))})

    text = brief_text(the_answer(archive), 200)

    for line in (
        "  Make: glass wool.",
        "  To limits: 1 mm (3/64 in).",
        "  Changed from the evidence: for safety; as it was.",
        "  To drawing: R9-1 issue A and R9-2.",
        "  Mark the new part: R9.",
        "  Measured from: the rail.",
        "  Built in: mm.",
        "Headlamp as it was, H-204: for No. 9 as at 1934-06",
    ):
        assert line in text.splitlines()


def test_cautions_stand_first_in_a_brief() -> None:
    text = brief_text(the_answer(a_whole_archive()), 100)

    assert text.startswith("CAUTION, asbestos")


def test_what_has_not_been_decided_is_not_to_be_made() -> None:
    archive = an_archive(a_component("headlamp", a_feature()), a_claim("electric", "sheet"))

    text = brief_text(the_answer(archive), 100)

    assert "  Make: nothing yet: nothing has been decided." in text.splitlines()
    assert "  - Sheet" in text.splitlines()


def test_a_decision_without_more_is_briefly_told() -> None:
    text = brief_text(the_answer(an_archive(a_component(), a_decision("d", build="oil"))), 100)

    assert "  Make: oil." in text.splitlines()
    assert "Why:" not in text


def test_notices_stand_before_everything_but_cautions() -> None:
    answer = replace(the_answer(an_archive(a_component())), notices=("The object is a modern re-creation.",))

    assert brief_text(answer, 100).startswith("The object is a modern re-creation.\n")


def test_the_brief_says_when_the_last_piece_does_not_fit() -> None:
    first, last = (
        Made(date=a_date("2025-03-22"), value=value, fits=fits)
        for value, fits in (("3 ft", "well"), ("3 ft 1 in", "badly"))
    )
    said = (
        "  The last one does not fit: made to 3 ft 1 in on 22 March 2025; settle that before another is made.",
        "does not fit",
    )

    spoilt, mended = (
        brief_text(the_answer(an_archive(a_component(), a_decision("d", build="3 ft", made=made))), 120)
        for made in ((first, last), (last, first))
    )

    assert said[0] in spoilt.splitlines()
    assert said[1] not in mended


def test_a_brief_names_the_flags_to_mind_and_where_they_are_explained() -> None:
    archive = an_archive(a_component("headlamp", a_feature()))

    flagged = brief_text(the_answer(archive, flags=("no-datum", "query-open")), 200)

    mind = "  Before it is made, mind no-datum and query-open; "
    assert f"{mind}`provenance flags --component headlamp` explains." in flagged.splitlines()
    assert mind not in brief_text(the_answer(archive), 200)
