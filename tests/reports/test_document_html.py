import re
from base64 import b64decode

import pytest
from reports.documents import DRAWING, a_document, a_photograph, a_whole_document, jpeg
from reports.hostile import ARABIC, HEBREW, HOSTILE, hostile_document, on_one_line
from reports.read_html import Element, read_html

from provenance.reports.document import Column, Figure, Heading, Paragraph, Picture, Quotation, Table, words
from provenance.reports.document_html import document_html, style_sheet
from provenance.reports.fit_text import shown, shown_lines

WITHIN_WORDS = {"a", "bdi", "em", "span", "strong"}
MAY_BE_EMPTY = {"td", "colgroup", "meta"}


def test_every_block_has_the_element_that_says_what_it_is() -> None:
    page = read_html(document_html(a_whole_document()))

    assert [(each.tag, on_one_line(each.text)) for each in page.all("h1", "h2", "h3", "h4")] == [
        ("h1", "Headlamp"),
        ("h2", "What to make"),
        ("h3", "What was seen"),
        ("h2", "Pictures"),
        ("h3", "As photographed"),
        ("h2", "Sources"),
    ]
    (box,) = (each for each in page.all("div") if each.attributes.get("role") == "note")
    assert box.text == "Asbestos. May be present in the lagging. Stop, and ask the safety officer."
    assert [each.text for each in page.all("dt")] == ["Bore", "Finish"]
    assert [each.text for each in page.all("dd")] == ["7 in, between 6.9 in and 7.1 in ", "black, [1]"]
    assert [each.tag for each in page.all("ul", "ol")] == ["ul", "ol", "ol"]
    (quotation,) = page.all("blockquote")
    assert quotation.attributes == {"lang": "de"}
    assert [each.text for each in quotation.all("p")] == [
        "Die Lampe ist schwarz.\n  Der Ring ist blank.",
        "Zweiter Absatz.",
    ]


def test_words_keep_their_manner_and_language() -> None:
    page = read_html(document_html(a_whole_document()))

    assert [each.text for each in page.all("em")] == ["Handbook", "Scheinwerfer", "Handbook"]
    assert "1933" in [each.text for each in page.all("strong")]
    assert [(each.text, each.attributes) for each in page.all("span") if "lang" in each.attributes] == [
        ("Scheinwerfer", {"lang": "de"})
    ]


def test_a_table_has_its_caption_its_headings_and_a_region_that_a_keyboard_reaches() -> None:
    page = read_html(document_html(a_whole_document()))

    (region,) = (each for each in page.all("div") if each.attributes.get("role") == "region")
    (caption,) = region.all("caption")
    assert region.attributes["tabindex"] == "0"
    assert region.attributes["aria-labelledby"] == caption.attributes["id"]
    assert caption.text == "Readings of the bore"
    assert [(each.text, each.attributes["scope"]) for each in region.all("th")] == [
        ("Where", "col"),
        ("Value", "col"),
        ("Note", "col"),
    ]
    assert [each.text for each in region.all("td")] == ["Handbook", "7.0", "", "Photograph", "6.9", "a | b"]
    assert [each.text for each in region.all("th", "td") if each.attributes.get("class") == "figures"] == [
        "Value",
        "7.0",
        "6.9",
    ]
    assert [each.attributes["style"] for each in region.all("col")] == [
        "width: 25.00%",
        "width: 25.00%",
        "width: 50.00%",
    ]


def test_a_table_without_rows_has_no_empty_body() -> None:
    page = read_html(document_html(a_document(Table(caption="", columns=(Column(heading="a"),), rows=()))))

    assert page.all("tbody") == []
    assert [each.text for each in page.all("caption")] == ["Table"]


def test_pictures_stand_in_the_page_with_their_words_and_their_size() -> None:
    page = read_html(document_html(a_whole_document()))

    drawing, photograph = page.all("img")

    assert drawing.attributes["src"].startswith("data:image/svg+xml;base64,")
    assert b64decode(drawing.attributes["src"].partition(",")[2]).decode() == DRAWING
    assert b64decode(photograph.attributes["src"].partition(",")[2]) == jpeg()
    assert photograph.attributes["alt"] == "The lamp seen from the front"
    # 100 mm are 378 of the pixels of CSS, 75 mm are 283: 96 to the inch of 25.4 mm.
    assert (photograph.attributes["width"], photograph.attributes["height"]) == ("378", "283")
    assert [each.text for each in page.all("figcaption")] == ["The lens as drawn.", "The lamp of No. 9 [2]"]


