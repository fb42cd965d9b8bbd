"""What likeness compares, and what it answers."""

from dataclasses import dataclass
from enum import StrEnum

import numpy as np
import numpy.typing as npt

from provenance.records.readings import Box

Corners = tuple[tuple[float, float], ...]
"""A quadrilateral on a page upright as delivered, in percent of its width and height: four corners in order."""


class Likeness(StrEnum):
    """What the comparison of two pictures or two texts comes to, before a person rules."""

    COPY = "copy"
    POSSIBLE = "possible"
    DISTINCT = "distinct"


class Form(StrEnum):
    """How the second of two pictures has to be taken to match the first; turns are told by the match itself."""

    PLAIN = "plain"
    MIRRORED = "mirrored"
    NEGATIVE = "negative"
    MIRRORED_NEGATIVE = "mirrored negative"


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class PicturePrint:
    """The fingerprint of one picture: a whole page, or a picture placed on one.

    Attributes:
        part: where the picture stands on its page; the whole page is `Box(0, 0, 100, 100)`.
        small: the picture in grey, made small: height by width, 8 bits.
        hash: 64 bits of its coarse light and dark, as a perceptual hash.
        points: for each point by which it is known again: x and y in pixels of `small`, size in pixels, and direction
            in degrees; shape (n, 4), 32-bit floats.
        marks: what the surroundings of each point look like, in bits that are compared by how many differ; shape
            (n, bytes), 8 bits.
    """

    part: Box
    small: npt.NDArray[np.uint8]
    hash: int
    points: npt.NDArray[np.float32]
    marks: npt.NDArray[np.uint8]


@dataclass(frozen=True, slots=True, kw_only=True)
class PictureMatch:
    """What the comparison of two pictures came to.

    Attributes:
        likeness: copy, possible or distinct.
        score: 0 to 1, for sorting; 1 is equal.
        inliers: how many points of the one lie where the geometry of the match wants them on the other.
        overlap: the share of the smaller picture's area that the matched area covers, 0 to 1.
        correlation: how alike light and dark are within the matched area, block by block, -1 to 1.
        form: how the second has to be taken.
        one: the matched area on the page of the first.
        other: the matched area on the page of the second.
        why: one plain sentence with the figures: the reason that is kept with the pair.
    """

    likeness: Likeness
    score: float
    inliers: int
    overlap: float
    correlation: float
    form: Form
    one: Corners
    other: Corners
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SharedError:
    """An odd wording that two texts have in common at the same place: evidence of descent.

    Attributes:
        written: the word as it stands in the first text.
        usual: the word that it seems to be meant for, as it stands elsewhere in the archive.
        at_one: offset of the word in the first text, in characters from 0.
        at_other: offset of the word in the second text.
    """

    written: str
    usual: str
    at_one: int
    at_other: int


@dataclass(frozen=True, slots=True, kw_only=True)
class TextMatch:
    """What the comparison of two texts came to.

    Attributes:
        key: of the second text.
        likeness: copy, possible or distinct.
        score: 0 to 1, for sorting.
        letters: how many letters of the first text are aligned with the second and are not common to many texts.
        alike: the share of the aligned letters that are equal, 0 to 1.
        one: start and end of the aligned span in the first text, in characters from 0.
        other: the same in the second text.
        errors: odd wordings that both have at the same place; empty for none.
        why: one plain sentence with the figures: the reason that is kept with the pair.
    """

    key: str
    likeness: Likeness
    score: float
    letters: int
    alike: float
    one: tuple[int, int]
    other: tuple[int, int]
    errors: tuple[SharedError, ...]
    why: str
