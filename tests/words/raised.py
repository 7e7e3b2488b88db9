"""Every refusal and caution that the package can state, read from its source."""

import ast
from dataclasses import dataclass
from pathlib import Path

import dyeshade

PACKAGE = Path(dyeshade.__file__).resolve().parent


@dataclass(frozen=True)
class Stated:
    kind: str
    code: str
    facts: frozenset[str] | None
    """None where the facts are made elsewhere."""
    place: str


def stated(kind: str) -> list[Stated]:
    """All places where a `DyeshadeError` or `Notice` is made with a code of its own."""
    found = []
    for path in sorted(PACKAGE.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if not (isinstance(node, ast.Call) and isinstance(node.func, ast.Name)):
                continue
            if node.func.id != kind or not node.args:
                continue
            place = f"{path.relative_to(PACKAGE)}:{node.lineno}"
            found += [Stated(kind, c, _facts(node), place) for c in _codes(node.args[0], path)]
    return found


def _codes(first: ast.expr, path: Path) -> list[str]:
    if isinstance(first, ast.Constant):
        return [first.value]
    if isinstance(first, ast.IfExp):
        return _codes(first.body, path) + _codes(first.orelse, path)
    if isinstance(first, ast.Name):
        # A variable: its codes are what the same file assigns to that name.
        tree = ast.parse(path.read_text(encoding="utf-8"))
        assigned = [
            node.value
            for node in ast.walk(tree)
            if isinstance(node, ast.Assign)
            and isinstance(node.targets[0], ast.Name)
            and node.targets[0].id == first.id
        ]
        return [code for value in assigned for code in _codes(value, path)]
    return []


def _facts(node: ast.Call) -> frozenset[str] | None:
    names = {keyword.arg for keyword in node.keywords}
    if None in names:
        return None
    if len(node.args) > 1:
        given = node.args[1]
        if not isinstance(given, ast.Dict):
            return None
        names |= {key.value if isinstance(key, ast.Constant) else None for key in given.keys}
    return None if None in names else frozenset(names)
