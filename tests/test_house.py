"""The house keeps its shape: what is imported when, how large files grow, and what lies at the top."""

import ast
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
MODULES = sorted((ROOT / "coach").rglob("*.py"))
LONGEST_FILE, LONGEST_FUNCTION = 300, 40

SCREEN = {"textual", "rich"}
HEAVY = SCREEN | {"numpy", "pydantic", "scipy"}

TOP_LEVEL = {"README.md", "DEVELOPERS.md", "LICENSE", "pyproject.toml", "coach", "docs", "tests"}


def loaded(code: str, cwd: Path) -> set[str]:
    """Top-level packages in `sys.modules` after a fresh interpreter ran the code."""
    report = "\nimport sys\nprint('\\n' + ' '.join(sorted({name.partition('.')[0] for name in sys.modules})))"
    done = subprocess.run([sys.executable, "-c", code + report], capture_output=True, text=True, cwd=cwd, check=False)
    assert done.returncode == 0, done.stderr
    return set(done.stdout.splitlines()[-1].split())


def command(*words: str) -> str:
    """Code that runs a shell command in this interpreter and insists that it went well."""
    return f"from coach.cli.main import main\nassert main({list(words)!r}) == 0\n"


def test_importing_the_package_costs_nothing() -> None:
    """`import coach` loads neither the screen nor numpy nor pydantic."""
    assert not loaded("import coach", ROOT) & HEAVY


@pytest.mark.parametrize("asked", ["--version", "--help"])
def test_version_and_help_load_nothing_heavy(asked: str, tmp_path: Path) -> None:
    """`coach --version` and `coach --help` answer before anything large is read."""
    assert not loaded(command(asked), tmp_path) & HEAVY


def test_the_checks_here_see_what_is_loaded() -> None:
    """The two tests above can fail: loading numpy shows."""
    assert loaded("import numpy", ROOT) & HEAVY == {"numpy"}


def code_lines(path: Path) -> int:
    return len(path.read_text(encoding="utf-8").splitlines())


def test_no_file_grows_past_its_room() -> None:
    """A file of more than 300 lines asks for a new room."""
    too_long = {str(path.relative_to(ROOT)): code_lines(path) for path in MODULES if code_lines(path) > LONGEST_FILE}
    assert not too_long


def test_no_function_grows_past_a_screen() -> None:
    """A function of more than 40 lines, its docstring included, asks to be parted."""
    too_long = {
        f"{path.relative_to(ROOT)}:{node.name}": node.end_lineno - node.lineno + 1
        for path in MODULES
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)
        and node.end_lineno
        and node.end_lineno - node.lineno + 1 > LONGEST_FUNCTION
    }
    assert not too_long


def undocumented(path: Path) -> list[str]:
    """What in a module is public and has no docstring: itself and, below the screen, its classes and functions."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    if not tree.body:
        return []
    public = [
        node
        for node in tree.body
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef) and not node.name.startswith("_")
    ]
    name = str(path.relative_to(ROOT))
    asked = [] if "tui" in path.parts else public  # what a widget or command is for stands in its own texts
    missing = [f"{name}:{node.name}" for node in asked if ast.get_docstring(node) is None]
    return missing if ast.get_docstring(tree) else [name, *missing]


def test_everything_public_is_documented() -> None:
    """Every module that holds anything says what it is; so does every public class and function of the engine."""
    assert len(MODULES) > 50
    assert not [name for path in MODULES for name in undocumented(path)]


def test_the_top_level_is_as_agreed() -> None:
    """Nothing new lies at the top of the repository, and nothing is missing."""
    listing = subprocess.run(["git", "ls-files", "-z"], capture_output=True, text=True, cwd=ROOT, check=False)
    if listing.returncode == 0 and listing.stdout:
        found = {name.partition("/")[0] for name in listing.stdout.split("\0") if name}
    else:  # an unpacked archive
        found = {path.name for path in ROOT.iterdir()}
    assert {name for name in found if not name.startswith(".")} == TOP_LEVEL
