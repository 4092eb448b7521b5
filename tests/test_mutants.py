"""The list of small wrong changes follows the code: what is stale tells nothing, and nobody would notice."""

import ast
from pathlib import Path

from mutants import all_mutations

ROOT = Path(__file__).resolve().parent.parent


def test_every_text_stands_in_its_file_once_and_is_changed_to_a_program() -> None:
    """Where a line changed, its entry in tests/mutants has to be written anew."""
    stale = []
    for change in all_mutations():
        text = (ROOT / change.file).read_text(encoding="utf-8")
        if text.count(change.old) != 1:
            stale.append(f"{change.file}: {change.meaning}: {text.count(change.old)} times")
        assert change.old != change.new, change.meaning
        ast.parse(text.replace(change.old, change.new))
    assert stale == []


def test_every_test_that_is_named_for_one_is_there() -> None:
    """A file, and a test in it where one is named."""
    assert [change.meaning for change in all_mutations() if not all(map(_is_there, change.tests))] == []


def test_no_two_have_one_meaning() -> None:
    """Each is told from the others by its words."""
    meanings = [f"{change.file}: {change.meaning}" for change in all_mutations()]
    assert len(set(meanings)) == len(meanings)


def _is_there(test: str) -> bool:
    file, _, name = test.partition("::")
    path = ROOT / file
    return path.is_file() and (not name or f"def {name.partition('[')[0]}(" in path.read_text(encoding="utf-8"))
