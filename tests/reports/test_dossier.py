from dataclasses import replace
from typing import Any

from builders import (
    LAMPS,
    Record,
    a_claim,
    a_component,
    a_date,
    a_decision,
    a_feature,
    a_source,
    against,
    an_archive,
    an_item,
    seen_on,
)
from reports.answering import the_answer
from reports.dossiers import a_picture, chapter, entries, pictures_of, texts, the_document, the_dossier

from provenance.records.archive import Archive
from provenance.records.claims import At
from provenance.records.components import Mate
from provenance.records.decisions import Made, MadeDrawing, ModernChange, Query
from provenance.records.kinds import How
from provenance.records.regions import parse_region
from provenance.records.sources import Withdrawal
from provenance.reports.document import Block, Boxed, Figure, Heading, Quotation, flat
from provenance.reports.dossier import Pictured
from provenance.rules.flag_values import Flag


def lit(*more: Record, **changed: Any) -> Archive:
    """A lamp that a drawing and a photograph speak of, and another answer that a manual gives of another batch."""
    claim = a_claim(
        "electric",
        an_item("drawing", at=At(page=2), quote="electric lamp"),
        an_item("photo", "shows", seen=seen_on("9", "1934-05", "number")),
        claim_id="electric",
    )
    return an_archive(
        a_source("drawing", "drawing", created="1932", holder="Orrin Library", reference="B 12", issue="C"),
        a_source("photo", created="1934-05", creator="mh"),
        a_source("manual", "manual", created="1929"),
        a_component("headlamp", a_feature("type", options=LAMPS, name="What it burns"), **changed),
        claim,
        a_claim("acetylene", an_item("manual", at=At(page=3), quote="acetylene lamp"), claim_id="gas", to="1..4"),
        *more,
    )


def a_query(query_id: str, about: str, **fields: Any) -> Query:
    given = {"by": "mh", "date": a_date("2025-03-22"), "grounds": "It looks like gas.", **fields}
    return Query(id=query_id, about=about, **given)


def with_queries(archive: Archive, *queries: Query) -> Archive:
    return replace(archive, queries={query.id: query for query in queries})


def test_cautions_stand_first_and_say_that_form_is_no_fitness() -> None:
    document = the_document(lit(hazards=("asbestos",)))

    heading, caution, fitness = document.blocks[:3]
    assert isinstance(heading, Heading)
    assert (heading.text, heading.level) == ("Headlamp", 1)
    assert isinstance(caution, Boxed)
    assert caution.name == "Caution, asbestos"
    assert "is not evidence that it is safe" in next(texts((fitness,)))


def test_a_dossier_says_what_to_make_in_both_systems_of_units() -> None:
    height = replace(
        a_feature("height", "quantity", aspect="dimension", name="Height"),
        datum="top of rail",
        unit="mm",
        needed="2 mm",
        mates=(Mate(mate="headlamp/type", rule="clears", within="1 mm"),),
    )
    decision = a_decision(
        about="headlamp/height",
        build="3 ft 4 1/2 in",
        tolerance="plus 1/16 in, minus nothing",
        drawings=(MadeDrawing(number="R9-1", issue="B"),),
        stamp="R9",
    )
    archive = an_archive(
        a_component("headlamp", a_feature("type", options=LAMPS, name="What it burns"), height), decision
    )

    making = list(texts(what_to_make(archive, "Height")))

    # 40.5 x 25.4 = 1028.7; 25.4 / 16 = 1.5875; 2 / 25.4 = 0.0787, in 64ths 5.04; 1 / 25.4 = .0394, in 64ths 2.52.
    assert making == [
        "Make: 3 ft 4 1/2 in (1028.70 mm)",
        "To limits: plus 1/16 in (1.59 mm), minus nothing",
        "To drawing: R9-1 issue B",
        "Mark the new part: R9",
        "Measured from: top of rail",
        "Built in: mm",
        "To be known within: 2 mm (5/64 in)",
        "Fits against: clear of Headlamp: What it burns, within 1 mm (3/64 in)",
    ]


def what_to_make(archive: Archive, feature: str) -> tuple[Block, ...]:
    """The terms that stand first of one feature."""
    blocks = tuple(flat(the_document(archive).blocks))
    start = next(n for n, each in enumerate(blocks) if isinstance(each, Heading) and each.text == feature)
    return blocks[start + 2 : start + 3]


