"""Archives of any size made from a fixed seed: numbers for names, with the ties between records that real ones have."""

import random
from collections.abc import Iterator
from pathlib import Path, PurePosixPath

from provenance.records.archive import Archive
from provenance.store.building import Record, build_archive, build_record
from provenance.store.document import Document, Value
from provenance.store.record_kinds import RecordKind, kind_of_file
from provenance.store.record_reading import read_record

SEED = 1927
CLAIMS_EACH = 10
_BATCHES = {"first": ("1", "2", "3", "4"), "second": ("5", "6", "7", "8"), "third": ("9", "10", "11")}
_KINDS = ("photograph", "drawing", "letter", "report", "book", "notes", "artefact", "manual")
_HOWS = {"photograph": "shows", "artefact": "shows"}
_VALUES = ("brass", "steel", "iron")


def make_archive(folder: Path, components: int) -> Path:
    """Write an archive with that many components, ten times as many claims, and half as many sources as claims."""
    for name in ("components", "sources", "claims"):
        (folder / name).mkdir(parents=True)
    for file, text in _files(components):
        (folder / file).write_text(text, encoding="utf-8")
    return folder


def make_loaded(components: int) -> Archive:
    """Make the same archive as it is once loaded, without a disk.

    Raises:
        ValueError: a record that was made is not sound.
    """
    records: dict[RecordKind, dict[str, Record]] = {kind: {} for kind in RecordKind}
    head: dict[str, Value] = {}
    for file, text in _files(components):
        kind, document = kind_of_file(file), read_record(text, file)
        if kind is None or not isinstance(document, Document):
            raise ValueError(f"the made archive is not sound: {document}")
        if kind is RecordKind.ARCHIVE:
            head = document.content
        else:
            record_id = PurePosixPath(file).stem
            records[kind][record_id] = build_record(kind, record_id, document.content)
    return build_archive(head, records)


def _files(components: int) -> Iterator[tuple[str, str]]:
    """Give each file of an archive, and what stands in it."""
    chance = random.Random(SEED)
    kinds = [chance.choice(_KINDS) for _ in range(components * CLAIMS_EACH // 2)]
    yield "archive.yaml", _archive()
    for number, kind in enumerate(kinds):
        yield f"sources/s{number:05}.yaml", _source(number, kind, chance)
    for number in range(components):
        yield f"components/c{number:04}.yaml", _component(number)
        for claim in range(CLAIMS_EACH):
            yield f"claims/c{number:04}-{claim}.yaml", _claim(number, claim, kinds, chance)


def _archive() -> str:
    batches = "".join(
        f"  - {{batch: {name}, examples: [{', '.join(repr(example) for example in examples)}], built: {year}}}\n"
        for (name, examples), year in zip(_BATCHES.items(), (1927, 1930, 1933), strict=True)
    )
    return (
        "format: 1\ntitle: Made for measuring\nsubject: {name: A railcar, kind: railcar, claims_to_be: reproduction}\n"
        f"production:\n{batches}target: {{example: '9', as_at: 1934-06, why: the best known}}\n"
        "languages: [en]\npeople: [{id: mh, name: M. H.}]\n"
    )


def _source(number: int, kind: str, chance: random.Random) -> str:
    lines = [f"title: Source {number}", f"kind: {kind}", "created: 1934", "by: mh", "date: 2020-01-01", "state: tagged"]
    if number and chance.random() < 0.4:
        lines.append(f"derives_from: [{{source: s{chance.randrange(number):05}, how: cites}}]")
    return "\n".join(lines) + "\n"


def _component(number: int) -> str:
    features = "".join(
        f"  - {{id: f{feature}, name: Feature {feature}, aspect: material, kind: text}}\n" for feature in range(3)
    )
    return f"name: Component {number}\nreferences: [H-{number:04}]\nby: mh\ndate: 2020-01-01\nfeatures:\n{features}"


def _claim(component: int, claim: int, kinds: list[str], chance: random.Random) -> str:
    batch = chance.choice(tuple(_BATCHES))
    items = "".join(_item(chance.randrange(len(kinds)), kinds, batch, chance) for _ in range(chance.randint(1, 3)))
    return (
        f"about: c{component:04}/f{claim % 3}\nvalue: {_VALUES[claim // 3 % 3]} {claim}\n"
        f"applies_to: {{batch: {batch}}}\nby: mh\ndate: 2020-01-01\nevidence:\n{items}"
    )


def _item(source: int, kinds: list[str], batch: str, chance: random.Random) -> str:
    how = _HOWS.get(kinds[source], "states")
    seen = f", seen: {{example: '{chance.choice(_BATCHES[batch])}', known_by: caption}}" if how == "shows" else ""
    return f"  - {{source: s{source:05}, stance: supports, how: {how}{seen}}}\n"
