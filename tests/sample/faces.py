"""The typefaces of the sample: found in packages that a developer installs, never copied.

    pip install --target FOLDER fontpkg-arimo fontpkg-cardo fontpkg-jost fontpkg-libre-baskerville \
        fontpkg-news-cycle fontpkg-shadows-into-light
    npm install --prefix FOLDER @fontsource/old-standard-tt @fontsource/special-elite

All are under the SIL Open Font License 1.1 but Special Elite and Arimo (Apache License 2.0).
"""

from dataclasses import dataclass
from pathlib import Path

from PIL import ImageFont

_FILES = {
    "book": "old-standard-tt-latin-400-normal.woff",
    "book-bold": "old-standard-tt-latin-700-normal.woff",
    "book-italic": "old-standard-tt-latin-400-italic.woff",
    "typewriter": "special-elite-latin-400-normal.woff",
    "garamond": "Cardo-Regular.ttf",
    "garamond-italic": "Cardo-Italic.ttf",
    "baskerville": "LibreBaskerville[wght].ttf",
    "news": "NewsCycle-Regular.ttf",
    "news-bold": "NewsCycle-Bold.ttf",
    "drawing": "Jost[wght].ttf",
    "hand": "ShadowsIntoLight.ttf",
    "plain": "Arimo[wght].ttf",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Faces:
    """The typefaces by what they are used for.

    Attributes:
        folder: where the packages were installed.
    """

    folder: Path

    def find(self, name: str, size: float) -> ImageFont.FreeTypeFont:
        """Open a face.

        Args:
            name: one of the uses listed above.
            size: height of the em in pixels.

        Raises:
            FileNotFoundError: the package that carries it is not installed under the folder.
        """
        wanted = _FILES[name]
        for found in sorted(self.folder.rglob("*")):
            if found.name == wanted:
                return ImageFont.truetype(str(found), size, layout_engine=ImageFont.Layout.BASIC)
        raise FileNotFoundError(f"{wanted} is not under {self.folder}; see the head of {__file__}")