def test_each_place_is_shown_with_its_picture_words_holder_and_reference() -> None:
    blocks = chapter(the_document(lit()), "What that rests on")

    read = list(texts(blocks))
    drawing = next(n for n, text in enumerate(read) if "Drawing, page 2" in text)
    assert read[drawing].endswith("Drawing, page 2. Drawing, issue C, 1932. Held by Orrin Library, B 12.")
    assert read[drawing + 1] == "[drawing] Page 2: a part of it."
    assert read[drawing + 2] == "electric lamp"
    assert read[drawing + 3].startswith("Counted, 12.0 points. ")
    assert isinstance(blocks[drawing + 1], Figure)
    assert isinstance(blocks[drawing + 2], Quotation)


def test_who_made_a_source_is_named() -> None:
    archive = lit()
    read = list(texts(chapter(the_document(archive), "What that rests on")))

    (person,) = (person for person in archive.people if person.id == "mh")
    assert any(f"Photograph, May 1934, by {person.name}." in text for text in read)


def test_a_place_without_a_picture_says_why() -> None:
    archive = lit()
    answer = the_answer(archive)
    pictures = {place: Pictured(said="its file is not here") for place in pictures_of(answer)}

    document = the_document(archive, answer, pictures)

    assert "No picture: its file is not here." in list(texts(document.blocks))
    assert not [block for block in chapter(document, "What that rests on") if isinstance(block, Figure)]


def test_points_are_for_the_team_alone() -> None:
    archive = lit()

    def told(audience: str) -> str:
        return "\n".join(texts(the_document(archive, replace(the_answer(archive), audience=audience)).blocks))

    assert "points" in told("team")
    assert "points" not in told("workshop")


def test_what_is_seen_and_what_signs_tell_at_one_place_is_one_exhibit() -> None:
    item = an_item("photo", "shows", at=At(page=1), seen=seen_on("9", "1934-05", "number"))
    again = replace(item, how=How.IMPLIES)
    archive = an_archive(a_source("photo"), a_component(), a_claim("acetylene", item, again))

    (feature,) = the_dossier(archive).features

    assert [len(exhibit.items) for exhibit in feature.exhibits] == [2]


def test_what_counts_comes_first_and_what_has_no_weight_last_without_a_picture() -> None:
    old = a_source("sketch", "drawing", executed=False)
    archive = lit(old)
    claim = archive.claims["electric"]
    more = replace(claim, evidence=(an_item("sketch"), *claim.evidence))
    archive = replace(archive, claims={**archive.claims, "electric": more})

    (feature,) = the_dossier(archive).features

    assert [each.source.id for each in feature.exhibits][-1] == "sketch"
    assert feature.exhibits[-1].shown == Pictured()
    assert "Looked at, and without weight:" in list(texts(the_document(archive).blocks))


def test_other_answers_say_why_they_lost() -> None:
    decision = a_decision(build="electric", set_aside=[("gas", "holds for the first batch only")])
    blocks = chapter(the_document(lit(decision)), "Other answers, and why they were not taken")

    said, listed = blocks
    (sentence,) = texts((said,))
    assert sentence.startswith("“Acetylene”: outweighed, chance ")
    assert sentence.endswith("Set aside by the decision: holds for the first batch only.")
    assert "“acetylene lamp”" in entries(listed)[0]


def test_a_contested_rival_is_shown_with_its_pictures() -> None:
    one, other = (an_item(each, "shows", seen=seen_on("9", "1934-06", "number")) for each in ("photo", "other-photo"))
    archive = an_archive(
        a_component(),
        a_source("photo"),
        a_source("other-photo"),
        a_claim("acetylene", one, claim_id="gas"),
        a_claim("electric", other, claim_id="electric"),
    )

    blocks = chapter(the_document(archive), "Other answers, and why they were not taken")

    assert [block.picture.says for block in blocks if isinstance(block, Figure)] == ["other-photo"]


def test_evidence_against_the_value_is_said_to_be_against_it() -> None:
    archive = lit(a_source("letter", "letter"))
    claim = archive.claims["electric"]
    more = replace(claim, evidence=(*claim.evidence, against("letter")))

    document = the_document(replace(archive, claims={**archive.claims, "electric": more}))

    read = list(texts(chapter(document, "What that rests on")))
    assert any(text.startswith("Against it. Counted") for text in read)


