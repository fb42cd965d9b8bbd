"""Pictures to compare: photographs that registry packages carry, the sample archive's, and drawn ones.

None lies in this repository but those of the sample archive. No two have a pixel in common: where one is cut in tiles,
each pixel is in one tile only. Pictures that have something to do with each other (tiles of one picture, views of
one scene, entries in one form) are of one family, and families are dealt into two parts by a digest of their name:
thresholds are chosen on the smaller, and figures are reported on the other.
"""

import hashlib
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from enum import StrEnum
from functools import cache, lru_cache, partial
from itertools import combinations
from pathlib import Path

import numpy as np
import pywt.data
import skimage
from checkout import ROOT
from likeness import drawn_pictures, scene_pictures
from PIL import Image
from reading.printed_pages import book_page, parts_list, typescript

_ORIGINALS = ROOT / "sample_archive" / "archive" / "originals"
_PACKAGE = Path(skimage.__file__).parent / "data"
SCENES, VIEWS = 60, 4
FORMS, ENTRIES = 45, 4


class Kind(StrEnum):
    """What sort of picture it is."""

    PHOTOGRAPH = "photograph"
    MADE_PHOTOGRAPH = "made photograph"
    PRINT = "historic print"
    DRAWING = "drawing"
    TYPESCRIPT = "typescript"
    FORM = "form"


class Half(StrEnum):
    """What a picture may be used for."""

    CHOOSING = "choosing"
    REPORTING = "reporting"


@dataclass(frozen=True, slots=True, kw_only=True)
class Base:
    """One picture.

    Attributes:
        name: unique.
        kind: what sort of picture it is.
        whence: where it comes from.
        family: the pictures that it has something to do with; its own name where there are none.
        make: makes it.
    """

    name: str
    kind: Kind
    whence: str
    family: str
    make: Callable[[], Image.Image]

    @property
    def half(self) -> Half:
        """By the digest of the family's name: one third for choosing, two thirds for reporting."""
        first = hashlib.sha256(self.family.encode()).digest()[0]
        return Half.CHOOSING if first < 85 else Half.REPORTING

    def picture(self) -> Image.Image:
        """The picture in grey, made anew at each call."""
        return self.make()


@lru_cache(maxsize=8)
def _opened(path: Path) -> Image.Image:
    with Image.open(path) as picture:
        flat = Image.new("RGBA", picture.size, "white")
        flat.alpha_composite(picture.convert("RGBA"))
        return flat.convert("L")


