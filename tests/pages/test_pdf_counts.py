from collections.abc import Callable
from pathlib import Path

import pikepdf
import pytest
from pages.hostile_pdfs import (
    CATALOG,
    ONE_PAGE,
    SQUARE,
    deep_tree,
    drawn,
    loop_of_pages,
    page,
    pages_of_text,
    self_reference,
    write_pdf,
)
from pages.made_originals import born_digital, image_only

from provenance.errors import UnreadableOriginalError
from provenance.pages import layer_documents, pdf_counts
from provenance.pages.pdf_counts import PageCount, count_pages


def test_where_both_readers_agree_there_is_nothing_to_say(tmp_path: Path) -> None:
    path = born_digital(tmp_path / "manual.pdf", pages=3)

    assert count_pages(path) == PageCount(pages=3)


def test_pages_that_the_document_does_not_own_up_to_are_not_lost(tmp_path: Path) -> None:
    path = pages_of_text(tmp_path / "fewer.pdf", 3, count=1)

    assert count_pages(path) == PageCount(pages=3, note="two readers count its pages differently: 1 and 3")


def test_pages_that_the_document_states_and_that_are_not_there_are_not_lost(tmp_path: Path) -> None:
    path = pages_of_text(tmp_path / "more.pdf", 2, count=5)

    assert count_pages(path) == PageCount(pages=5, note="two readers count its pages differently: 5 and 2")


def test_a_page_outside_an_empty_tree_is_found(tmp_path: Path) -> None:
    path = write_pdf(tmp_path / "orphan.pdf", CATALOG, b"<</Type/Pages/Kids[]/Count 0>>", page())

    assert count_pages(path) == PageCount(pages=1, note="two readers count its pages differently: 0 and 1")


def test_a_page_tree_that_holds_itself_counts_what_it_states(tmp_path: Path) -> None:
    path = loop_of_pages(tmp_path / "loop.pdf")

    assert count_pages(path) == PageCount(pages=1, note="two readers count its pages differently: 1 and 0")


def test_a_reader_that_breaks_off_costs_its_own_count_alone(tmp_path: Path) -> None:
    path = deep_tree(tmp_path / "deep.pdf")

    count = count_pages(path)

    assert count == PageCount(pages=1, note="one of two readers counts 1 of its pages, the other broke off after 0")


def test_a_reader_that_never_ends_costs_its_own_count_alone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(layer_documents, "SECONDS_TO_WALK", 0.5)  # the same end, sooner
    path = self_reference(tmp_path / "circle.pdf")

    count = count_pages(path)

    assert count == PageCount(pages=1, note="one of two readers counts 1 of its pages, the other broke off after 0")


def test_a_few_bytes_cannot_claim_a_million_pages(tmp_path: Path) -> None:
    path = write_pdf(tmp_path / "boast.pdf", CATALOG, b"<</Type/Pages/Kids[3 0 R]/Count 1000000>>", page())

    count = count_pages(path)

    note = "two readers count its pages differently: 1000000 and 1; the larger number is not believed"
    assert count == PageCount(pages=1, note=note)


def test_a_boast_of_which_no_page_can_be_found_is_refused(tmp_path: Path) -> None:
    path = write_pdf(tmp_path / "boast.pdf", CATALOG, b"<</Type/Pages/Kids[9 0 R]/Count 1000000>>")

    with pytest.raises(UnreadableOriginalError, match="says that it has 1000000 pages, and the last cannot be opened"):
        count_pages(path)


def test_one_page_named_over_and_over_is_no_long_manual(tmp_path: Path) -> None:
    tree = b"<</Type/Pages/Kids[" + b"3 0 R " * 1200 + b"]/Count 1200>>"

    count = count_pages(write_pdf(tmp_path / "again.pdf", CATALOG, tree, page()))

    assert count.pages == 1
    assert "1200 and 1; the larger number is not believed" in count.note


@pytest.mark.parametrize(
    ("stated", "note"), [(1200, ""), (1300, "two readers count its pages differently: 1300 and 1200")]
)
def test_a_long_manual_of_which_most_pages_are_found_is_believed(tmp_path: Path, stated: int, note: str) -> None:
    path = pages_of_text(tmp_path / "long.pdf", 1200, count=stated)

    assert count_pages(path) == PageCount(pages=stated, note=note)


