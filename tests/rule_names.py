"""The names of all rules that the package can report a fault under, read from its source."""

import ast
from collections.abc import Iterable, Iterator
from pathlib import Path

from doors import Module, read_modules

SHAPE_RULES = "schema/"


def find_rule_names(package: Path) -> frozenset[str]:
    """The name of every rule: what is handed over as `rule`, wherever in the package it is written down.

    Raises:
        ValueError: a rule is handed over in a way that this reading does not follow.
    """
    names: set[str] = set()
    for module in read_modules(package).values():
        names |= set(_shape_rules(module.tree))
        places = dict(_places_of_rule(module.tree))
        for function in _functions(module.tree):
            for call in (node for node in ast.walk(function) if isinstance(node, ast.Call)):
                names |= _names_in(call, function, module, places)
    return frozenset(names)


def _functions(tree: ast.AST) -> Iterator[ast.FunctionDef]:
    return (node for node in ast.walk(tree) if isinstance(node, ast.FunctionDef))


def _places_of_rule(tree: ast.AST) -> Iterator[tuple[str, int]]:
    """For each function with a text parameter `rule`, its place among those handed over in order."""
    for function in _functions(tree):
        arguments = [argument for argument in function.args.args if argument.arg not in {"self", "cls"}]
        for place, argument in enumerate(arguments):
            if argument.arg == "rule" and getattr(argument.annotation, "id", "") == "str":
                yield function.name, place


def _shape_rules(tree: ast.AST) -> Iterator[str]:
    """The rules of the schemas stand in a table, by keyword of JSON Schema."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and node.value.startswith(SHAPE_RULES):
            yield node.value


def _names_in(call: ast.Call, function: ast.FunctionDef, module: Module, places: dict[str, int]) -> frozenset[str]:
    called = call.func.attr if isinstance(call.func, ast.Attribute) else getattr(call.func, "id", "")
    if called in places:
        handed = [*call.args[places[called] :][:1], *_keywords(call)]
    elif called == "Problem":
        handed = list(_keywords(call))
    else:
        return frozenset()
    return frozenset(name for value in handed for name in _resolve(value, function, module))


def _keywords(call: ast.Call) -> Iterator[ast.expr]:
    return (keyword.value for keyword in call.keywords if keyword.arg == "rule")


def _resolve(value: ast.expr, function: ast.FunctionDef, module: Module) -> Iterable[str]:
    if isinstance(value, ast.Constant) and isinstance(value.value, str):
        return {value.value}
    if isinstance(value, ast.IfExp):
        return {*_resolve(value.body, function, module), *_resolve(value.orelse, function, module)}
    if isinstance(value, ast.Subscript) and isinstance(value.value, ast.Name):
        table = _assigned(value.value.id, module.tree.body)
        if isinstance(table, ast.Dict):
            return {name for entry in table.values for name in _resolve(entry, function, module)}
    if isinstance(value, ast.Name):
        assigned = _assigned(value.id, ast.walk(function)) or _assigned(value.id, module.tree.body)
        if assigned is not None:
            return _resolve(assigned, function, module)
        if value.id in {argument.arg for argument in [*function.args.args, *function.args.kwonlyargs]}:
            return set()  # named where the function is called
    if isinstance(value, ast.Call) and getattr(value.func, "id", "") == "rule_of":
        return set()  # by keyword of JSON Schema, from the table
    raise ValueError(f"{module.path}:{value.lineno}: a rule handed over as {ast.unparse(value)}")


def _assigned(name: str, nodes: Iterable[ast.AST]) -> ast.expr | None:
    for node in nodes:
        targets = (
            node.targets if isinstance(node, ast.Assign) else [node.target] if isinstance(node, ast.AnnAssign) else []
        )
        if any(isinstance(target, ast.Name) and target.id == name for target in targets):
            return node.value if isinstance(node, ast.Assign | ast.AnnAssign) else None
    return None
