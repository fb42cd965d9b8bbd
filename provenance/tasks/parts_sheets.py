"""Add a whole parts tree from a sheet: every row is looked at first, and where one is refused none is added."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import chain, count
from pathlib import Path

from provenance.errors import UsageRefusedError
from provenance.records.archive import Archive
from provenance.records.examples import ExamplesError, parse_examples
from provenance.records.reference_numbers import Tier, compare_references, reference_key
from provenance.records.wording import fold_wording, quote
from provenance.reports.added import Added, AddedRow, RowState
from provenance.reports.layout import counted, listed
from provenance.reports.written import Written
from provenance.store.naming import slug
from provenance.store.record_kinds import LONGEST_ID, RecordKind
from provenance.store.sheets import Sheet
from provenance.tasks.adding import ANSWER
from provenance.tasks.changing import NewRecord, Step, change, preview
from provenance.tasks.nearest import nearest_mend
from provenance.tasks.opening import Opened, Where, opened_at
from provenance.tasks.parts_columns import find_columns
from provenance.tasks.reading_sheets import read_sheet_apart

MOST_LOOKED_FOR = 20
"""For so many assemblies that are not there the nearest is looked for; it takes a sixth of a second in a large tree."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Part:
    """One row as it is meant; empty where its column says nothing."""

    row: int
    number: str
    name: str
    part_of: str
    quantity: str
    examples: str


@dataclass(slots=True)
class _Tree:
    """What the rows are by now: the archive's components and the sheet's own, found by what people call them.

    Attributes:
        ids: of all components, those of the sheet too.
        numbers: ids and numbers of components, by key.
        names: ids of components by folded name.
        rows: what became of each row.
        new: the parts that are to be added, by id, in order of the rows.
        lost: what to do about each assembly that is not there, by how the sheet calls it.
    """

    archive: Archive
    ids: set[str] = field(default_factory=set)
    numbers: dict[str, list[tuple[str, str]]] = field(default_factory=dict)
    names: dict[str, list[str]] = field(default_factory=dict)
    rows: dict[int, AddedRow] = field(default_factory=dict)
    new: dict[str, _Part] = field(default_factory=dict)
    lost: dict[str, str] = field(default_factory=dict)

    def know(self, component: str, name: str, numbers: Sequence[str]) -> None:
        """Let a component be found."""
        self.ids.add(component)
        self.names.setdefault(fold_wording(name), []).append(component)
        for number in numbers:
            self.numbers.setdefault(reference_key(number), []).append((component, number))

    def with_number(self, number: str, tier: Tier) -> str | None:
        """The component that has a number, in this tier; None where none has."""
        held = self.numbers.get(reference_key(number), ()) if number else ()
        return next((component for component, other in held if compare_references(number, other) is tier), None)

    def meant_by(self, wording: str) -> tuple[str, ...]:
        """The components that a number, a name or an id may mean."""
        exact = self.with_number(wording, Tier.EXACT)
        if exact or wording in self.ids:
            return (exact or wording,)
        return tuple(self.names.get(fold_wording(wording), ()))


def add_sheet(where: Where, path: Path, *, by: str, today: str) -> Added:
    """Add the parts of a sheet that are not there yet.

    A part is known by its number, or, where the sheet gives none, by its name. Quantity and examples go into the note
    of the new record with the row that says so: they are for somebody to look into, not evidence.

    Args:
        where: the archive's folder, or the archive as it was opened before.
        path: of a `.csv` or `.xlsx` file.
        by: an id of `people`.
        today: the date that the records carry.

    Raises:
        UsageRefusedError: the sheet cannot be read, or its columns are not those of a parts tree.
        WriteRefusedError: a record cannot be written.
    """
    sheet = read_sheet_apart(path)
    parts = _parts(sheet)
    opened = opened_at(where)
    looked_at: list[AddedRow] = []

    def plan(now: Opened) -> list[Step]:
        tree = _look_at(now, parts)
        looked_at[:] = [tree.rows[part.row] for part in parts]
        if any(row.state is RowState.REFUSED for row in looked_at):
            return []
        return list(_records(tree, path.name, by, today))

    written = change(opened, plan)
    rows = tuple(_as_added(row) for row in looked_at) if written else tuple(looked_at)
    return _answer(opened, sheet, path, rows, written)


