from pathlib import Path

import pytest
from pages.hostile_pdfs import CATALOG, ONE_PAGE, SQUARE, nested_arrays, page, pages_of_text, self_reference, write_pdf

from provenance.pages import layer_documents
from provenance.pages.layer_documents import open_for_layer, unit_of_page


def test_a_document_shows_each_page_once(tmp_path: Path) -> None:
    path = pages_of_text(tmp_path / "manual.pdf", 3)

    document = open_for_layer(path)

    assert (len(document.pages), document.is_whole) == (3, True)
    assert document.pdf is not None


def test_a_page_that_was_changed_later_is_still_one_page(tmp_path: Path) -> None:
    """Each revision has a table of its own (ISO 32000-1, 7.5.6); with an empty page tree both are searched."""
    path = write_pdf(tmp_path / "changed.pdf", CATALOG, b"<</Type/Pages/Kids[]/Count 0>>", page())
    first = path.read_bytes()
    changed = b"3 0 obj" + page() + b"\nendobj\n"
    table = b"xref\n3 1\n%010d 00000 n \n" % len(first)
    before = first[first.rindex(b"startxref") :].split()[1]
    end = b"trailer\n<</Root 1 0 R/Size 4/Prev %s>>\nstartxref\n%d\n%%%%EOF\n" % (before, len(first) + len(changed))
    path.write_bytes(first + changed + table + end)

    document = open_for_layer(path)

    assert (len(document.pages), document.is_whole) == (1, True)


def test_no_more_pages_than_the_limit_are_looked_for(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(layer_documents, "MOST_PAGES", 4)  # as a file of thousands would be, and quick
    path = pages_of_text(tmp_path / "manual.pdf", 9)

    assert len(open_for_layer(path).pages) == 5  # one more, which says that there are too many


def test_a_document_that_breaks_the_engine_has_no_pages(tmp_path: Path) -> None:
    path = nested_arrays(tmp_path / "nested.pdf")

    document = open_for_layer(path)

    assert (document.pages, document.is_whole) == ([], False)


def test_a_file_that_cannot_be_opened_at_all_has_no_pages(tmp_path: Path) -> None:
    path = tmp_path / "torn.pdf"
    path.write_bytes(b"%PDF-1.7\ntorn")

    document = open_for_layer(path)

    assert (document.pdf, document.pages, document.is_whole) == (None, [], False)


def test_a_document_that_leads_the_engine_in_a_circle_costs_a_limited_time(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(layer_documents, "SECONDS_TO_WALK", 0.3)  # the same end, sooner
    path = self_reference(tmp_path / "circle.pdf")

    document = open_for_layer(path)

    assert (document.pages, document.is_whole) == ([], False)


@pytest.mark.parametrize(
    ("stated", "unit"),
    [(b"", 1), (b"/UserUnit 10", 10), (b"/UserUnit 0.01", 1), (b"/UserUnit[2]", 1), (b"/UserUnit 9" + b"9" * 400, 1e6)],
)
def test_the_unit_of_a_page_is_at_least_a_point(tmp_path: Path, stated: bytes, unit: float) -> None:
    path = write_pdf(tmp_path / "drawing.pdf", CATALOG, ONE_PAGE, page(SQUARE + stated))

    assert unit_of_page(path, 1) == unit


def test_a_page_that_is_not_found_has_the_common_unit(tmp_path: Path) -> None:
    path = write_pdf(tmp_path / "drawing.pdf", CATALOG, ONE_PAGE, page(SQUARE + b"/UserUnit 10"))

    assert unit_of_page(path, 2) == 1
