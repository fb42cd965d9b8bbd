"""Photographs to compare in the tests of tasks: real ones that scikit-image carries, and what becomes of them."""

from pathlib import Path

import skimage.data
from PIL import Image, ImageEnhance, ImageOps

from provenance.tasks.opening import Opened, open_folder


def a_photograph(name: str = "camera", *, side: int = 400) -> Image.Image:
    """A real photograph in grey; `name` is one of scikit-image's."""
    picture = Image.fromarray(getattr(skimage.data, name)()).convert("L")
    return ImageOps.fit(picture, (side, side * 3 // 4))


def a_rescan(picture: Image.Image) -> Image.Image:
    """The same print on another scanner: coarser, and faded."""
    smaller = picture.resize((picture.width * 3 // 4, picture.height * 3 // 4))
    return ImageEnhance.Contrast(ImageEnhance.Brightness(smaller).enhance(1.2)).enhance(0.7)


def a_crop(picture: Image.Image) -> Image.Image:
    """The middle of it, made larger."""
    box = (picture.width // 6, picture.height // 6, picture.width * 5 // 6, picture.height * 5 // 6)
    return picture.crop(box).resize(picture.size)


def laid_down(path: Path, picture: Image.Image) -> Path:
    """A picture as a file."""
    path.parent.mkdir(parents=True, exist_ok=True)
    picture.save(path, quality=90)
    return path


def open_again(opened: Opened) -> Opened:
    """The archive as it stands now."""
    return open_folder(opened.folder)
