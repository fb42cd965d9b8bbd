from dataclasses import replace

import pytest
from builders import a_claim, a_component, an_archive, an_item
from public_archives import an_archive_that_holds_back, an_open_source, leaked, texts_in
from reports.appendices import a_whole_archive, lines_of, the_appendix, with_panel

from provenance.records.archive import Archive
from provenance.records.kinds import Access
from provenance.reports.appendix_document import appendix_document
from provenance.reports.document import Boxed, Document, Listing, Paragraph, Run, Words, flat


def the_document(archive: Archive, *, draft: bool = False, style: str | None = None) -> Document:
    return appendix_document(the_appendix(archive, draft=draft, style=style))


def runs_of(document: Document) -> list[Run]:
    said: list[Words] = []
    for block in flat(document.blocks):
        if isinstance(block, Paragraph):
            said.append(block.words)
        elif isinstance(block, Listing):
            said += [entry.words for entry in block.entries]
    return [run for each in said for run in each]


def test_the_whole_of_it_in_order() -> None:
    """Written by hand from the records of the archive; the words of the cautions stand in their own tests."""
    lines = [line for line in lines_of(the_document(a_whole_archive())) if not line.startswith("!")]

    assert lines == [
        "# as it was",
        "## Cautions",
        "This says what the panel “as it was” rests on, statement by statement, and how sure that is.",
        (
            "The object shown is a modern re-creation: Velling petrol railcar, a reproduction. By reproduction is "
            "meant: newly made after the evidence, with every departure from it declared."
        ),
        (
            "Evidence of what was once made is not evidence that it is safe to make or use today. Approval for use "
            "belongs to the competent authority."
        ),
        "## What is represented",
        "No. 9 as it was in June 1934. Why this one is not recorded yet.",
        "## What you see",
        "Headlamp as it was: Newly made, after the evidence.",
        "What is shown of each part, and how that is known",
        "Part | Feature | As shown here | How it is known",
        (
            "Headlamp as it was | Headlamp type | not decided yet; the evidence speaks for “Electric” | from "
            "evidence of this very machine; "
            "established, on 3 independent witnesses"
        ),
        "Headlamp as it was | Lagging | glass wool | changed for the present day; the evidence speaks for “glass cord”",
        "Headlamp as it was | Hood | not decided yet | nothing that can be shown here supports any answer",
        "Headlamp as it was | Paint | as it was | conjecture",
        "## What each statement rests on",
        "### Statement 1",
        "> as it was",
        "Headlamp as it was: headlamp type: “Electric”, established, on 3 independent witnesses.",
        "- In writing: [1, p. 14].",
        "- In pictures: “as it was” [2].",
        "- As told by people: [3, at 00:12:31, Ada Penrith speaking].",
        "- Against it: [1, p. 15].",
        "Another answer: “Oil”, outweighed.",
        "- In writing, of another machine: [1].",
        "Headlamp as it was: hood: nothing that can be shown here supports any answer.",
        "### Statement 2",
        "> It was lit.",
        "No evidence is cited for this statement.",
        "## What is conjecture, or in doubt",
        "- Headlamp as it was: lagging, “glass cord”, is inferred by comparison with other machines.",
        (
            "- Headlamp as it was: hood: nothing that can be shown here supports any answer; whatever is shown is "
            "conjecture."
        ),
        "- Headlamp as it was: paint, built as “as it was”, is conjecture: nothing that can be shown here supports it.",
        "## What was changed for the present day",
        (
            "- Headlamp as it was: lagging, built as “glass wool” for safety: as it was. The evidence speaks for "
            "“glass cord”. The new part is marked: R9."
        ),
        "## How new parts are marked",
        "- Headlamp as it was: lagging: R9.",
        "## Sources",
        "1. Tamlin Works. Handbook. Manual, issue 2, about 1933.",
        "2. as it was. as it was. Photograph, 12 June 1934. Held by as it was, as it was.",
        "3. Ada Penrith. Talk. Recollection, undated.",
        (
            "“p.” gives the number that is printed on a page, where that is known; else pages are counted from the "
            "first page of the copy that was used."
        ),
        "## Credits",
        *(f"{number}. Orrin Library. Copyright Not Evaluated (CNE)." for number in (1, 2, 3)),
        "## The words used",
        "reproduction: newly made after the evidence, with every departure from it declared",
        (
            "established: seen as built, on two or more independent witnesses or the part itself, and at least 95 "
            "chances in 100"
        ),
        "inferred: known only by comparison with other machines",
        "unsupported: nothing that can be shown here supports any answer",
        "outweighed: supported, but less than another answer",
        "independent witness: a source, or several that go back to one another, counted once",
        "Printed on 25 November 2026 from the records of “Railcar No. 9”. The panel was written on 25 November 2026.",
    ]


def test_the_cautions_come_first_each_in_its_frame() -> None:
    boxed = [block for block in the_document(a_whole_archive()).blocks if isinstance(block, Boxed)]

    assert [each.name for each in boxed] == ["Asbestos", "Asbestos", "Nitrate film"]
    assert boxed[0].text.startswith("as it was Consult the safety officer")