def test_a_document_of_more_pages_than_can_ever_be_read_is_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(pdf_counts, "MOST_PAGES", 10)  # as a file of thousands would be, and quick

    with pytest.raises(UnreadableOriginalError, match=r"long\.pdf has more than 10 pages.*\n.*split it"):
        count_pages(pages_of_text(tmp_path / "long.pdf", 11))


def test_a_document_without_a_page_for_either_reader_is_refused(tmp_path: Path) -> None:
    path = write_pdf(tmp_path / "none.pdf", CATALOG, b"<</Type/Pages/Kids[]/Count 0>>")

    with pytest.raises(UnreadableOriginalError, match="a damaged or cut-short PDF"):
        count_pages(path)


def scanned(path: Path) -> Path:
    return image_only(path)


def without_its_table(path: Path) -> Path:
    return write_pdf(path, *drawn(), has_table=False)


def with_packed_objects(path: Path) -> Path:
    with pikepdf.open(born_digital(path.with_name("plain.pdf"), pages=7)) as document:
        document.save(path, object_stream_mode=pikepdf.ObjectStreamMode.generate)
    return path


def revised(path: Path) -> Path:
    """A document to which another page was added behind its end (ISO 32000-1, 7.5.6)."""
    first = write_pdf(path, CATALOG, ONE_PAGE, page()).read_bytes()
    added = b"2 0 obj<</Type/Pages/Kids[3 0 R 4 0 R]/Count 2>>endobj\n4 0 obj" + page() + b"\nendobj\n"
    places = len(first), len(first) + added.index(b"4 0 obj")
    table = b"xref\n2 1\n%010d 00000 n \n4 1\n%010d 00000 n \n" % places
    before = first[first.rindex(b"startxref") :].split()[1]
    end = b"trailer\n<</Root 1 0 R/Size 5/Prev %s>>\nstartxref\n%d\n%%%%EOF\n" % (before, len(first) + len(added))
    path.write_bytes(first + added + table + end)
    return path


def nested_tree(path: Path) -> Path:
    tree = b"<</Type/Pages/Kids[3 0 R 4 0 R]/Count 3>>"
    branch = b"<</Type/Pages/Parent 2 0 R/Kids[5 0 R 6 0 R]/Count 2>>"
    leaf = b"<</Type/Page/Parent 4 0 R" + SQUARE + b">>"
    return write_pdf(path, CATALOG, tree, page(), branch, leaf, leaf)


def stating_too_few(path: Path) -> Path:
    return pages_of_text(path, 3, count=1)


def stating_too_many(path: Path) -> Path:
    return pages_of_text(path, 2, count=3)


SOUND = (born_digital, scanned, without_its_table, with_packed_objects, revised, nested_tree)
ODD = (stating_too_few, stating_too_many)


@pytest.mark.parametrize("make", [*SOUND, *ODD])
def test_the_pages_are_those_that_a_third_reader_counts_or_it_is_said(
    tmp_path: Path, make: Callable[[Path], Path]
) -> None:
    """Source: pikepdf, which is built on qpdf: an implementation apart from both engines."""
    path = make(tmp_path / "document.pdf")
    with pikepdf.open(path) as document:
        counted = len(document.pages)

    count = count_pages(path)

    assert (count.note == "") == (make in SOUND)
    assert count.pages >= counted
    assert count.pages == counted or f"{count.pages} and {counted}" in count.note


def test_the_reason_of_one_document_is_never_given_for_the_next(tmp_path: Path) -> None:
    write_pdf(tmp_path / "plain.pdf", *drawn())
    with pikepdf.open(tmp_path / "plain.pdf") as opened:
        opened.save(tmp_path / "locked.pdf", encryption=pikepdf.Encryption(owner="owner", user="open sesame"))
    empty = write_pdf(tmp_path / "empty.pdf", CATALOG, b"<</Type/Pages/Kids[]/Count 0>>")

    with pytest.raises(UnreadableOriginalError, match=r"locked\.pdf is locked by a password"):
        count_pages(tmp_path / "locked.pdf")
    with pytest.raises(UnreadableOriginalError, match=r"empty\.pdf is a damaged or cut-short PDF"):
        count_pages(empty)
