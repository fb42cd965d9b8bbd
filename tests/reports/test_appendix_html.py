import re
from html.parser import HTMLParser

import pytest
from builders import a_component, an_archive
from reports.appendices import a_whole_archive, the_appendix, with_panel

from provenance.reports.appendix_html import _STYLE, appendix_html

HOSTILE = "</p><script>alert('x')</script> \"q\" & <img src=x onerror=y> \u202e\x1b[31m"
_VOID = {"meta", "link", "br", "img", "hr", "input"}


class _Reader(HTMLParser):
    """Reads a page with the standard library's parser, and refuses tags that do not close in order."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.open: list[str] = []
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.text = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        if tag not in _VOID:
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        if "style" not in self.open:
            self.text += data


def _read(page: str) -> _Reader:
    reader = _Reader()
    reader.feed(page)
    reader.close()
    assert reader.open == []
    return reader


def test_the_page_is_well_formed_and_every_citation_leads_to_its_source() -> None:
    reader = _read(appendix_html(the_appendix(a_whole_archive())))

    anchors = {attrs["id"] for _, attrs in reader.tags if "id" in attrs}
    links = {str(attrs["href"]).removeprefix("#") for tag, attrs in reader.tags if tag == "a"}

    assert links == anchors == {"source-1", "source-2", "source-3"}


def test_the_page_says_on_every_printed_page_that_the_object_is_a_modern_re_creation() -> None:
    page = appendix_html(the_appendix(a_whole_archive()))

    assert "modern re-creation" in page.split("<main>")[0].split("<body>")[1]
    assert ".running { display: table-header-group; break-inside: avoid; }" in page


def test_a_draft_is_marked_where_every_page_shows_it() -> None:
    draft = appendix_html(the_appendix(a_whole_archive(), draft=True))

    assert "DRAFT" in draft.split("<main>")[0].split("<body")[1]
    assert "Draft of 25 November 2026." in draft
    assert "DRAFT" not in appendix_html(the_appendix(a_whole_archive()))


def test_markup_in_texts_of_others_stays_text() -> None:
    reader = _read(appendix_html(the_appendix(a_whole_archive(HOSTILE))))

    assert {tag for tag, _ in reader.tags}.isdisjoint({"script", "img"})
    assert all(not name.startswith("on") for _, attrs in reader.tags for name in attrs)
    assert "<script>alert('x')</script>" in reader.text
    assert "\x1b" not in reader.text
    assert "\u202e" not in reader.text


def test_the_page_asks_for_nothing_outside_itself() -> None:
    page = appendix_html(the_appendix(a_whole_archive()))

    assert "default-src 'none'" in page
    assert not re.search(r"(src|href)=\"(?!#)|url\(|@import|https?:", page)


def test_the_same_appendix_gives_the_same_page() -> None:
    assert appendix_html(the_appendix(a_whole_archive())) == appendix_html(the_appendix(a_whole_archive()))


def test_what_is_missing_is_said() -> None:
    text = _read(appendix_html(the_appendix(with_panel(an_archive(a_component()), components=())))).text

    assert "The panel names no part." in text
    assert text.count("No source can be shown.") == 2
    assert "Nothing in the parts named here is known to be conjecture." in text
    assert "No change from the evidence is declared" in text
    assert "Why this one is not recorded yet." in text


def test_evidence_of_form_is_said_not_to_be_evidence_of_fitness_with_or_without_a_hazard() -> None:
    bare = with_panel(an_archive(a_component()))

    for archive in (a_whole_archive(), bare):
        assert "not evidence that it is safe" in appendix_html(the_appendix(archive))


def _luminance(colour: str) -> float:
    """Relative luminance as WCAG 2.2 defines it, of a colour `#rrggbb` (sRGB)."""
    parts = [int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    red, green, blue = (p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def test_the_measure_of_contrast_is_that_of_the_standard() -> None:
    """WCAG 2.2: black on white is 21:1, the most there is; #767676 on white is the lightest grey that has 4.5:1."""
    assert (1 + 0.05) / (_luminance("#000000") + 0.05) == pytest.approx(21)
    assert (1 + 0.05) / (_luminance("#767676") + 0.05) == pytest.approx(4.54, abs=0.01)


def test_every_colour_of_letters_has_the_contrast_that_wcag_asks_for_at_level_aaa() -> None:
    """WCAG 2.2, 1.4.6: 7:1 for text of any size, on the white of the page."""
    colours = set(re.findall(r"(?<![-\w])color: (#[0-9a-f]{6})", _STYLE))

    assert len(colours) == 3
    for colour in colours:
        assert 1.05 / (_luminance(colour) + 0.05) >= 7, colour
