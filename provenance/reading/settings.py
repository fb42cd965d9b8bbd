"""What can be set about the reading of pages, with what was found best."""

from dataclasses import dataclass

READING_FORMAT = 2
"""Counts up whenever the same page may be read otherwise than before: kept readings are then made afresh."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingSettings:
    """How pages are recognised.

    Attributes:
        layout_mode: Tesseract's page segmentation mode; 3 finds the layout by itself.
        double_below: pages of fewer pixels across are doubled before they are recognised.
        least_dpi: at which a page of a PDF is drawn at least.
        most_dpi: and at most, where its scan is finer or nothing is known of it.
    """

    layout_mode: int = 3
    double_below: int = 1400
    least_dpi: int = 200
    most_dpi: int = 300
