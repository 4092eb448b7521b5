"""Who imports whom, read from the code: all imports, also those inside functions and for types alone.

python tests/imports.py     draws docs/imports.md anew
"""

import ast
from collections.abc import Iterable, Iterator, Mapping
from graphlib import TopologicalSorter
from pathlib import Path

ROOT = Path(__file__).parent.parent
DRAWING = ROOT / "docs" / "imports.md"
Graph = Mapping[str, frozenset[str]]
"""Each name with the names that it imports."""

ABOUT = """# Who imports whom

Made from the code by `python tests/imports.py`; a test compares. Every import counts, also one inside a function or
for types alone. No file imports another that leads back to it; no floor does, and no room of the full screen. An
arrow goes from who imports to who is imported; where a longer way leads there too the arrow is left out, and the
table has it.
"""


def files(root: Path = ROOT) -> dict[str, Path]:
    """Every module of the coach with its file."""
    found = {}
    for path in sorted((root / "coach").rglob("*.py")):
        parts = path.relative_to(root).with_suffix("").parts
        found[".".join(parts[:-1] if parts[-1] == "__init__" else parts)] = path
    return found


def named(tree: ast.AST) -> Iterator[tuple[str, str]]:
    """Every module that is imported, and what is taken from it, "" for the module itself."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from ((alias.name, "") for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.module, "imports are written in full"
            yield from ((node.module, alias.name) for alias in node.names)


def imports(modules: Mapping[str, Path]) -> Graph:
    """Each module with those of the others that it imports."""
    graph = {}
    for name, path in modules.items():
        taken = set()
        for module, what in named(ast.parse(path.read_text(encoding="utf-8"))):
            taken |= {f"{module}.{what}" if f"{module}.{what}" in modules else module} & set(modules)
        graph[name] = frozenset(taken - {name})
    return graph


def gathered(graph: Graph, room: Mapping[str, str]) -> Graph:
    """The same between rooms: each module's room; modules without one are left out."""
    found: dict[str, set[str]] = {name: set() for name in room.values()}
    for name, taken in graph.items():
        if name in room:
            found[room[name]] |= {room[other] for other in taken if other in room} - {room[name]}
    return {name: frozenset(taken) for name, taken in found.items()}


def floors(graph: Graph) -> Graph:
    """The graph of the floors: what stands directly in `coach`."""
    return gathered(graph, {name: name.split(".")[1] for name in graph if "." in name})


def rooms(graph: Graph, floor: str) -> Graph:
    """The graph of the rooms of one floor."""
    start = f"coach.{floor}."
    return gathered(graph, {name: name.removeprefix(start).split(".")[0] for name in graph if name.startswith(start)})


def in_order(graph: Graph) -> list[str]:
    """From those that nothing imports down to those that import nothing.  Raises CycleError."""
    sorter = TopologicalSorter(graph)
    sorter.prepare()
    layers: list[list[str]] = []
    while sorter.is_active():
        ready = sorter.get_ready()
        layers.append(sorted(ready))
        sorter.done(*ready)
    return [name for layer in reversed(layers) for name in layer]


def beyond(graph: Graph, name: str) -> frozenset[str]:
    """All that a name leads to."""
    return graph[name].union(*(beyond(graph, other) for other in graph[name]))


def direct(graph: Graph, name: str) -> Iterable[str]:
    """The imported ones to which no longer way leads."""
    return sorted(o for o in graph[name] if not any(o in beyond(graph, p) for p in graph[name] - {o}))


def drawn(graph: Graph) -> list[str]:
    """The graph as a Mermaid drawing and as a table."""
    order = in_order(graph)
    arrows = [f"    {name} --> {other}" for name in order for other in direct(graph, name)]
    alone = [f"    {name}" for name in order if not any(f" {name} " in f"{arrow} " for arrow in arrows)]
    table = [f"| {name} | {', '.join(o for o in order if o in graph[name]) or '–'} |" for name in order]
    return ["```mermaid", "flowchart TD", *arrows, *alone, "```", "", "| | imports |", "|---|---|", *table]


def document() -> str:
    """docs/imports.md as it has to be."""
    graph = imports(files())
    lines = [ABOUT, "## The floors", "", *drawn(floors(graph)), "", "## Inside the full screen", ""]
    return "\n".join([*lines, *drawn(rooms(graph, "tui")), ""])


if __name__ == "__main__":
    DRAWING.write_text(document(), encoding="utf-8")
    print(f"{DRAWING} is drawn")
