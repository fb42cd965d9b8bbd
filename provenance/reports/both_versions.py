"""A record as somebody was shown it, and as it stands now that another has changed it, side by side."""

from dataclasses import dataclass
from difflib import SequenceMatcher


@dataclass(frozen=True, slots=True, kw_only=True)
class VersionLine:
    """A line of one version; `is_other` where the other version does not have it so."""

    text: str
    is_other: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class BothVersions:
    """What a file said, and what it says now, line by line.

    Attributes:
        file: relative to the archive.
        before: as it was shown; empty where there was no such file.
        now: as it stands; empty where there is none any more.
    """

    file: str
    before: tuple[VersionLine, ...]
    now: tuple[VersionLine, ...]


def both_versions(file: str, before: str, now: str) -> BothVersions:
    """Put the two versions of a file beside one another, and mark what differs.

    Args:
        file: relative to the archive.
        before: what it said; empty where there was no such file.
        now: what it says.
    """
    old, new = before.splitlines(), now.splitlines()
    matched = SequenceMatcher(None, old, new, autojunk=False).get_matching_blocks()
    same_old = {block.a + step for block in matched for step in range(block.size)}
    same_new = {block.b + step for block in matched for step in range(block.size)}
    return BothVersions(file=file, before=_lines(old, same_old), now=_lines(new, same_new))


def _lines(lines: list[str], same: set[int]) -> tuple[VersionLine, ...]:
    return tuple(VersionLine(text=text, is_other=number not in same) for number, text in enumerate(lines))
