"""The ids that somebody may be about to type, for completion in the shell: quick, and silent about every fault."""

from pathlib import Path

from provenance.errors import ProvenanceError
from provenance.store.document import Document
from provenance.store.loading import find_archive
from provenance.store.record_kinds import RecordKind, is_file_stem
from provenance.store.record_reading import read_record
from provenance.store.yaml_text import read_yaml


def ids_beginning(start: Path, folders: tuple[str, ...], typed: str, *, with_folder: bool = False) -> tuple[str, ...]:
    """The ids of records that begin so, in order; none where there is no archive.

    Args:
        start: a folder in the archive.
        folders: of the kinds of record, such as `sources`.
        typed: what was typed so far.
        with_folder: whether the folder is typed with the id, as in `sources/scan-1`.
    """
    found = []
    for kind in (kind for kind in RecordKind if kind.folder in folders):
        for path in _files(start, kind):
            name = f"{kind.folder}/{path.stem}" if with_folder else path.stem
            if name.startswith(typed) and is_file_stem(kind, path.stem):
                found.append(name)
    return tuple(sorted(found))


def features_beginning(start: Path, typed: str) -> tuple[str, ...]:
    """The features that begin so, as `component/feature`; before the stroke the components, each with its stroke."""
    component, stroke, _ = typed.partition("/")
    if not stroke:
        return tuple(f"{each}/" for each in ids_beginning(start, ("components",), typed))
    for path in _files(start, RecordKind.COMPONENT):
        if path.stem == component:
            names = (f"{component}/{feature}" for feature in _features(path))
            return tuple(sorted(name for name in names if name.startswith(typed)))
    return ()


def holders_beginning(start: Path, typed: str) -> tuple[str, ...]:
    """The archives, museums and people that hold sources and whose names begin so, in order, each once.

    Only the line is read that begins with `holder:`; a name that goes on over several lines is not offered.
    """
    lines = {line for path in _files(start, RecordKind.SOURCE) for line in _lines(path) if line.startswith("holder:")}
    documents = [read_yaml(line, "") for line in lines]
    names = {str(each.content["holder"]) for each in documents if isinstance(each, Document)}
    return tuple(sorted(name for name in names if name.startswith(typed)))


def _lines(path: Path) -> list[str]:
    try:
        return path.read_text(encoding="utf-8").splitlines()
    except (OSError, UnicodeError):
        return []


def _files(start: Path, kind: RecordKind) -> list[Path]:
    try:
        return list((find_archive(start) / kind.folder).glob("*.yaml"))
    except (ProvenanceError, OSError):
        return []


def _features(path: Path) -> list[str]:
    document = read_record(path.read_bytes(), RecordKind.COMPONENT.file_of(path.stem))
    features = document.content.get("features") if isinstance(document, Document) else None
    return [str(each["id"]) for each in features if isinstance(each, dict)] if isinstance(features, list) else []
