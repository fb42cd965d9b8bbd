"""Draws the imports of a package from its source, and names every one that leaves the doors it was given.

Nothing is imported: the source is read with `ast`, so that imports inside functions count too.
"""

import ast
import sys
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

LONGEST_MODULE = 400
TELLING_NOTHING = frozenset({"base", "common", "core", "helper", "helpers", "manager", "misc", "util", "utils"})
DISK_AND_CLOCK = frozenset(
    {"glob", "io", "locale", "os", "pathlib", "random", "secrets", "shutil", "socket", "sqlite3", "subprocess"}
    | {"tempfile", "time"}
)
# The names of paths alone, and what is written in memory alone.
TOUCHES_NOTHING = frozenset({"io.BytesIO", "io.StringIO", "pathlib.PurePosixPath"})
CLOCK_CALLS = frozenset({"now", "today", "utcnow", "open", "print", "input"})
DYNAMIC_CALLS = frozenset({"import_module", "__import__"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Doors:
    """What a package allows itself.

    Attributes:
        package: the name of the package.
        rooms: for each room (a folder, or a module standing alone) the rooms that it may import; the package's own
            `__init__` is the room "".
        libraries: for each outside library the rooms that may import it, each with the reason.
        pure: the rooms that touch neither disk nor clock.
        refused: modules of the standard library that nobody imports, but for the rooms named.
        dynamic: the rooms that may import by a name made at run time.
    """

    package: str
    rooms: Mapping[str, frozenset[str]]
    libraries: Mapping[str, Mapping[str, str]] = field(default_factory=dict)
    pure: frozenset[str] = frozenset()
    refused: Mapping[str, frozenset[str]] = field(default_factory=dict)
    dynamic: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True, kw_only=True)
class Import:
    """One import as it stands in the source: by the module `importer` in line `line`, of the module `imported`."""

    importer: str
    line: int
    imported: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Module:
    """One module of the package, read but not imported."""

    name: str
    path: Path
    is_package: bool
    source: str
    tree: ast.Module


def read_modules(folder: Path) -> dict[str, Module]:
    """Read every module of the package in `folder`, by dotted name."""
    modules = {}
    for path in sorted(folder.rglob("*.py")):
        parts = path.relative_to(folder.parent).with_suffix("").parts
        is_package = parts[-1] == "__init__"
        name = ".".join(parts[:-1] if is_package else parts)
        source = path.read_text(encoding="utf-8")
        modules[name] = Module(name=name, path=path, is_package=is_package, source=source, tree=ast.parse(source))
    return modules


def draw_imports(modules: Mapping[str, Module]) -> tuple[Import, ...]:
    """Every import at any depth, each name of a `from` import told apart: a module where it is one."""
    return tuple(found for module in modules.values() for found in _imports_of(module, modules))


def _imports_of(module: Module, modules: Mapping[str, Module]) -> Iterator[Import]:
    for node in ast.walk(module.tree):
        if isinstance(node, ast.Import):
            for alias in node.names:
                yield Import(importer=module.name, line=node.lineno, imported=alias.name)
        elif isinstance(node, ast.ImportFrom):
            source = _absolute(module, node)
            for alias in node.names:
                named = f"{source}.{alias.name}"
                is_inside = source.split(".")[0] == module.name.split(".")[0]
                if is_inside and alias.name == "__version__":
                    continue  # it stands before anything else in the package
                imported = named if named in modules or not is_inside else source
                yield Import(importer=module.name, line=node.lineno, imported=imported)


def _absolute(module: Module, node: ast.ImportFrom) -> str:
    if not node.level:
        return node.module or ""
    package = module.name if module.is_package else module.name.rpartition(".")[0]
    parts = package.split(".")[: len(package.split(".")) - node.level + 1]
    return ".".join([*parts, node.module] if node.module else parts)


def room_of(module: str) -> str:
    """The room of a module by its dotted name; empty for the package's own `__init__`."""
    return module.split(".")[1] if "." in module else ""


def find_faults(folder: Path, doors: Doors) -> tuple[str, ...]:
    """Every way in which the package in `folder` leaves its doors; one sentence each, in order of place."""
    modules = read_modules(folder)
    imports = draw_imports(modules)
    faults = [
        *_find_unplaced(folder, doors),
        *(fault for found in imports if (fault := _judge(found, doors, modules))),
        *(fault for module in modules.values() for fault in _find_bad_habits(module, doors)),
        *_find_circle(imports, modules),
    ]
    return tuple(sorted(faults))


def find_unused(folder: Path, doors: Doors) -> tuple[str, ...]:
    """Rows of the table of libraries that no code needs; one sentence each."""
    used = {(found.imported.split(".")[0], room_of(found.importer)) for found in draw_imports(read_modules(folder))}
    return tuple(
        f"{room} does not import {library}"
        for library, rooms in sorted(doors.libraries.items())
        for room in sorted(rooms)
        if (library, room) not in used
    )


def _find_unplaced(folder: Path, doors: Doors) -> Iterator[str]:
    for entry in sorted(folder.iterdir()):
        holds_code = entry.suffix == ".py" or (entry.is_dir() and any(entry.rglob("*.py")))
        room = entry.stem if entry.suffix == ".py" else entry.name
        if holds_code and room != "__init__" and room not in doors.rooms:
            yield f"{folder.name}/{entry.name}: nobody has placed this room among the doors"


def _judge(found: Import, doors: Doors, modules: Mapping[str, Module]) -> str | None:
    top = found.imported.split(".")[0]
    room = room_of(found.importer)
    where = f"{_shown(modules[found.importer])}:{found.line}"
    if top == doors.package:
        return _judge_inside(found, room, where, doors)
    if top in sys.stdlib_module_names:
        return _judge_standard(found.imported, room, where, doors)
    if room not in doors.libraries.get(top, {}):
        return f"{where}: {room or 'the package itself'} may not import the library {top}"
    return None


def _judge_inside(found: Import, room: str, where: str, doors: Doors) -> str | None:
    target = room_of(found.imported)
    if not target:
        return f"{where}: imports the package as a whole; name the room"
    if target == room or target in doors.rooms.get(room, frozenset()):
        return None
    return f"{where}: {room or 'the package itself'} may not import {target}"


def _judge_standard(imported: str, room: str, where: str, doors: Doors) -> str | None:
    touches = imported.split(".", maxsplit=1)[0] in DISK_AND_CLOCK and imported not in TOUCHES_NOTHING
    if room in doors.pure and touches:
        return f"{where}: {room} is pure and may not import {imported}"
    for refused, exempt in doors.refused.items():
        if (imported == refused or imported.startswith(f"{refused}.")) and room not in exempt:
            return f"{where}: {room or 'the package itself'} may not import {refused}"
    return None


def _find_bad_habits(module: Module, doors: Doors) -> Iterator[str]:
    shown = _shown(module)
    room = room_of(module.name)
    length = len(module.source.splitlines())
    if length > LONGEST_MODULE:
        yield f"{shown}: {length} lines, over {LONGEST_MODULE}"
    if TELLING_NOTHING & set(module.name.split(".")[1:]):
        yield f"{shown}: the name tells a newcomer nothing"
    for node in ast.walk(module.tree):
        if _name_of(node) == "TYPE_CHECKING":
            yield f"{shown}:{_line(node)}: an import for the type checker alone hides a circle"
        if not isinstance(node, ast.Call):
            continue
        called = _name_of(node.func)
        if called in DYNAMIC_CALLS and room not in doors.dynamic:
            yield f"{shown}:{node.lineno}: imports by a name made at run time"
        if called in CLOCK_CALLS and room in doors.pure:
            yield f"{shown}:{node.lineno}: {room} is pure and may not call {called}"


def _find_circle(imports: tuple[Import, ...], modules: Mapping[str, Module]) -> Iterator[str]:
    graph: dict[str, set[str]] = {name: set() for name in modules}
    for found in imports:
        if found.imported in modules:
            graph[found.importer].add(found.imported)
    try:
        TopologicalSorter(graph).prepare()
    except CycleError as circle:
        yield f"{next(iter(modules))}: modules in a circle: {' <- '.join(circle.args[1])}"


def _name_of(node: ast.AST) -> str:
    if isinstance(node, ast.Name):
        return node.id
    return node.attr if isinstance(node, ast.Attribute) else ""


def _line(node: ast.AST) -> int:
    return int(getattr(node, "lineno", 0))


def _shown(module: Module) -> str:
    return f"{'/'.join(module.name.split('.'))}{'/__init__' if module.is_package else ''}.py"
