"""The typefaces of what is printed: which there are, and which characters they have."""

import json
import unicodedata
from collections.abc import Iterator, Sequence
from functools import cache, cached_property
from importlib.resources import files
from logging import CRITICAL, getLogger
from struct import error as StructError  # noqa: N812  # a class named as one

import fontpkg_arimo
import fontpkg_noto_sans_arabic
import typst
from fontTools.ttLib import TTFont, TTLibError

from provenance.reports.document import Document
from provenance.reports.pdf_text import clusters, printable
from provenance.reports.printed_texts import texts_of
from provenance.reports.typesetting import typeset

OWN = ("Arimo", "Noto Sans Arabic")

_AROUND = 20  # characters shown before and after one that is missing
_MOST = 5  # missing characters that are looked for
_PRIVATE = "Co"
_DAMAGE = (TTLibError, StructError, OSError, ValueError, LookupError, AssertionError, AttributeError, TypeError)
_SOME_CHARACTERS = b"""#set document(title: "-", date: none)
#set text(font: json("faces.json"))
#json("text.json")"""


class MissingCharacterError(Exception):
    """No typeface has a character that is to be printed.

    Attributes:
        character: the first one.
        others: further ones in order, of those that were looked for.
        around: the words in which it stands, fit to be printed.
    """

    def __init__(self, character: str, others: tuple[str, ...], around: str) -> None:
        """Name the character, and where it stands."""
        super().__init__(f"no typeface has {named(character)}")
        self.character = character
        self.others = others
        self.around = around


def named(character: str) -> str:
    """A character as people look it up, such as `漢 (U+6F22, CJK UNIFIED IDEOGRAPH-6F22)`."""
    name = unicodedata.name(character, "a character without a name")
    return f"{character} (U+{ord(character):04X}, {name})"


class Faces:
    """The typefaces for one document.

    Attributes:
        fonts: as the typesetter takes them: ours, those that come with it, and those of people.
    """

    def __init__(self, folders: Sequence[str] = ()) -> None:
        """Take our own typefaces, and those of further folders after them."""
        self.fonts = typst.Fonts(include_system_fonts=False, font_paths=[*_own_folders(), *folders])
        self._tried: dict[str, bool] = {}

    @cached_property
    def families(self) -> list[str]:
        """In the order in which a character is looked for."""
        return list(dict.fromkeys([*OWN, *sorted(face.family for face in self.fonts.fonts() if face.path)]))

    @cached_property
    def paths(self) -> frozenset[str]:
        """The files that could be read as typefaces."""
        return frozenset(str(face.path) for face in self.fonts.fonts() if face.path)

    @cached_property
    def characters(self) -> frozenset[str]:
        """What those files have; the typesetter's own faces have more."""
        return _own_characters().union(*map(_characters, sorted(self.paths - _own_paths())))

    def broken(self, document: Document) -> tuple[str, ...]:
        """The families of people's typefaces that can be read, and yet not be put into the file of a document."""
        characters = "".join(sorted(_characters_of(document) - _own_characters()))
        given = {"main.typ": _SOME_CHARACTERS, "text.json": json.dumps(printable(characters)).encode()}
        found = []
        for family in self.families[len(OWN) :] if characters else ():
            try:
                typeset(given | {"faces.json": json.dumps([family]).encode()}, self.fonts, is_universal=False)
            except typst.TypstError:
                found.append(family)
        return tuple(found)

    def can_show(self, text: str) -> bool:
        """Whether a text can be shown, alone and letter by letter; the typesetter itself is asked."""
        if any(unicodedata.category(letter) == _PRIVATE and letter not in self.characters for letter in text):
            return False  # what a face shows there is known to nobody but its maker
        return all(map(self._is_set, sorted({*text, text} - self.characters)))

    def _is_set(self, text: str) -> bool:
        if text not in self._tried:
            self._tried[text] = self._try(text)
        return self._tried[text]

    def _try(self, text: str) -> bool:
        given = {"text.json": json.dumps(text).encode(), "faces.json": json.dumps(self.families).encode()}
        try:
            typeset({"main.typ": _SOME_CHARACTERS, **given}, self.fonts)
        except typst.TypstError:
            return False
        return True


def require_characters(document: Document, typefaces: Sequence[str] = ()) -> None:
    """See that every character of a document can be printed, before any page is set.

    Args:
        document: what is printed.
        typefaces: folders of further typefaces.

    Raises:
        MissingCharacterError: there is no typeface for one.
    """
    faces = Faces(typefaces)
    unsure = _characters_of(document) - faces.characters
    if not unsure:
        return
    missing: dict[str, str] = {}
    for text in texts_of(document):
        if not unsure.isdisjoint(text):
            for character, around in _missing_in(printable(text), unsure, faces):
                missing.setdefault(character, around)
        if len(missing) >= _MOST:
            break
    if missing:
        first, *others = missing
        raise MissingCharacterError(first, tuple(others[: _MOST - 1]), missing[first])


def _characters_of(document: Document) -> set[str]:
    return set[str]().union(*texts_of(document))


def _missing_in(text: str, unsure: set[str], faces: Faces) -> Iterator[tuple[str, str]]:
    """Each character of a text that cannot be shown, with the words around it.

    A mark on a letter may come from another face than the letter, or not at all, by what stands beside the two: so a
    text with such a mark is tried as a whole too.
    """
    letters = clusters(text)
    places = [place for place, cluster in enumerate(letters) if not unsure.isdisjoint(cluster)]
    bad = [place for place in places if not faces.can_show(letters[place])]
    if not bad and any(len(letters[place]) > 1 for place in places) and not faces.can_show(text):
        bad = places
    for place in bad:
        character = next(letter for letter in letters[place] if letter in unsure)
        yield character, "".join(letters[max(0, place - _AROUND) : place + _AROUND + 1])


def _own_folders() -> list[str]:
    return [str(files(package) / "files") for package in (fontpkg_arimo, fontpkg_noto_sans_arabic)]


@cache
def _own_paths() -> frozenset[str]:
    return Faces().paths


@cache
def _own_characters() -> frozenset[str]:
    return frozenset[str]().union(*map(_characters, sorted(_own_paths())))


def _characters(path: str) -> frozenset[str]:
    """The characters of a file; none where its table cannot be read: then the typesetter is asked for each."""
    getLogger("fontTools").setLevel(CRITICAL)  # its own words on a damaged file would stand among ours
    try:
        with TTFont(path, lazy=True, fontNumber=0) as face:
            return frozenset(map(chr, face.getBestCmap() or ()))
    except _DAMAGE:
        return frozenset()
