"""Which pages are sheets, whose words stand anywhere."""

import pytest

from provenance.reading.settings import ReadingSettings

# ISO 216, in millimetres: A0 841 by 1189, A1 594 by 841, A2 420 by 594, A4 210 by 297.
A0, A1, A2, A4 = (841, 1189), (594, 841), (420, 594), (210, 297)


def pixels(sheet: tuple[int, int], dpi: float) -> tuple[int, int]:
    return round(sheet[0] / 25.4 * dpi), round(sheet[1] / 25.4 * dpi)


@pytest.mark.parametrize("dpi", [75.0, 150.0, 300.0])
@pytest.mark.parametrize(("sheet", "mode"), [(A0, 11), (A1, 11), (A2, 3), (A4, 3)])
def test_a_page_larger_than_a2_is_read_as_a_sheet_at_any_resolution(
    sheet: tuple[int, int], mode: int, dpi: float
) -> None:
    assert ReadingSettings().for_page(pixels(sheet, dpi), dpi).layout_mode == mode
    assert ReadingSettings().for_page(pixels(sheet, dpi)[::-1], dpi).layout_mode == mode


@pytest.mark.parametrize(("sheet", "mode"), [(A1, 11), (A4, 3)])
def test_where_no_resolution_is_known_that_of_a_usual_scan_is_taken(sheet: tuple[int, int], mode: int) -> None:
    assert ReadingSettings().for_page(pixels(sheet, 300), None).layout_mode == mode


def test_what_was_set_otherwise_stays() -> None:
    settings = ReadingSettings(layout_mode=4, double_below=900)

    assert settings.for_page(pixels(A4, 300), 300.0) is settings
    assert settings.for_page(pixels(A0, 150), 150.0) == ReadingSettings(layout_mode=11, double_below=900)
