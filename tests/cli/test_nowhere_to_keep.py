"""Where nothing can be kept that is said before anything is begun, with what helps; what only looks still does."""

import json
import os
from collections.abc import Callable
from pathlib import Path

import pytest
from machines import make_machine
from shellside import Shell

NEW = ("new-machine", "Shed", "--width", "600", "--depth", "400", "--side", "left")


@pytest.fixture
def locked(shell: Shell, monkeypatch: pytest.MonkeyPatch) -> None:
    """The data folder is not there, and what it would lie in may not be written to, whoever runs the tests."""
    above = shell.folder.parent
    allowed: Callable[..., bool] = os.access
    monkeypatch.setattr(os, "access", lambda path, mode: Path(path) != above and allowed(path, mode))


@pytest.mark.usefixtures("locked")
@pytest.mark.parametrize("words", [(), ("--plain",), ("practice",), NEW, ("new-session", "shed.toml")], ids=" ".join)
def test_nothing_is_begun_that_could_not_be_kept(
    words: tuple[str, ...], shell: Shell, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """No half way into a description or a job: one sentence, with the way out of it."""
    monkeypatch.chdir(tmp_path)
    make_machine().save("shed.toml")
    said = shell(*words)
    assert (said.status, said.out) == (2, "")
    for needed in ("cannot be made", str(shell.folder.parent), "--data", "ALIGNMENT_COACH_DATA"):
        assert needed in said.err
    assert not shell.folder.exists()


@pytest.mark.usefixtures("locked")
def test_what_only_looks_looks(shell: Shell) -> None:
    """A list is empty, and what is around is told, with what is wrong there."""
    assert "none yet" in shell.ok("list")
    assert "cannot be written to" in shell("surroundings").out


def test_a_folder_that_may_not_be_looked_into_is_told(shell: Shell, monkeypatch: pytest.MonkeyPatch) -> None:
    """As in the home of somebody else: not that something is denied, but what, and what helps."""
    status: Callable[..., os.stat_result] = os.stat

    def looked(path: str | Path, **how: bool) -> os.stat_result:
        if path in (shell.folder, str(shell.folder)):
            raise PermissionError(13, "Permission denied", str(path))
        return status(path, **how)

    monkeypatch.setattr(os, "stat", looked)
    for words in ((), ("list",), ("practice", "--plain")):
        said = shell(*words)
        assert said.status == 2
        assert "may not look into" in said.err
        assert "--data" in said.err
    assert "may not look into" in shell("surroundings").out


def test_around_somebody_without_a_home_the_rest_is_told(shell: Shell, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whoever looks for a fault sees versions and terminal all the same."""
    monkeypatch.setattr(os.path, "expanduser", lambda path: path)
    nobodys = Shell(Path("~"), shell.capture)
    said = nobodys("surroundings")
    assert said.status == 2
    for words in ("textual ", "Terminal: ", "BROKEN You have no home folder"):
        assert words in said.out
    told = json.loads(nobodys("surroundings", "--json").out)
    assert (told["good"], told["folder"]["path"], told["counts"]) == (False, None, {})
