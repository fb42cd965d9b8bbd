"""Write a finished document where somebody wants it, in one step, and never among the archive's own files."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from provenance.errors import UsageRefusedError
from provenance.store.record_kinds import RECORD_FOLDERS
from provenance.store.safe_writing import clean_leftovers
from provenance.store.staging import staging

_OURS = frozenset({*RECORD_FOLDERS, "originals", "transcripts", ".derived", ".git"})


def format_of(output: Path, formats: tuple[str, ...]) -> str:
    """The format that the end of a file's name asks for, such as `html`.

    Raises:
        UsageRefusedError: it is none of them.
    """
    ending = output.suffix.lower().removeprefix(".")
    if ending not in formats:
        named = " or ".join(f"`.{each}`" for each in formats)
        raise UsageRefusedError(f"{output} is not a name of a file that can be written", f"let it end in {named}")
    return ending


def require_place(output: Path, archive: Path) -> None:
    """See that a file may be written there.

    Raises:
        UsageRefusedError: its folder is not there, it is no plain file, or it would lie among the archive's own files.
    """
    place = output.absolute().parent.resolve()
    if not place.is_dir():
        raise UsageRefusedError(f"the folder of {output} is not there", "make it first, or name another place")
    if output.is_symlink() or (output.exists() and not output.is_file()):
        raise UsageRefusedError(f"{output} is not a plain file", "name another place")
    inside = place.relative_to(archive.resolve()).parts if place.is_relative_to(archive.resolve()) else ()
    if inside and inside[0] in _OURS:
        raise UsageRefusedError(f"{inside[0]}/ holds the archive's own files", "name another place, outside of it")


def write_output(output: Path, text: str | bytes) -> None:
    """Write a document or a picture, in the place of an earlier one of that name; what a killed writer left there goes.

    Raises:
        WriteRefusedError: the disk refuses.
    """
    with output_ready(output, text):
        pass


@contextmanager
def output_ready(output: Path, text: str | bytes) -> Iterator[None]:
    """Bring a document to the disk, do what has to be done with it, and only then let it take its name.

    So a record can be written of a document that certainly has room, before anybody finds the document.

    Raises:
        WriteRefusedError: the disk refuses.
    """
    place = output.absolute().parent.resolve()
    path = place / output.name
    clean_leftovers(place)
    with staging(path, within=place) as staged:
        staged.write(text.encode() if isinstance(text, str) else text)
        staged.flush()
        yield
        if path.exists():
            staged.settle_over(path.name)
        else:
            staged.settle_as_new(path.name)