def test_a_picture_of_another_type_is_refused() -> None:
    picture = Picture(data=b"<b>", media_type="text/html", says="a", width=1, height=1)

    with pytest.raises(ValueError, match="'text/html'"):
        document_html(a_document(Figure(picture=picture, caption=())))


def test_every_link_leads_to_something_in_the_page_and_no_name_stands_twice() -> None:
    page = read_html(document_html(a_whole_document()))

    names = [each.attributes["id"] for each in page.all() if "id" in each.attributes]

    assert len(names) == len(set(names))
    assert {each.attributes["href"] for each in page.all("a")} == {"#source-1", "#source-2", "#to-make"}
    assert {"source-1", "source-2", "to-make"} <= set(names)
    assert all("id" in each.attributes for each in page.all("h1", "h2", "h3", "h4"))


def test_a_name_that_the_page_gives_is_none_that_the_document_has() -> None:
    page = read_html(document_html(a_document(Paragraph(words=words("a"), anchor="part-1"))))

    assert [each.attributes["id"] for each in page.all("h1", "p") if "id" in each.attributes] == ["part-2", "part-1"]


def test_the_page_says_on_every_printed_page_what_the_object_is() -> None:
    page = read_html(document_html(a_whole_document()))

    (header,) = page.all("header")

    assert header.text == "A modern re-creation · Railcar No. 9"
    assert ".running { display: table-header-group;" in style_sheet().partition("@media print")[2]


def test_a_draft_is_marked_in_weight_and_colour_where_every_page_shows_it() -> None:
    draft = read_html(document_html(a_whole_document(draft=True, running="DRAFT, not for display")))
    final = read_html(document_html(a_whole_document()))

    assert [each.text for each in draft.all("header")[0].all("strong")] == ["DRAFT, not for display"]
    assert draft.all("body")[0].attributes == {"class": "draft"}
    assert final.all("header")[0].all("strong") == []
    assert final.all("body")[0].attributes == {}


def test_a_page_for_wide_tables_lies_on_its_side() -> None:
    assert 'class="lying"' in document_html(a_whole_document(lying=True))
    assert "@page lying { size: A4 landscape; }" in style_sheet()


def test_the_page_asks_for_nothing_outside_itself_and_runs_nothing() -> None:
    text = document_html(a_whole_document())
    page = read_html(text)

    assert "default-src 'none'; style-src 'unsafe-inline'; img-src data:" in [
        each.attributes.get("content") for each in page.all("meta")
    ]
    assert page.all("script", "link", "iframe", "object", "form", "base") == []
    assert not re.search(r"url\(|@import|https?:", text)
    addresses = [each.attributes[name] for each in page.all() for name in ("src", "href") if name in each.attributes]
    assert all(address.startswith(("#", "data:image/")) for address in addresses)


def test_the_same_document_gives_the_same_page() -> None:
    assert document_html(a_whole_document()) == document_html(a_whole_document())


def _shape(page: Element) -> list[tuple[str, list[str]]]:
    """The elements of a page with the names of their attributes but for `dir`; without what may stand within words."""
    told = (each for each in page.all() if each.tag not in WITHIN_WORDS | {"br"})
    return [(each.tag, sorted(each.attributes.keys() - {"dir"})) for each in told]


def _told_by_hand(text: str) -> list[tuple[str, str]]:
    one = on_one_line(shown(text))
    many = on_one_line(shown(f"a{text}b{text}{text}{text}"))
    box = on_one_line(f"{shown(text).rstrip('.:')}. {shown(text)}")
    quoted = [("p", on_one_line("\n".join(lines))) for lines in shown_lines(text)]
    return [
        *(("title", one), ("p", one), ("h1", one), ("h2", one), ("p", one), ("p", many), ("p", box), *quoted),
        *(("li", one), ("li", many), ("li", one), ("li", one), ("dt", one), ("dd", one), ("dt", one), ("dd", many)),
        *(("caption", one), ("th", one), ("th", "b"), ("td", one), ("td", ""), ("td", ""), ("td", one)),
        *(("h3", one), ("figcaption", one), ("p", one)),
    ]


@pytest.mark.parametrize("text", HOSTILE.values(), ids=HOSTILE)
def test_texts_of_others_are_read_back_whole_and_add_no_element(text: str) -> None:
    page, harmless = (
        read_html(document_html(hostile_document(text))),
        read_html(document_html(hostile_document("any word"))),
    )

    assert [(tag, on_one_line(said)) for tag, said in page.told()] == _told_by_hand(text)
    assert [on_one_line(each.attributes["alt"]) for each in page.all("img")] == [on_one_line(shown(text))]
    further: list[tuple[str, list[str]]] = [("p", [])] * (len(shown_lines(text)) - 1)
    assert sorted(_shape(page)) == sorted([*_shape(harmless), *further])
    assert {each.attributes["dir"] for each in page.all() if "dir" in each.attributes} <= {"rtl"}
    assert all("style" not in each.attributes or each.tag in {"col", "table"} for each in page.all())


