"""The figures of a dossier as pictures for a document: the drawing, its size on paper, and all it tells in words."""

import re
from collections.abc import Mapping

from provenance.reports.descended import Descended
from provenance.reports.descended_svg import descended_svg
from provenance.reports.descent_drawn import descent_in_words
from provenance.reports.document import Picture
from provenance.reports.measure_svg import measure_svg
from provenance.reports.measure_words import measure_in_full
from provenance.reports.sequence import SequenceFigure
from provenance.reports.sequence_svg import sequence_svg
from provenance.reports.sequence_words import sequence_in_words
from provenance.reports.svg_drawing import PIXELS
from provenance.rules.quantity_values import Quantity

WIDEST, TALLEST = 170.0, 240.0
"""The room for a figure on a page of A4, in millimetres."""
_SIZE = re.compile(r'<svg\b[^>]*?\swidth="([0-9.]+)"[^>]*?\sheight="([0-9.]+)"')


def svg_picture(svg: str, says: str) -> Picture:
    """Make a picture of a drawing, no larger than drawn and no larger than the page.

    Args:
        svg: a drawing whose width and height are in pixels of 1/96 inch.
        says: what it shows, for who cannot see it.

    Raises:
        ValueError: the drawing does not say how large it is.
    """
    size = _SIZE.search(svg)
    if size is None:
        raise ValueError("a drawing that does not say how large it is")
    width, height = (float(side) / PIXELS for side in size.groups())
    smaller = min(1.0, WIDEST / width, TALLEST / height)
    return Picture(
        data=svg.encode(),
        media_type="image/svg+xml",
        says=says,
        width=width * smaller,
        height=height * smaller,
    )


def sequence_picture(figure: SequenceFigure) -> Picture:
    """The order of production with what was seen on each machine."""
    return svg_picture(sequence_svg(figure), sequence_in_words(figure))


def measure_picture(quantity: Quantity, titles: Mapping[str, str]) -> Picture:
    """The figures of a measure along one scale.

    Args:
        quantity: the figures.
        titles: the titles of the sources, by id.
    """
    return svg_picture(measure_svg(quantity, titles), measure_in_full(quantity, titles))


def descent_picture(descended: Descended, *, is_public: bool = False) -> Picture:
    """What was made from what.

    Args:
        descended: the family; for the public, composed from the public view of the archive alone.
        is_public: whether it leaves the team: then nothing is said that is meant for the team alone.
    """
    svg = descended_svg(descended, is_public=is_public)
    return svg_picture(svg, descent_in_words(descended, is_public=is_public))
