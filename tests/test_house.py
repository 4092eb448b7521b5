"""The house keeps its shape: what is imported when, how large files grow, and what lies at the top."""

import ast
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from _surroundings import ROOT
from machines import make_machine

import coach
from coach import Session
from coach.session.store import Store

LONGEST_FILE, LONGEST_FUNCTION = 300, 40

SCREEN = {"textual", "rich"}
HEAVY = SCREEN | {"numpy", "pydantic", "scipy"}

DOT_FILES = {".ci", ".gitignore"}
TOP_LEVEL = {"README.md", "DEVELOPERS.md", "LICENSE", "pyproject.toml", "coach", "docs", "tests"}


def listed(tree: Path = ROOT) -> list[str]:
    """What belongs to the tree: the files that git keeps and that are still there; of an unpacked archive, all
    but what was made there since: the README's environment, caches."""
    listing = subprocess.run(["git", "ls-files", "-z"], capture_output=True, text=True, cwd=tree, check=False)
    if listing.returncode == 0 and listing.stdout:
        return sorted(name for name in listing.stdout.split("\0") if (tree / name).is_file())
    tops = [path for path in tree.iterdir() if path.name in DOT_FILES or not path.name.startswith(".")]
    names = [str(path.relative_to(tree)) for top in tops for path in (top, *top.rglob("*")) if path.is_file()]
    return sorted(name for name in names if "__pycache__" not in name)


MODULES = [ROOT / name for name in listed() if name.startswith("coach/") and name.endswith(".py")]


def run(code: str, cwd: Path, tree: Path = ROOT) -> str:
    """The last line that a fresh interpreter prints for the code, the coach being that tree's."""
    environment = {**os.environ, "PYTHONPATH": str(tree)}
    call = [sys.executable, "-c", code]
    done = subprocess.run(call, capture_output=True, text=True, cwd=cwd, check=False, env=environment)
    assert done.returncode == 0, done.stderr
    return done.stdout.splitlines()[-1]


def loaded(code: str, cwd: Path, tree: Path = ROOT) -> set[str]:
    """Top-level packages in `sys.modules` after a fresh interpreter ran the code."""
    report = "\nimport sys\nprint('\\n' + ' '.join(sorted({name.partition('.')[0] for name in sys.modules})))"
    return set(run(code + report, cwd, tree).split())


def command(*words: str) -> str:
    """Code that runs a shell command in this interpreter and insists that it went well."""
    return f"from coach.cli.main import main\nassert main({list(words)!r}) == 0\n"


def test_what_is_tested_is_this_tree(tmp_path: Path) -> None:
    """Here, and in every program that a test starts, from wherever: the tree's own files, and no installed copy."""
    assert Path(coach.__file__).parent == ROOT / "coach"
    call = [sys.executable, "-c", "import coach; print(coach.__file__)"]
    done = subprocess.run(call, capture_output=True, text=True, cwd=tmp_path, check=True)
    assert Path(done.stdout.strip()).parent == ROOT / "coach"


def test_importing_the_package_costs_nothing() -> None:
    """`import coach` loads neither the screen nor numpy nor pydantic."""
    assert not loaded("import coach", ROOT) & HEAVY


@pytest.mark.parametrize("asked", ["--version", "--help"])
def test_version_and_help_load_nothing_heavy(asked: str, tmp_path: Path) -> None:
    """`coach --version` and `coach --help` answer before anything large is read."""
    assert not loaded(command(asked), tmp_path) & HEAVY


def test_a_note_loads_nothing_that_reckons(tmp_path: Path) -> None:
    """`coach note last` reads the session whole, lists what else there is, and writes: numpy is for none of that."""
    store = Store(tmp_path)
    session = Session.start(make_machine())
    session.mark("middle", u=1.0, v=-0.5)
    session.turn(1, {"B": 0.1})
    session.keep_new(store.folder)
    assert loaded(command("--data", str(tmp_path), "note", "last", "warm"), tmp_path) & HEAVY == {"pydantic"}
    assert Session.load(session.path).events[-1].text == "warm"


def test_the_checks_here_see_what_is_loaded() -> None:
    """The two tests above can fail: loading numpy shows."""
    assert loaded("import numpy", ROOT) & HEAVY == {"numpy"}


def test_a_broken_tree_is_seen(tmp_path: Path) -> None:
    """A copy in which `--version` loads numpy and one file is too long, undocumented and not listed by git fails."""
    tree = tmp_path / "tree"
    shutil.copytree(ROOT / "coach", tree / "coach", ignore=shutil.ignore_patterns("__pycache__"))
    asked = tree / "coach" / "cli" / "main.py"
    text = asked.read_text(encoding="utf-8")
    asked.write_text(text.replace("\nimport ", "\nimport numpy\nimport ", 1), encoding="utf-8")
    assert not loaded(command("--version"), tmp_path) & HEAVY
    assert loaded(command("--version"), tmp_path, tree) & HEAVY == {"numpy"}
    (tree / "coach" / "planted.py").write_text("def long():\n" + "    pass\n" * LONGEST_FILE, encoding="utf-8")
    planted = [tree / name for name in listed(tree) if name.endswith("planted.py")]
    assert [path.name for path in planted] == ["planted.py"]
    assert code_lines(planted[0]) > LONGEST_FILE
    assert list(long_functions(planted[0], tree)) == ["coach/planted.py:long"]
    assert undocumented(planted[0], tree) == ["coach/planted.py", "coach/planted.py:long"]


def code_lines(path: Path) -> int:
    return len(path.read_text(encoding="utf-8").splitlines())


def test_no_file_grows_past_its_room() -> None:
    """A file of more than 300 lines asks for a new room."""
    too_long = {str(path.relative_to(ROOT)): code_lines(path) for path in MODULES if code_lines(path) > LONGEST_FILE}
    assert not too_long


def long_functions(path: Path, tree: Path = ROOT) -> dict[str, int]:
    """The functions of a file that are too long, docstring included, with their lines."""
    return {
        f"{path.relative_to(tree)}:{node.name}": node.end_lineno - node.lineno + 1
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)
        and node.end_lineno
        and node.end_lineno - node.lineno + 1 > LONGEST_FUNCTION
    }


def test_no_function_grows_past_a_screen() -> None:
    """A function of more than 40 lines, its docstring included, asks to be parted."""
    assert not {name: lines for path in MODULES for name, lines in long_functions(path).items()}


def undocumented(path: Path, tree: Path = ROOT) -> list[str]:
    """What in a module is public and has no docstring: itself and, below the screen, its classes and functions."""
    module = ast.parse(path.read_text(encoding="utf-8"))
    if not module.body:
        return []
    public = [
        node
        for node in module.body
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef) and not node.name.startswith("_")
    ]
    name = str(path.relative_to(tree))
    asked = [] if "tui" in path.parts else public  # what a widget or command is for stands in its own texts
    missing = [f"{name}:{node.name}" for node in asked if ast.get_docstring(node) is None]
    return missing if ast.get_docstring(module) else [name, *missing]


def test_everything_public_is_documented() -> None:
    """Every module that holds anything says what it is; so does every public class and function of the engine."""
    assert len(MODULES) > 50
    assert not [name for path in MODULES for name in undocumented(path)]


def test_the_top_level_is_as_agreed() -> None:
    """Nothing new lies at the top of the repository, and nothing is missing."""
    found = {name.partition("/")[0] for name in listed()}
    assert found == TOP_LEVEL | DOT_FILES
