"""The answers of the commands that keep an archive in order: `new`, `rebuild`, `upgrade`."""

from dataclasses import dataclass

from provenance.reports.layout import counted, paragraph
from provenance.reports.standing import Standing
from provenance.rules.findings import UnreadPage


@dataclass(frozen=True, slots=True, kw_only=True)
class Begun:
    """The answer of `new`: the folder, and the files written in it."""

    standing: Standing
    folder: str
    written: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Rebuilt:
    """The answer of `rebuild`.

    Attributes:
        pages_read: pages that were read now.
        indexed: entries that the new index holds.
        fingerprinted: pages whose pictures were looked at anew.
        pruned: readings and fingerprints that were removed; None where that was not asked for.
    """

    standing: Standing
    pages_read: int
    fingerprinted: int
    indexed: int
    pruned: int | None
    unread: tuple[UnreadPage, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Upgraded:
    """The answer of `upgrade`: from which format to which, and the files written (none when nothing was to do)."""

    standing: Standing
    before: int
    after: int
    written: tuple[str, ...]


def begun_json(begun: Begun) -> dict[str, object]:
    """The JSON answer `new`."""
    return {**begun.standing.as_json("new"), "folder": begun.folder, "written": list(begun.written)}


def begun_text(begun: Begun, width: int) -> str:
    """The page that people read, with what to do next."""
    following = "Next: fill in archive.yaml (`provenance check` names its gaps), then `provenance ingest` your scans."
    head = paragraph(f"A new archive, “{begun.standing.archive}”, in {begun.folder}:", width)
    return "\n".join([*head, *_file_lines(begun.written, width), *paragraph(following, width)])


def rebuilt_json(rebuilt: Rebuilt) -> dict[str, object]:
    """The JSON answer `rebuild`."""
    return {
        **rebuilt.standing.as_json("rebuild"),
        "pages_read": rebuilt.pages_read,
        "fingerprinted": rebuilt.fingerprinted,
        "indexed": rebuilt.indexed,
        "pruned": rebuilt.pruned,
        "unread": [{"source": page.source, "page": page.page, "why": page.why} for page in rebuilt.unread],
    }


def rebuilt_text(rebuilt: Rebuilt, width: int) -> str:
    """The page that people read."""
    lines = rebuilt.standing.as_lines(width)
    for page in rebuilt.unread:
        lines += paragraph(f"{page.source}, page {page.page}: not read: {page.why}", width, hang="    ")
    removed = "old reading or fingerprint", "old readings or fingerprints"
    pruned = "" if rebuilt.pruned is None else f", {counted(rebuilt.pruned, *removed)} removed"
    looked = counted(rebuilt.fingerprinted, "page")
    pictures = f"the pictures on {looked} looked at anew; " if rebuilt.fingerprinted else ""
    summary = (
        f"{counted(rebuilt.pages_read, 'page').capitalize()} read now{pruned}; {pictures}"
        f"the new index holds {counted(rebuilt.indexed, 'entry', 'entries')}."
    )
    return "\n".join([*lines, *paragraph(summary, width)])


def upgraded_json(upgraded: Upgraded) -> dict[str, object]:
    """The JSON answer `upgrade`."""
    return {
        **upgraded.standing.as_json("upgrade"),
        "before": upgraded.before,
        "after": upgraded.after,
        "written": list(upgraded.written),
    }


def upgraded_text(upgraded: Upgraded, width: int) -> str:
    """The page that people read."""
    if upgraded.before == upgraded.after:
        said = f"The archive has format {upgraded.after}, which is today's; nothing was changed."
        return "\n".join(paragraph(said, width))
    head = f"Upgraded from format {upgraded.before} to {upgraded.after}:"
    return "\n".join([*paragraph(head, width), *_file_lines(upgraded.written, width)])


def _file_lines(files: tuple[str, ...], width: int) -> list[str]:
    return [line for file in files for line in paragraph(file, width, indent="  ")]