def look_over_sheet(where: Where, path: Path, *, by: str, today: str) -> Added:
    """Tell what would become of each row of a sheet; nothing is written.

    Args:
        where: the archive's folder, or the archive as it was opened before.
        path: of a `.csv` or `.xlsx` file.
        by: an id of `people`.
        today: the date that the records would carry.

    Raises:
        UsageRefusedError: as when it is added.
    """
    sheet = read_sheet_apart(path)
    parts = _parts(sheet)
    opened = opened_at(where)
    tree = _look_at(opened, parts)
    rows = tuple(tree.rows[part.row] for part in parts)
    if not any(row.state is RowState.REFUSED for row in rows):
        preview(opened, list(_records(tree, path.name, by, today)))
    return _answer(opened, sheet, path, rows, ())


def _answer(opened: Opened, sheet: Sheet, path: Path, rows: tuple[AddedRow, ...], written: tuple[str, ...]) -> Added:
    others = sheet.passed_over
    said = (f"not read: {counted(len(others), 'other sheet')}, {listed(others)}",) if others else ()
    answer = Written(standing=opened.standing, answer=ANSWER, record=path.name, written=written, said=said)
    return Added(written=answer, rows=rows)


def _parts(sheet: Sheet) -> tuple[_Part, ...]:
    headings, *rows = sheet.rows
    columns = find_columns(headings.cells)
    width = len(headings.cells)
    parts = []
    for row in rows:
        if any(row.cells[width:]):
            raise UsageRefusedError(
                f"row {row.number} has more cells than there are headings", "give every column a heading"
            )
        cells = (*row.cells, *[""] * (width - len(row.cells)))
        said = {name.replace(" ", "_"): cells[column] for name, column in columns.items()}
        parts.append(_Part(row=row.number, **{"number": "", "part_of": "", "quantity": "", "examples": "", **said}))
    return tuple(parts)


def _look_at(opened: Opened, parts: Sequence[_Part]) -> _Tree:
    """Look at every row: which part it is first, for parts may be named before their own rows; then what it says."""
    tree = _Tree(opened.archive)
    for held in opened.archive.components.values():
        tree.know(held.id, held.name, held.references)
    tree.ids |= {Path(record.file).stem for record in opened.left_out}
    for part in parts:
        tree.rows[part.row] = _identify(tree, part)
    for component, part in tree.new.items():
        why = _fault(tree, component, part)
        if why:
            tree.rows[part.row] = _row(part, None, RowState.REFUSED, why)
    for component in _in_circles(tree):
        part = tree.new[component]
        tree.rows[part.row] = _row(part, None, RowState.REFUSED, "it would be part of itself, by way of its assembly")
    return tree


def _identify(tree: _Tree, part: _Part) -> AddedRow:
    if not part.name:
        return _row(part, None, RowState.REFUSED, "it has no name")
    known = tree.with_number(part.number, Tier.EXACT)
    named = tree.names.get(fold_wording(part.name), [])
    if not part.number and named:
        known = named[0]
    if known in tree.new and fold_wording(tree.new[known].name) != fold_wording(part.name):
        why = f"row {tree.new[known].row} has the same number and another name"
        return _row(part, None, RowState.REFUSED, why)
    if known:
        name = tree.new[known].name if known in tree.new else tree.archive.components[known].name
        why = "" if fold_wording(name) == fold_wording(part.name) else f"it is called {name} there"
        return _row(part, known, RowState.KNOWN, why)
    like = tree.with_number(part.number, Tier.FOLDED)
    component = _free_id(tree, part)
    tree.new[component] = part
    tree.know(component, part.name, [part.number] if part.number else [])
    why = f"its number reads as that of {like}; is it another part?" if like else ""
    return _row(part, component, RowState.SOUND, why)


