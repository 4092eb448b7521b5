"""Nothing is kept for the whole process: what changes is owned by an object that is handed on."""

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
MODULES = sorted((ROOT / "coach").rglob("*.py"))
CHANGING = {"append", "extend", "insert", "add", "update", "pop", "clear", "setdefault", "remove", "discard"}


def kept_for_all(tree: ast.Module) -> Iterator[str]:
    """What of a module could change for the whole process: each with its line."""
    names = {t.id for node in tree.body for t in targets(node) if isinstance(t, ast.Name)}
    classes = {node.name for node in tree.body if isinstance(node, ast.ClassDef)}
    taken = {a.asname or a.name for n in ast.walk(tree) if isinstance(n, ast.ImportFrom) for a in n.names}
    names |= {name for name in taken if name.isupper()}
    for node in ast.walk(tree):
        if isinstance(node, ast.Global):
            yield f"{node.lineno}: global {', '.join(node.names)}"
        for target in targets(node):
            of = target.value if isinstance(target, ast.Attribute | ast.Subscript) else None
            if isinstance(target, ast.Attribute) and isinstance(of, ast.Name) and of.id in {"cls", *classes, *taken}:
                yield f"{target.lineno}: {of.id}.{target.attr} is set"
            if isinstance(target, ast.Subscript) and isinstance(of, ast.Name) and of.id in names - inner(tree):
                yield f"{target.lineno}: {of.id}[…] is set"
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.func.attr in CHANGING:
            of = node.func.value
            if isinstance(of, ast.Name) and of.id in names - inner(tree):
                yield f"{node.lineno}: {of.id}.{node.func.attr}()"


def inner(tree: ast.Module) -> set[str]:
    """Names that functions give to something of their own."""
    return {
        t.id
        for function in ast.walk(tree)
        if isinstance(function, ast.FunctionDef | ast.AsyncFunctionDef | ast.Lambda)
        for node in ast.walk(function)
        for t in (*targets(node), *([ast.Name(node.arg)] if isinstance(node, ast.arg) else []))
        if isinstance(t, ast.Name)
    }


def targets(node: ast.AST) -> list[ast.expr]:
    """What an assignment sets."""
    match node:
        case ast.Assign(targets=several):
            return [one for t in several for one in (t.elts if isinstance(t, ast.Tuple) else [t])]
        case ast.AnnAssign(target=one) | ast.AugAssign(target=one) | ast.For(target=one) | ast.NamedExpr(target=one):
            return [one]
        case _:
            return []


@pytest.mark.sweep
def test_nothing_is_kept_for_the_whole_process() -> None:
    """No module and no class holds what a call changes; memory of pure functions (`cache`) may stay."""
    found = [
        f"{path.relative_to(ROOT)}:{what}"
        for path in MODULES
        for what in kept_for_all(ast.parse(path.read_text(encoding="utf-8")))
    ]
    assert len(MODULES) > 50
    assert not found


@pytest.mark.parametrize(
    "code",
    [
        "unit = 'mm'\ndef show(u):\n    global unit\n    unit = u",
        "class Shown:\n    unit = 'mm'\ndef show(u):\n    Shown.unit = u",
        "class Choices:\n    last = ''\n    @classmethod\n    def press(cls, key):\n        cls.last = key",
        "from coach.tui.modes import Usual\ndef heed(aspect):\n    Usual.aspect = aspect",
        "from coach.tui.hints import SEEN\ndef saw(key):\n    SEEN.update(key=1)",
        "SEEN = {'a': 1}\ndef saw(key):\n    SEEN[key] = 2",
        "SEEN = ['a']\ndef saw(key):\n    SEEN.append(key)",
    ],
)
def test_what_is_kept_for_the_whole_process_is_found(code: str) -> None:
    """The check above can fail: each way in which it was done, or could be."""
    assert list(kept_for_all(ast.parse(code)))


def test_what_a_function_keeps_for_itself_is_not_meant() -> None:
    """Lists that are filled and forgotten, fields of an object, tables that nobody changes."""
    code = "TABLE = {'a': 1}\ndef f(x):\n    found = []\n    found.append(x)\n    y = {}\n    y[x] = TABLE[x]"
    code += "\nclass A:\n    def __init__(self):\n        self.seen = []\n        self.seen.append(1)"
    assert not list(kept_for_all(ast.parse(code)))
