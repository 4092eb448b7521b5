"""No file imports another that leads back to it, and the drawing of the floors is that of the code."""

from graphlib import CycleError
from pathlib import Path

import pytest
from imports import DRAWING, document, files, imports, in_order


def test_no_imports_go_in_a_circle() -> None:
    """Neither at the top of a file, nor inside a function, nor for types alone."""
    graph = imports(files())
    assert len(graph) > 150
    in_order(graph)


@pytest.mark.parametrize(
    "hidden",
    [
        "from coach.a import A",
        "def f():\n    from coach import a",
        "import typing\nif typing.TYPE_CHECKING:\n    import coach.a",
    ],
)
def test_a_circle_is_found_wherever_it_hides(tmp_path: Path, hidden: str) -> None:
    """The check above can fail: an import back shows, wherever in the file it stands."""
    for name, text in (("__init__", ""), ("a", "import coach.b"), ("b", "from coach.c import C"), ("c", hidden)):
        (tmp_path / "coach").mkdir(exist_ok=True)
        (tmp_path / "coach" / f"{name}.py").write_text(text)
    with pytest.raises(CycleError):
        in_order(imports(files(tmp_path)))


@pytest.mark.sweep
def test_the_drawing_is_that_of_the_code() -> None:
    """docs/imports.md was drawn since imports changed: python tests/imports.py."""
    assert DRAWING.read_text(encoding="utf-8") == document()
