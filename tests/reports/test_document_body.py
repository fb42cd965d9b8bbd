"""What stands on a printed page, shown within another page."""

import re

from reports.hostile import HOSTILE, hostile_document

from provenance.reports.document_html import document_body_html, document_html


def test_a_document_is_shown_within_a_page_with_its_headings_moved_down_and_no_style_of_its_own() -> None:
    document = hostile_document("a lamp")

    whole, body, deep = document_html(document), document_body_html(document), document_body_html(document, deeper=2)

    levels = [int(each) for each in re.findall(r"<h(\d)", whole)]
    assert [int(each) for each in re.findall(r"<h(\d)", body)] == [level + 1 for level in levels]
    assert [int(each) for each in re.findall(r"<h(\d)", deep)] == [level + 2 for level in levels]
    assert "style" not in body
    assert "<html" not in body
    assert re.findall(r'id="([^"]*)"', body) == re.findall(r'id="([^"]*)"', whole)
    assert re.findall(r">([^<]+)<", body)[-1] == re.findall(r">([^<]+)<", whole[: whole.index("</main>")])[-1]


def test_nothing_that_stands_in_it_is_obeyed() -> None:
    plain = re.findall(r"<[a-z][^ >]*", document_body_html(hostile_document("x")))

    shown = document_body_html(hostile_document(HOSTILE["a tag that ends what it stands in"]))

    assert re.findall(r"<[a-z][^ >]*", shown) == plain
