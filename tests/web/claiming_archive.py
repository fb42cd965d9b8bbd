"""A small archive with a feature of every kind and a source of every sort that can be claimed from."""

from pathlib import Path

from tasks.team import a_text
from web.small_archives import a_small_archive

BRACKET = """name: Lamp bracket
references: [H-204]
by: mh
date: 2026-01-10
features:
  - {id: height, name: Height above the rail, aspect: dimension, kind: quantity, unit: mm, datum: top of rail}
  - {id: steel, name: Kind of steel, aspect: material, kind: text, same: [["M.S.", mild steel]]}
"""
PIECE = "title: A bracket found at Orrin\nkind: artefact\nshows:\n  - {example: '6'}\nby: mh\ndate: 2026-01-10\n"
SIGHT = "title: At the shed\nkind: photograph\nshows:\n  - {example: '5', known_by: number}\nby: mh\ndate: 2026-01-10\n"
FIND = "title: A find\nby: mh\ndate: 2026-01-10\n"
TRACING = (
    "title: A tracing\nkind: drawing\nderives_from:\n  - {source: drawing, how: redrawn}\nby: mh\ndate: 2026-01-10\n"
)


def a_claiming_archive(scratch: Path) -> Path:
    """The small archive with a bracket (a figure, a text), a piece, a photograph, a tracing and an untagged find."""
    folder = a_small_archive(scratch)
    a_text(folder / "components" / "bracket.yaml", BRACKET)
    for name, text in {"piece": PIECE, "sight": SIGHT, "tracing": TRACING, "find": FIND}.items():
        a_text(folder / "sources" / f"{name}.yaml", text)
    return folder
