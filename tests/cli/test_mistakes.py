"""A mistake of the coach, and nobody's home: one sentence each, whatever else is out of order."""

import builtins
import errno
import os
import re
import tempfile
from pathlib import Path
from typing import Any

import pytest
from shellside import Shell

from coach import __main__ as program
from coach.cli import crash, screen
from coach.cli import main as command
from coach.cli.main import MISTAKE, WRONG, main


@pytest.fixture
def broken(monkeypatch: pytest.MonkeyPatch) -> None:
    """Whatever is asked, the coach makes a mistake."""

    def fails(_: object) -> int:
        raise ZeroDivisionError("inside")

    monkeypatch.setattr(command, "_run", fails)


@pytest.mark.usefixtures("broken")
@pytest.mark.parametrize(
    "given", [[], ["--data", "~nobody-of-that-name", "list"], ["--data", "loop", "list"], ["--data"]]
)
def test_the_report_of_a_mistake_makes_none(
    given: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Without arguments, with nobody's home, with a link that leads to itself: status 1 or 2, one line, no traceback;
    of a mistake, the details are in the data folder, else where everybody may write."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("ALIGNMENT_COACH_DATA", str(tmp_path / "data"))
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    Path("loop").symlink_to("loop")
    status, said = main(given), capsys.readouterr().err
    assert status == (WRONG if given == ["--data"] else MISTAKE)
    assert said.count("\n") == 1
    assert "Traceback" not in said
    reports = [path for folder in (tmp_path, tmp_path / "data" / "reports") for path in folder.glob("report-*.txt")]
    assert len(reports) == (status == MISTAKE)
    assert all(str(path) in said and "ZeroDivisionError: inside" in path.read_text() for path in reports)


def test_where_nothing_can_be_written_the_mistake_is_still_told(
    shell: Shell, monkeypatch: pytest.MonkeyPatch, broken: None
) -> None:
    """Neither in the data folder nor elsewhere."""

    def refused(*_: object) -> None:
        raise RuntimeError("Symlink loop")

    monkeypatch.setattr(crash, "write_text", refused)
    said = shell("list")
    assert (said.status, said.err.count("\n")) == (MISTAKE, 1)
    assert "ZeroDivisionError" in said.err
    assert "could not be written" in said.err


@pytest.mark.parametrize("data", ["~nobody-of-that-name", "~nobody-of-that-name/coach"])
def test_a_folder_in_nobodys_home_is_refused_in_a_sentence(data: str, capsys: pytest.CaptureFixture[str]) -> None:
    """Nothing of that name is made where the shell stands."""
    assert main(["--data", data, "list"]) == WRONG
    said = capsys.readouterr().err
    assert "nobody-of-that-name" in said
    assert "--data" in said


def test_a_person_without_a_home_is_told(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    """In a container as a user that the system does not know: no folder called "~", one sentence."""
    monkeypatch.delenv("ALIGNMENT_COACH_DATA", raising=False)
    monkeypatch.setattr(os.path, "expanduser", lambda path: path)
    assert main(["list"]) == WRONG
    assert "no home folder" in capsys.readouterr().err


def test_a_mistake_of_the_full_screen_is_no_answer_that_got_lost(
    shell: Shell, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Nothing is said to be done; the cause is named, and the report says where it was."""

    def drawn(*_: object, **__: object) -> int:
        raise OSError(errno.EIO, "the screen is odd")

    monkeypatch.setattr("coach.tui.app.run", drawn)
    monkeypatch.setattr(screen, "_need_terminal", lambda: None)
    said = shell()
    assert said.status == MISTAKE
    assert "mistake of its own (OSError" in said.err
    assert "the screen is odd" in said.err
    assert "is done" not in said.err
    report = Path(re.findall(r"in (\S+\.txt)", said.err)[0]).read_text()
    assert "in drawn" in report


def test_interrupted_before_anything_is_loaded(monkeypatch: pytest.MonkeyPatch) -> None:
    """The status of shells for it, and no traceback."""

    imports = builtins.__import__

    def interrupted(name: str, *rest: Any) -> Any:
        if name == "coach.cli.main":
            raise KeyboardInterrupt
        return imports(name, *rest)

    monkeypatch.setattr("builtins.__import__", interrupted)
    assert program.main() == 130
