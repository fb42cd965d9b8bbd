"""A small sound archive on disk, for tests of loading."""

from pathlib import Path

from store.whole_records import WHOLE

from provenance.store.record_kinds import RecordKind

IDS = {
    RecordKind.COMPONENT: ("headlamp",),
    RecordKind.SOURCE: ("works-photo", "page-of-album"),
    RecordKind.CLAIM: ("height-1", "kind-1", "kind-2"),
    RecordKind.COPY: ("album--works-photo",),
    RecordKind.DECISION: ("height",),
    RecordKind.QUERY: ("height-query",),
    RecordKind.PANEL: ("light",),
    RecordKind.LEAD: ("tins",),
}


def lay_down(folder: Path) -> Path:
    """Write every whole record into a folder; the archive's folder comes back."""
    put(folder, "archive.yaml", WHOLE[RecordKind.ARCHIVE][0])
    for kind, ids in IDS.items():
        for record_id, text in zip(ids, WHOLE[kind], strict=True):
            put(folder, kind.file_of(record_id), text)
    return folder


def lay_down_plain(folder: Path, claims: int) -> Path:
    """Write an archive of many claims that are alike."""
    put(folder, "archive.yaml", "format: 1\ntitle: Plain\n")
    for number in range(claims):
        put(folder, f"claims/claim-{number}.yaml", plain_claim(str(number)))
    return folder


def plain_claim(value: str) -> str:
    """The text of a claim of that value."""
    head = f"about: a/b\nvalue: {value}\napplies_to: {{examples: all}}\n"
    return f"{head}evidence: [{{source: c, stance: supports, how: states}}]\nby: mh\ndate: 2026\n"


def put(folder: Path, file: str, text: str) -> Path:
    """Write one file of an archive, with the folder that it needs."""
    path = folder / file
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")
    return path