def tile_of(whole: Image.Image, columns: int, rows: int, number: int) -> Image.Image:
    """Cut one tile, counted from 0 row by row, out of a picture; what is left over at right and below is in none."""
    wide, tall = whole.width // columns, whole.height // rows
    left, top = wide * (number % columns), tall * (number // columns)
    return whole.crop((left, top, left + wide, top + tall))


def _cut(opened: Callable[[], Image.Image], columns: int, rows: int, number: int) -> Image.Image:
    return tile_of(opened(), columns, rows, number)


def _tiles(
    name: str, opened: Callable[[], Image.Image], whence: str, *, columns: int = 1, rows: int = 1
) -> Iterator[Base]:
    for number in range(columns * rows):
        yield Base(
            name=name if columns * rows == 1 else f"{name}, tile {number + 1}",
            kind=Kind.PHOTOGRAPH,
            whence=whence,
            family=name,
            make=partial(_cut, opened, columns, rows, number),
        )


_CARRIED: tuple[tuple[str, int, int], ...] = (
    ("brick.png", 1, 1),
    ("camera.png", 1, 1),
    ("chelsea.png", 1, 1),
    ("coffee.png", 1, 1),
    ("coins.png", 1, 1),
    ("grass.png", 1, 2),
    ("gravel.png", 1, 2),
    ("hubble_deep_field.jpg", 2, 2),
    ("ihc.png", 1, 2),
    ("logo.png", 1, 1),
    ("moon.png", 1, 1),
    ("motorcycle_left.png", 1, 1),
    ("page.png", 1, 1),
    ("retina.jpg", 2, 2),
)
"""Files of scikit-image's wheel, and into how many columns and rows each is cut."""


def _carried() -> Iterator[Base]:
    for file, columns, rows in _CARRIED:
        opened = partial(_opened, _PACKAGE / file)
        yield from _tiles(file.partition(".")[0], opened, "scikit-image", columns=columns, rows=rows)
    for name in ("aero", "ascent"):
        made = getattr(pywt.data, name)
        yield from _tiles(name, partial(_from_numbers, made), "PyWavelets", columns=1, rows=2)


def _from_numbers(made: Callable[[], np.ndarray]) -> Image.Image:
    return Image.fromarray(np.asarray(made(), dtype=np.uint8))


_HELD: tuple[tuple[str, Kind], ...] = (
    ("album-starrick/leaf-7.jpg", Kind.MADE_PHOTOGRAPH),
    ("book-ellowby-1958/ellowby-p61.jpg", Kind.TYPESCRIPT),
    ("cutting-1933/packet-7-july-1933.jpg", Kind.TYPESCRIPT),
    ("drawing-30921-c/30921-C.png", Kind.DRAWING),
    ("letter-1933-02-14/rc114.jpg", Kind.TYPESCRIPT),
    ("letter-1998-03-02/dallimoor-1998.jpg", Kind.TYPESCRIPT),
    ("newsletter-1987/line-no6.jpg", Kind.TYPESCRIPT),
    ("photo-inside-no4-1929/saloon-no4.jpg", Kind.MADE_PHOTOGRAPH),
    ("photo-no10-1935/no10.jpg", Kind.MADE_PHOTOGRAPH),
    ("photo-no6-1931/tollan-road-1931.jpg", Kind.MADE_PHOTOGRAPH),
    ("photo-no9-carrowsea-1934/carrowsea-1.jpg", Kind.MADE_PHOTOGRAPH),
    ("photo-no9-rear-1934/carrowsea-2.jpg", Kind.MADE_PHOTOGRAPH),
    ("photo-shed-unnumbered/shed.jpg", Kind.MADE_PHOTOGRAPH),
    ("plate-no9/plate.jpg", Kind.MADE_PHOTOGRAPH),
    ("scan0042-053f1e3a/scan0042.jpg", Kind.TYPESCRIPT),
    ("ventilator-no11/ventilator.jpg", Kind.MADE_PHOTOGRAPH),
)
"""Originals of the sample archive of which none is a copy of another."""


def _held() -> Iterator[Base]:
    for name, kind in _HELD:
        made = partial(_opened, _ORIGINALS / name)
        yield Base(name=name, kind=kind, whence="the sample archive", family=name, make=made)


@lru_cache(maxsize=4)
def _scene(seed: int) -> scene_pictures.Scene:
    return scene_pictures.scene(seed)


def _view(seed: int, number: int) -> Image.Image:
    return scene_pictures.photographed(_scene(seed), scene_pictures.views(seed, VIEWS)[number])


def _engraving(seed: int) -> Image.Image:
    return scene_pictures.engraved(_view(seed, 0), seed)


def _view_base(seed: int, number: int) -> Base:
    return Base(
        name=f"scene {seed}, view {number + 1}",
        kind=Kind.MADE_PHOTOGRAPH,
        whence="rendered from a seed",
        family=f"scene {seed}",
        make=partial(_view, seed, number),
    )


def _entry_base(form: int, entry: int) -> Base:
    return Base(
        name=f"form {form}, entry {entry + 1}",
        kind=Kind.FORM,
        whence="drawn from a seed",
        family=f"form {form}",
        make=partial(drawn_pictures.filled, form, entry),
    )


def _typed(maker: Callable[[int], object], seed: int) -> Image.Image:
    page = maker(seed)
    image: Image.Image = page.image  # type: ignore[attr-defined]  # the makers give it
    return image.resize((image.width // 2, image.height // 2), Image.Resampling.BOX)


_DRAWN: tuple[tuple[str, Kind, Callable[[int], Image.Image], int], ...] = (
    ("engraving", Kind.PRINT, lambda seed: _engraving(1000 + seed), 50),
    ("drawing", Kind.DRAWING, drawn_pictures.drawing, 70),
    ("map", Kind.DRAWING, drawn_pictures.map_sheet, 25),
    ("chart", Kind.DRAWING, drawn_pictures.chart, 15),
    ("rosette", Kind.PRINT, drawn_pictures.patterned, 15),
    ("typescript", Kind.TYPESCRIPT, partial(_typed, typescript), 9),
    ("book page", Kind.TYPESCRIPT, partial(_typed, book_page), 8),
    ("parts list", Kind.TYPESCRIPT, partial(_typed, parts_list), 8),
)


def _drawn() -> Iterator[Base]:
    for name, kind, make, count in _DRAWN:
        for seed in range(count):
            one = f"{name} {seed}"
            yield Base(name=one, kind=kind, whence="drawn from a seed", family=one, make=partial(make, seed))


@cache
def bases() -> tuple[Base, ...]:
    """Every picture, no two of which have anything to do with each other but by their family."""
    views = (_view_base(seed, 0) for seed in range(SCENES))
    entries = (_entry_base(form, 0) for form in range(FORMS))
    return (*_carried(), *_held(), *_drawn(), *views, *entries)


@cache
def scenes() -> tuple[tuple[Base, Base], ...]:
    """Pairs of different photographs of one scene: from other places, on other days, with things moved."""
    made = (
        pair
        for seed in range(SCENES)
        for pair in combinations([_view_base(seed, number) for number in range(VIEWS)], 2)
    )
    stereo = tuple(
        Base(
            name=f"motorcycle_{side}",
            kind=Kind.PHOTOGRAPH,
            whence="scikit-image",
            family="motorcycle_left",
            make=partial(_opened, _PACKAGE / f"motorcycle_{side}.png"),
        )
        for side in ("left", "right")
    )
    return ((stereo[0], stereo[1]), *made)


@cache
def forms() -> tuple[tuple[Base, Base], ...]:
    """Pairs of one printed form with other entries."""
    return tuple(
        pair
        for form in range(FORMS)
        for pair in combinations([_entry_base(form, entry) for entry in range(ENTRIES)], 2)
    )