def test_what_was_decided_made_and_given_up_is_told() -> None:
    first = a_decision("first", build="acetylene", date="2023-05-01")
    made = (
        Made(date=a_date("2025-03-22"), by="mh", value="as drawn", fits="badly", inspected_by="tw", photo="made-photo"),
    )
    second = a_decision(
        "second",
        build="electric",
        date="2024-05-01",
        replaces="first",
        made=made,
        why="Seen on No. 9",
        modern_change=ModernChange(reason="safety", note="12 volts"),
    )
    archive = lit(first, second, a_source("made-photo"))

    blocks = chapter(the_document(archive), "What was decided and made")

    read = list(texts(blocks))
    assert read[0].startswith("In force: Electric (1 May 2024, by ")
    assert "Changed from the evidence for safety; 12 volts." in read[0]
    assert read[1].startswith("Made to as drawn by ")
    assert "It fits badly. Inspected by " in read[1]
    assert read[2].startswith("Replaced: Acetylene (1 May 2023")
    assert read[3] == "[made-photo] What was made, 22 March 2025."


def test_a_withdrawn_decision_and_a_proposed_one_are_not_in_force() -> None:
    gone = Withdrawal(why="the photograph was of No. 6", by="mh", date=a_date("2024-01-01"))
    archive = lit(
        a_decision("gone", build="acetylene", withdrawn=gone, date="2023-01-01"),
        a_decision("idea", build="oil", status="proposed", date="2024-06-01"),
    )

    read = list(texts(chapter(the_document(archive), "What was decided and made")))

    assert read[0].startswith("Only proposed: oil")
    assert read[1].startswith("Withdrawn, the photograph was of No. 6: Acetylene")


def test_open_queries_stand_before_answered_ones_with_what_would_settle_them() -> None:
    archive = with_queries(
        lit(a_decision("built", build="electric")),
        a_query("a", "headlamp/type", open=False, answer="It was electric."),
        a_query("b", "built", raised_by="a visitor", would_settle="A works drawing."),
        a_query("c", "headlamp/other"),
    )

    read = list(texts(chapter(the_document(archive), "What is open")))

    asked = "Open query of 22 March 2025, raised by a visitor: "
    assert read[0] == f"{asked}It looks like gas. What would settle it: A works drawing."
    assert read[1] == "Answered query of 22 March 2025: It looks like gas. Answer: It was electric."
    assert not any("headlamp/other" in text for text in read)


def test_flags_are_told_in_sentences_before_anything_is_made() -> None:
    archive = lit()
    answer = the_answer(archive)
    flag = Flag(flag="single-source", severity="warn", about="headlamp/type", sentence="One source.", mend="Look on.")  # type: ignore[arg-type]  # a word of its own
    features = tuple(replace(each, raised=(flag,), flags=("single-source",)) for each in answer.features)

    read = list(texts(the_document(archive, replace(answer, features=features)).blocks))

    assert read[read.index("Before it is made, mind:") + 1] == "One source. Look on."


def test_a_feature_of_which_nothing_is_known_says_so() -> None:
    read = list(texts(the_document(an_archive(a_component())).blocks))

    assert "Make: nothing yet: nothing has been decided" in read
    assert "Nothing that we hold speaks for any answer." in read


def test_a_component_without_features_says_so() -> None:
    document = the_document(an_archive(replace(a_component(), features=())))

    assert "It has no features of its own to decide yet." in list(texts(document.blocks))


def test_the_assembly_that_a_part_belongs_to_is_named_from_the_outside_in() -> None:
    archive = an_archive(
        a_component("car", part_of=None),
        a_component("body", part_of="car"),
        a_component("headlamp", part_of="body"),
    )

    assert "Part of: Car, Body. What the part will be is not recorded yet." in list(texts(the_document(archive).blocks))


def test_parts_of_one_another_end() -> None:
    archive = an_archive(a_component("body", part_of="headlamp"), a_component("headlamp", part_of="body"))

    assert the_dossier(archive).assembly == ("Headlamp", "Body")


def test_the_meaning_of_the_grades_used_stands_at_the_end() -> None:
    read = list(texts(chapter(the_document(lit()), "The words used")))

    assert any(text.startswith("established: seen as built") for text in read)
    assert any(text.startswith("outweighed: supported, but less") for text in read)
    assert not any(text.startswith("contested") for text in read)
    assert read[-1] == "Weighed with the standard weights (common practice, no published source)."


def test_a_picture_is_wanted_of_each_place_of_weight_once() -> None:
    at = At(page=1, region=parse_region("percent:1,2,3,4"))
    archive = an_archive(
        a_component(),
        a_claim("acetylene", an_item("manual", at=at), an_item("manual", at=at), an_item("book", at=at)),
    )

    evidence = the_answer(archive)

    assert len(pictures_of(evidence)) == 2
    assert a_picture().says == "a page"