@pytest.mark.parametrize("text", HOSTILE.values(), ids=HOSTILE)
def test_what_stands_within_words_has_no_attribute_from_a_text(text: str) -> None:
    page = read_html(document_html(hostile_document(text)))

    for each in page.all(*WITHIN_WORDS):
        assert set(each.attributes) <= ({"href"} if each.tag == "a" else set())
    for link in page.all("a"):
        assert re.fullmatch(r"#[A-Za-z0-9-]+", link.attributes["href"])


@pytest.mark.parametrize("text", HOSTILE.values(), ids=HOSTILE)
def test_no_element_is_empty(text: str) -> None:
    for document in (hostile_document(text), a_whole_document()):
        for each in read_html(document_html(document)).all():
            assert each.inside or each.tag in MAY_BE_EMPTY | {"br", "col", "img"}


def test_names_that_run_from_the_right_stand_apart() -> None:
    row = (f"{HEBREW}, 1934", "no. 9")
    table = Table(caption="a", columns=(Column(heading="b"), Column(heading="c")), rows=(row,))
    page = read_html(document_html(a_document(Heading(text=f"By {ARABIC} 1935", level=2), table)))

    assert [each.text for each in page.all("bdi")] == [ARABIC, HEBREW]


def test_a_paragraph_of_a_quotation_runs_as_its_first_letter_does() -> None:
    text = f"(1934) {HEBREW} 1934\nlamp\n\nlamp {HEBREW}"
    page = read_html(document_html(a_document(Quotation(text=text, language="he"))))

    first, second = page.all("blockquote")[0].all("p")

    # Not `auto`: that looks past what stands in a `bdi`, which all letters from the right do.
    assert first.attributes == {"dir": "rtl"}
    assert second.attributes == {}


def test_a_page_in_a_language_from_the_right_runs_from_the_right() -> None:
    assert read_html(document_html(a_document(language="he"))).all("html")[0].attributes == {"lang": "he", "dir": "rtl"}
    assert read_html(document_html(a_document())).all("html")[0].attributes == {"lang": "en"}
    assert read_html(document_html(a_document(language="?"))).all("html")[0].attributes == {}


def _luminance(colour: str) -> float:
    """Relative luminance as WCAG 2.2 defines it, of a colour `#rrggbb` (sRGB)."""
    parts = [int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    red, green, blue = (p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _contrast(letters: str, ground: str) -> float:
    light, dark = sorted((_luminance(letters), _luminance(ground)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_the_measure_of_contrast_is_that_of_the_standard() -> None:
    """WCAG 2.2: black on white is 21:1, the most there is; #767676 on white is the lightest grey that has 4.5:1."""
    assert _contrast("#000000", "#ffffff") == pytest.approx(21)
    assert _contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.01)


def test_every_colour_of_letters_has_the_contrast_that_wcag_asks_for_at_level_aaa() -> None:
    """WCAG 2.2, 1.4.6: 7:1 for text of any size, on every ground that the page has."""
    rules = re.sub(r"/\*.*?\*/", "", style_sheet(), flags=re.DOTALL)
    letters = set(re.findall(r"(?<![-\w])color: (#[0-9a-f]{3,6})", rules))
    grounds = {"#ffffff"} | (set(re.findall(r"background: (#[0-9a-f]{3,6})", rules)) - {"#fff"})

    assert len(letters) == 3
    assert len(grounds) == 3
    for letter in letters:
        for ground in grounds:
            assert _contrast(letter, ground) >= 7, (letter, ground)


def test_the_frames_of_a_table_can_be_seen() -> None:
    """WCAG 2.2, 1.4.11: 3:1 for what is needed to understand the page."""
    (frame,) = re.findall(r"th, td \{[^}]*border: 1px solid (#[0-9a-f]{6})", style_sheet())

    assert _contrast(frame, "#ffffff") >= 3


def test_a_document_with_a_photograph_alone_has_its_figure_without_a_caption() -> None:
    page = read_html(document_html(a_document(Figure(picture=a_photograph(), caption=()))))

    assert page.all("figcaption") == []
    assert len(page.all("figure")) == 1
