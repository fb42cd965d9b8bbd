"""What can be set about the reading of pages, with what was found best."""

from dataclasses import dataclass, replace

READING_FORMAT = 3
"""Counts up whenever the same page may be read otherwise than before: kept readings are then made afresh."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingSettings:
    """How pages are recognised.

    Attributes:
        layout_mode: Tesseract's page segmentation mode; 3 finds the layout by itself.
        double_below: pages of fewer pixels across are doubled before they are recognised.
        least_dpi: at which a page of a PDF is drawn at least.
        most_dpi: and at most, where its scan is finer or nothing is known of it.
        sheet_inches: a page whose longer side is more than this is a sheet: a drawing, a poster, a map. A2 has 23.4
            (ISO 216), a newspaper not more.
        sheet_layout_mode: how sheets are read; 11 looks for words wherever they stand. Finding the layout of a sheet
            that is full of lines took 54 s, and this 2 s with as many part numbers read. Measured.
    """

    layout_mode: int = 3
    double_below: int = 1400
    least_dpi: int = 200
    most_dpi: int = 300
    sheet_inches: float = 24.0
    sheet_layout_mode: int = 11

    def for_page(self, pixels: tuple[int, int], dpi: float | None) -> "ReadingSettings":
        """Give the settings for a page of this size.

        Args:
            pixels: width and height.
            dpi: its resolution; None where nothing believable is known, and `most_dpi` is taken.
        """
        if max(pixels) / (dpi or self.most_dpi) <= self.sheet_inches:
            return self
        return replace(self, layout_mode=self.sheet_layout_mode)
