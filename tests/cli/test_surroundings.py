"""What the coach finds around it, told in plain words and as JSON, and what is wrong with it."""

import json
import os
from pathlib import Path

import pytest
from shellside import Shell

from coach.signs import visible


def test_what_is_well_is_told_so(shell: Shell) -> None:
    """Versions, terminal, folder, files and index; nothing is made where there is nothing yet."""
    said = shell.ok("surroundings")
    assert "not there yet" in said
    assert not shell.folder.exists()
    shell.begun()
    said = shell.ok("surroundings")
    for words in ("Coach ", "textual ", "keeps two programs apart", "machines 1, sessions 1", "All is well."):
        assert words in said
    told = json.loads(shell.ok("surroundings", "--json"))
    assert told["good"]
    assert (told["folder"]["writable"], told["folder"]["locks"]) == (True, True)
    assert told["counts"]["sessions"] == 1


def test_a_folder_asked_for_that_does_not_exist_is_said_so_with_its_near_names(shell: Shell, tmp_path: Path) -> None:
    """A misspelt --data is no "all is well": what is meant is named, and that the first thing kept would make it."""
    (tmp_path / "alignment").mkdir()
    said = shell("--data", str(tmp_path / "alignmnt"), "surroundings")
    assert said.status == 2
    assert f"does not exist: is {tmp_path / 'alignment'} meant?" in said.out
    assert "the first thing that is kept would make it" in said.out
    assert "All is well" not in said.out
    assert not (tmp_path / "alignmnt").exists()


BROKEN = {
    "sessions/hurt\x1b[2J.toml": "schema = ",
    "machines/odd.toml": 'name = "x"\nflavour = 1\n',
    "upkeep/shed-laser.toml": "schema = 99\n",
    "baselines/shed-laser.toml": "schema = 99\n",
    "drafts/describe.toml": "answers = 3\n",
    "settings.toml": 'look = "plaid"\n',
}


def test_each_file_that_cannot_be_used_is_told_with_its_reason(shell: Shell) -> None:
    """Of every kind; the files stay as they were, and no name commands the terminal."""
    shell.begun()
    for name, text in BROKEN.items():
        path = shell.folder / name
        path.parent.mkdir(exist_ok=True)
        path.write_text(text)
    said = shell("surroundings")
    assert said.status == 2
    assert visible(said.out) == said.out
    told = json.loads(shell("surroundings", "--json").out)
    for name, text in BROKEN.items():
        assert any(Path(name).name.split("\x1b")[0] in problem for problem in told["broken"]), name
        assert (shell.folder / name).read_text() == text
    assert said.out.count("BROKEN") == len(told["broken"]) >= len(BROKEN)
    assert "All is well" not in said.out


@pytest.mark.skipif(os.geteuid() == 0, reason="whoever may do everything can write everywhere")
def test_a_folder_that_cannot_be_written_to_is_told(shell: Shell) -> None:
    """Where nothing could be kept."""
    shell.begun()
    shell.folder.chmod(0o500)
    try:
        said = shell("surroundings")
    finally:
        shell.folder.chmod(0o700)
    assert said.status == 2
    assert "cannot be written to" in said.out


@pytest.mark.parametrize(
    ("environment", "colours"),
    [
        ({"NO_COLOR": "1", "COLORTERM": "truecolor"}, "none, as NO_COLOR asks"),
        ({"COLORTERM": "truecolor"}, "all"),
        ({"TERM": "screen-256color"}, "256"),
        ({"TERM": "dumb"}, "none"),
        ({"TERM": "linux"}, "16"),
    ],
)
def test_colours_are_told_as_the_terminal_says(
    environment: dict[str, str], colours: str, shell: Shell, monkeypatch: pytest.MonkeyPatch
) -> None:
    """By its kind, what it says of itself, and the wish for none (no-color.org)."""
    for name in ("NO_COLOR", "COLORTERM", "TERM"):
        monkeypatch.delenv(name, raising=False)
    for name, value in environment.items():
        monkeypatch.setenv(name, value)
    assert json.loads(shell.ok("surroundings", "--json"))["terminal"]["colours"] == colours