def _free_id(tree: _Tree, part: _Part) -> str:
    name = slug(part.name)
    numbered = (f"{name}-{number}" for number in count(2))
    tried = chain([name, slug(f"{part.name} {part.number}", longest=LONGEST_ID)], numbered)
    return next(each for each in tried if each not in tree.ids)


def _fault(tree: _Tree, component: str, part: _Part) -> str:
    """What is wrong in a row beside its number and name; empty where nothing is."""
    if part.quantity and not (part.quantity.isascii() and part.quantity.isdecimal() and int(part.quantity)):
        return f"the quantity {quote(part.quantity)} is no whole number above 0"
    if part.examples:
        try:
            tree.archive.production.expand(parse_examples(_examples(part.examples)))
        except ExamplesError as error:
            return f"{error.what}: {error.mend}"
    if not part.part_of:
        return ""
    meant = [each for each in tree.meant_by(part.part_of) if each != component]
    if len(meant) == 1:
        return ""
    if meant:
        return f"{quote(part.part_of)} may be {' or '.join(sorted(meant))}: write its number"
    return f"there is no part {quote(part.part_of)}: {_mend_lost(tree, part.part_of)}"


def _mend_lost(tree: _Tree, assembly: str) -> str:
    """What to do about an assembly that is not there: the nearest, for the first few."""
    if assembly not in tree.lost:
        called = _called(tree) if len(tree.lost) < MOST_LOOKED_FOR else ()
        tree.lost[assembly] = nearest_mend(assembly, called, "add it first, or give it a row")
    return tree.lost[assembly]


def _examples(written: str) -> list[str] | str:
    terms = [term.strip() for term in written.replace(";", ",").split(",")]
    return [term.replace("-", "..") for term in terms] if terms != ["all"] else "all"


def _called(tree: _Tree) -> list[str]:
    numbers = [number for held in tree.numbers.values() for _, number in held]
    return [*numbers, *(part.name for part in tree.new.values()), *sorted(tree.ids)]


def _parent(tree: _Tree, component: str) -> str | None:
    part_of = tree.new[component].part_of
    return next((each for each in tree.meant_by(part_of) if each != component), None) if part_of else None


def _in_circles(tree: _Tree) -> list[str]:
    """The new parts that are part of themselves; those of the archive lead to no new one."""
    parents: Mapping[str, str | None] = {component: _parent(tree, component) for component in tree.new}
    circling = []
    for component in tree.new:
        seen, at = {component}, parents[component]
        while at is not None and at not in seen:
            seen.add(at)
            at = parents.get(at)
        if at == component:
            circling.append(component)
    return circling


def _records(tree: _Tree, sheet: str, by: str, today: str) -> Iterator[NewRecord]:
    """The new records, each after the one that it is part of, so that a call cut short leaves a sound archive."""
    written: set[str] = set()
    for component in tree.new:
        above = []
        at: str | None = component
        while at in tree.new and at not in written:
            above.append(at)
            written.add(at)
            at = _parent(tree, at)
        for each in reversed(above):
            part = tree.new[each]
            fields = {
                "name": part.name,
                "part_of": _parent(tree, each),
                "references": [part.number] if part.number else [],
                "by": by,
                "date": today,
                "note": _note(part, sheet),
            }
            yield NewRecord(kind=RecordKind.COMPONENT, id=each, fields=fields)


def _note(part: _Part, sheet: str) -> str:
    said = [f"quantity {part.quantity}"] if part.quantity else []
    said += [f"examples {part.examples}"] if part.examples else []
    return f"{', '.join(said)}, says row {part.row} of {sheet}" if said else ""


def _row(part: _Part, component: str | None, state: RowState, why: str) -> AddedRow:
    return AddedRow(row=part.row, number=part.number, name=part.name, component=component, state=state, why=why)


def _as_added(row: AddedRow) -> AddedRow:
    if row.state is not RowState.SOUND:
        return row
    return AddedRow(
        row=row.row,
        number=row.number,
        name=row.name,
        component=row.component,
        state=RowState.ADDED,
        why=row.why,
    )
