"""The one place where the typesetter is called, in this process and with nothing but what it is given."""

from collections.abc import Mapping

import typst

_KEPT_FOR = 10
"""For how many calls the typesetter keeps what it has worked out, measured with its version 0.15: the hundreds of pages
of a part are far more than a page with nothing on it needs."""


def typeset(
    files: Mapping[str, bytes], fonts: typst.Fonts, *, is_universal: bool = True, is_tagged: bool = True
) -> bytes:
    """Set a PDF that carries no time and nothing of the machine.

    Args:
        files: `main.typ` with whatever it reads, by name.
        fonts: the typefaces; no others are looked for.
        is_universal: whether the typesetter checks that it is PDF/UA-1 (ISO 14289-1).
        is_tagged: whether it is tagged.

    Raises:
        typst.TypstError: it cannot be set.
    """
    return bytes(
        typst.compile(  # type: ignore[call-overload]  # its types leave out files by name, which it takes
            dict(files),
            format="pdf",
            timestamp=0,
            pdf_standards=["ua-1"] if is_universal else [],
            pdf_tags=is_tagged,
            ignore_system_fonts=True,
            font_paths=fonts,
        )
    )


def forget(fonts: typst.Fonts) -> None:
    """Let go of what the typesetter keeps of pages that were set, which would else grow from part to part."""
    for _ in range(_KEPT_FOR + 1):
        typeset({"main.typ": b""}, fonts, is_universal=False, is_tagged=False)
