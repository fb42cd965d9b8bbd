import pytest

from provenance.reading.evidence import evidence, is_well_read, letters, share_sure
from provenance.records.readings import Word

GOOD = (Word("bracket", 1, None, 96.0), Word("H-204", 1, None, 90.0), Word("|", 2, None, 30.0))
POOR = (Word("yoeJq", 1, None, 31.0), Word("pue", 1, None, 88.0), Word("\u2014", 2, None, 95.0))


def test_only_letters_and_figures_count() -> None:
    assert letters(GOOD) == 7 + 4
    assert letters((Word("\u2014", 1, None, 95.0),)) == 0


def test_a_page_is_well_read_when_most_of_its_letters_are_sure_ones() -> None:
    assert (share_sure(GOOD), is_well_read(GOOD)) == (1.0, True)
    assert (share_sure(POOR), is_well_read(POOR)) == (3 / 8, False)


def test_a_page_without_a_letter_is_not_well_read() -> None:
    assert not is_well_read(())
    assert not is_well_read((Word("\u2014", 1, None, 99.0),))


def test_a_reading_weighs_by_its_sure_letters_each_by_how_sure_it_is() -> None:
    assert evidence(GOOD) == pytest.approx(7 * 0.96 + 4 * 0.90)
    assert evidence(POOR) == pytest.approx(3 * 0.88)
    assert evidence(()) == 0
