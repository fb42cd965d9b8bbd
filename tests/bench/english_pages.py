"""Pages of real English: what the installed packages say of themselves in their docstrings, and pages made like them.

Paragraphs that repeat six words of one before are left out, so that no two pages have a passage in common. How many
pages come of it depends on what is installed; nothing of it is kept.
"""

import random
import re
import sysconfig
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path

WORDS_A_PAGE = 300
_DOCSTRING = re.compile(r'"""(.*?)"""', re.DOTALL)
_WORD = re.compile(r"[a-z]+")
_FEWEST_WORDS = 25
_REPEATED = 6
_LETTERS_LEAST = 0.955


@dataclass(frozen=True, slots=True)
class Page:
    """A page of real English.

    Attributes:
        package: what its text comes from; texts of one package are written by the same people and may well repeat
            themselves.
        text: 300 words.
    """

    package: str
    text: str


def english_pages() -> list[Page]:
    """All pages, in order of the packages that they come from."""
    pages: list[Page] = []
    words: list[str] = []
    package = ""
    for name, paragraph in _different(_paragraphs()):
        words = [*(words if name == package else ()), *paragraph.split()]
        package = name
        while len(words) >= WORDS_A_PAGE:
            pages.append(Page(name, " ".join(words[:WORDS_A_PAGE])))
            words = words[WORDS_A_PAGE:]
    return pages


def made_pages(pages: Sequence[str], count: int, draw: random.Random) -> Iterator[str]:
    """Pages in which each word is followed by one that follows it on the pages given: English in short runs only."""
    words = [word for page in pages for word in page.split()]
    following: defaultdict[str, list[str]] = defaultdict(list)
    for word, after in pairwise(words):
        following[word].append(after)
    for _ in range(count):
        made = [draw.choice(words)]
        while len(made) < WORDS_A_PAGE:
            made.append(draw.choice(following[made[-1]] or words))
        yield " ".join(made)


def _paragraphs() -> Iterator[tuple[str, str]]:
    paths = sysconfig.get_paths()
    for top in (Path(paths["stdlib"]), Path(paths["purelib"])):
        for path in sorted(top.rglob("*.py")):
            inner = path.relative_to(top).parts
            if "site-packages" in inner:
                continue
            for docstring in _DOCSTRING.finditer(path.read_text(encoding="utf-8", errors="replace")):
                for paragraph in re.split(r"\n\s*\n", docstring[1]):
                    yield inner[0], " ".join(paragraph.split())


def _different(paragraphs: Iterator[tuple[str, str]]) -> Iterator[tuple[str, str]]:
    seen: set[tuple[str, ...]] = set()
    for package, paragraph in paragraphs:
        if not _is_prose(paragraph):
            continue
        words = _WORD.findall(paragraph.lower())
        runs = {tuple(words[n : n + _REPEATED]) for n in range(len(words) - _REPEATED + 1)}
        if seen.isdisjoint(runs):
            seen |= runs
            yield package, paragraph


def _is_prose(paragraph: str) -> bool:
    if paragraph.count(" ") < _FEWEST_WORDS or not paragraph[0].isupper() or ">>>" in paragraph:
        return False
    letters = sum(1 for character in paragraph if character.isalpha() or character in " ,.'")
    return letters > _LETTERS_LEAST * len(paragraph)
