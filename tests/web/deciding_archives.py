"""A small archive in which something is to be decided, made, doubted and ruled on, and how a page says it."""

import html
import re
from pathlib import Path

from cli.command_line import SOUND, a_copy_of
from tasks.team import a_text

KIND = "headlamp/kind"
HEIGHT = "headlamp/height"
ACETYLENE, ELECTRIC = "headlamp-kind-acetylene", "headlamp-kind-electric"
PAIR = "photograph--print"
BY = ("--by", "mh")

_SIGNED = "by: mh\ndate: 2026-01-10\n"
_SEEN = '{example: "9", when: 1934-05, known_by: number}'
_HEIGHT = """  - id: height
    name: Height of the lamp
    aspect: dimension
    kind: quantity
    unit: mm
    mates: [{with: bracket/height, rule: equal}]
"""
_BRACKET = f"""name: Bracket
hazards: [asbestos]
features:
  - {{id: height, name: Height of the bracket, aspect: dimension, kind: quantity, unit: mm}}
{_SIGNED}"""
_ELECTRIC = f"""about: headlamp/kind
value: electric
applies_to: {{examples: ["9"]}}
evidence:
  - {{source: photograph, at: {{page: 1}}, stance: supports, how: shows, seen: {_SEEN}}}
  - {{source: print, at: {{page: 1}}, stance: supports, how: shows, seen: {_SEEN}}}
{_SIGNED}"""
_TALL = f"""about: headlamp/height
value: 3 ft 4 1/2 in
applies_to: {{examples: all}}
evidence:
  - {{source: handbook, at: {{page: 1}}, stance: supports, how: states}}
{_SIGNED}"""
_PRINT = f"""title: A print found in a drawer
kind: photograph
created: 1950
shows:
  - {{example: "9", when: 1934-05, known_by: number}}
{_SIGNED}"""
_ALIKE = f"between: [photograph, print]\nfound_by: {{method: by eye}}\nwhy: the same crack\nruling: open\n{_SIGNED}"


def an_archive_to_decide_in(scratch: Path) -> Path:
    """A lamp with a kind that two claims contradict one another on, and a height that has to fit a bracket.

    The photograph and a print look like copies of one another. Nothing is decided.
    """
    folder = a_copy_of(SOUND, scratch)
    lamp = folder / "components" / "headlamp.yaml"
    a_text(lamp, lamp.read_text(encoding="utf-8") + _HEIGHT)
    a_text(folder / "components" / "bracket.yaml", _BRACKET)
    a_text(folder / "claims" / f"{ELECTRIC}.yaml", _ELECTRIC)
    a_text(folder / "claims" / "headlamp-height.yaml", _TALL)
    a_text(folder / "sources" / "print.yaml", _PRINT)
    a_text(folder / "copies" / f"{PAIR}.yaml", _ALIKE)
    return folder


def told(page: str) -> str:
    """What a page says, without its tags, in one line."""
    return " ".join(html.unescape(re.sub(r"<[^>]+>", " ", page)).split())
