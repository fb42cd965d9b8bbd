from collections.abc import Sequence
from dataclasses import replace

import pytest
from builders import an_archive
from reports.registers import an_archive_with_everything, the_features, the_sources

from provenance.reports.document import Boxed, Document, Heading, Paragraph, Table, flat
from provenance.reports.registers import FeatureRow, Register, SourceRow, cells_of
from provenance.reports.registers_document import register_document


def table_of(document: Document) -> Table:
    (table,) = (block for block in flat(document.blocks) if isinstance(block, Table))
    return table


def paragraphs_of(document: Document) -> list[str]:
    return ["".join(run.text for run in block.words) for block in flat(document.blocks) if isinstance(block, Paragraph)]


@pytest.fixture(params=["sources", "features"])
def register(request: pytest.FixtureRequest) -> Register:
    archive = an_archive_with_everything("so it was")
    return the_sources(archive) if request.param == "sources" else the_features(archive)


def test_every_field_of_every_row_stands_in_the_same_row_of_the_table(register: Register) -> None:
    table = table_of(register_document(register))

    assert len(table.rows) == len(register.rows)
    rows: Sequence[SourceRow | FeatureRow] = register.rows
    for row, cells in zip(rows, table.rows, strict=True):
        assert len(cells) == len(table.columns)
        for field in cells_of(row):
            assert field.rstrip(".").casefold() in "\n".join(cells).casefold()


def test_a_register_lies_on_its_side_and_says_on_every_page_that_the_object_is_a_re_creation(
    register: Register,
) -> None:
    document = register_document(register)

    assert document.lying
    assert "The object is a modern re-creation." in document.running
    assert isinstance(document.blocks[0], Heading)
    assert (document.blocks[0].level, document.blocks[0].text) == (1, register.head.title)
    assert list(register.head.about) == paragraphs_of(document)[: len(register.head.about)]


def test_a_draft_is_marked_on_every_page() -> None:
    draft, final = (register_document(the_sources(an_archive_with_everything(), draft=each)) for each in (True, False))

    assert (draft.draft, final.draft) == (True, False)
    assert draft.running.startswith("DRAFT, not for display. ")
    assert "DRAFT" not in final.running


def test_cautions_stand_before_the_list(register: Register) -> None:
    blocks = register_document(register).blocks

    boxes = [number for number, block in enumerate(blocks) if isinstance(block, Boxed)]
    (table,) = (number for number, block in enumerate(blocks) if isinstance(block, Table))

    assert boxes
    assert max(boxes) < table
    assert any("not evidence that it is safe" in text for text in paragraphs_of(register_document(register)))


def test_where_there_is_nothing_to_list_that_is_said() -> None:
    document = register_document(the_features(replace(an_archive(), components={})))

    assert not any(isinstance(block, Table) for block in document.blocks)
    assert paragraphs_of(document)[-1] == "There is nothing to list."


def test_no_sentence_in_a_cell_ends_in_two_full_stops() -> None:
    archive = an_archive_with_everything("Made by Orrin & Co.")

    cells = [cell for row in table_of(register_document(the_sources(archive))).rows for cell in row]

    assert any("Orrin & Co." in cell for cell in cells)
    assert not any("Co.." in cell for cell in cells)