def test_every_page_says_that_the_object_is_a_modern_re_creation_and_a_draft_that_it_is_one() -> None:
    final, draft = the_document(a_whole_archive()), the_document(a_whole_archive(), draft=True)

    assert final.running == "A modern re-creation · Sources of “as it was”"
    assert draft.running == f"DRAFT, not for display · {final.running}"
    assert (final.draft, draft.draft) == (False, True)
    assert lines_of(draft)[-1].startswith("Draft of 25 November 2026 from")


@pytest.mark.parametrize("style", ["iso-690-numeric", "iso-690-author-date"])
def test_every_citation_leads_to_its_source(style: str) -> None:
    document = the_document(a_whole_archive(), style=style)

    anchors = [entry.anchor for block in document.blocks if isinstance(block, Listing) for entry in block.entries]
    led = {run.to for run in runs_of(document) if run.to}

    assert led == {each for each in anchors if each} == {"source-1", "source-2", "source-3"}
    assert len([each for each in anchors if each]) == 3


def test_titles_of_works_are_in_italics() -> None:
    slanted = [run.text for run in runs_of(the_document(a_whole_archive())) if run.slanted]

    assert slanted == ["Handbook", "as it was", "Talk"]


def test_words_of_a_source_in_one_other_language_are_marked_as_that() -> None:
    sources = an_open_source("a", "manual", language=("de",)), an_open_source("b", "manual", language=("de", "fr"))
    claim = a_claim("electric", an_item("a", quote="Das Licht"), an_item("b", quote="La lampe"))

    document = the_document(with_panel(an_archive(a_component(), *sources, claim), ("Lit.", ("headlamp/type",))))

    assert {run.text: run.language for run in runs_of(document) if run.text in {"Das Licht", "La lampe"}} == {
        "Das Licht": "de",
        "La lampe": "",
    }


def test_by_name_and_date_no_number_stands_before_a_source_and_credits_name_it() -> None:
    lines = lines_of(the_document(a_whole_archive(), style="iso-690-author-date"))

    assert "- Ada Penrith, undated. Talk. Recollection." in lines
    assert "- “Talk”: Orrin Library. Copyright Not Evaluated (CNE)." in lines
    assert "- In writing: (Tamlin Works, about 1933, p. 14)." in lines


def test_a_panel_that_names_nothing_says_so() -> None:
    lines = lines_of(the_document(replace(with_panel(an_archive(target=None), components=()), subject=None)))

    assert lines == [
        "# How it was lit",
        "This says what the panel “How it was lit” rests on, statement by statement, and how sure that is.",
        "The object shown is a modern re-creation: Railcar No. 9.",
        (
            "Evidence of what was once made is not evidence that it is safe to make or use today. Approval for use "
            "belongs to the competent authority."
        ),
        "## What is represented",
        "It is not recorded yet which machine is represented, and when.",
        "## What you see",
        "The panel names no part.",
        "## What each statement rests on",
        "The panel makes no statement.",
        "## What is conjecture, or in doubt",
        "Nothing in the parts named here is known to be conjecture, or is built against the evidence.",
        "## What was changed for the present day",
        "No change from the evidence is declared in the parts named here.",
        "## How new parts are marked",
        "It is not recorded for the parts named here how new ones are marked.",
        "## Sources",
        "No source is cited.",
        "## The words used",
        "No word is used in a sense of its own.",
        "Printed on 25 November 2026 from the records of “Railcar No. 9”. The panel was written on 25 November 2026.",
    ]


def test_what_only_an_unbuilt_design_shows_is_said_with_that() -> None:
    sources = an_open_source("a", "manual"), an_open_source("b", "drawing", title="Lamp", executed=False)
    claims = a_claim("electric", "a"), a_claim("oil", "b")
    archive = with_panel(an_archive(a_component(), *sources, *claims), ("Lit.", ("headlamp/type",)))

    lines = lines_of(the_document(archive))

    assert "Another answer: “Oil”." in lines
    assert "- In a design that was never built, which counts for nothing: [2]." in lines


def test_nothing_that_is_withheld_stands_in_the_document() -> None:
    document = the_document(an_archive_that_holds_back())

    assert leaked(texts_in(document)) == set()
    assert "A source held privately supports this too." in lines_of(document)


def test_what_is_held_privately_is_said_of_the_value_that_it_supports_before_any_other_answer() -> None:
    sources = (
        an_open_source("a", "manual"),
        an_open_source("b", "manual", access=Access.TEAM),
        an_open_source("c", "manual"),
    )
    claims = a_claim("electric", "a", "b", to="9"), a_claim("oil", "c", to="3")
    lines = lines_of(
        the_document(with_panel(an_archive(a_component(), *sources, *claims), ("Lit.", ("headlamp/type",))))
    )

    private, other = "A source held privately supports this too.", "Another answer: “Oil”, outweighed."

    assert lines.index("- In writing: [1].") < lines.index(private) < lines.index(other)


def test_the_same_appendix_gives_the_same_document() -> None:
    assert the_document(a_whole_archive()) == the_document(a_whole_archive())
