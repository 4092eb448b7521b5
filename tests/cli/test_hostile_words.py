"""Names, notes, kinds, keys and arguments of strangers in the shell and in plain lines: told, never obeyed."""

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from shellside import NEW, Said, Shell

from coach import settings
from coach.session.document import SCHEMA
from coach.signs import visible

EVIL = "\x1b]0;owned\x07\x1b[2J\u202e"
TOLD = visible(EVIL)


def edited(shell: Shell, old: str, new: str) -> None:
    """The session's file with something else in it, as TOML has it."""
    (path,) = (shell.folder / "sessions").glob("*.toml")
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new), encoding="utf-8")


def in_toml(text: str) -> str:
    """The same as JSON and TOML both write it in plain ASCII."""
    return json.dumps(text)


CASES: dict[str, Callable[[Shell], Said]] = {
    "a machine's name": lambda shell: shell(*NEW[:1], EVIL, *NEW[2:]),
    "a session's title": lambda shell: shell("new-session", "Shed laser", "--title", EVIL),
    "a point of one's own": lambda shell: shell("mark", "last", EVIL, "--x", "9", "--y", "9", "--u", "1", "--v", "1"),
    "a station that is not there": lambda shell: shell("mark", "last", EVIL, "--u", "1", "--v", "1"),
    "a screw's name": lambda shell: shell("turn", "last", "1", f"{EVIL}=1/8"),
    "a note": lambda shell: shell("note", "last", EVIL),
    "a number": lambda shell: shell("mark", "last", "middle", "--u", EVIL, "--v", "1"),
    "an action": lambda shell: shell(EVIL),
    "an option": lambda shell: shell("list", f"--{EVIL}"),
    "a file": lambda shell: shell("check", EVIL),
    "a folder": lambda shell: shell("list", "--data", EVIL.replace("/", "")),
    "a taken back note": lambda shell: shell("note", "last", EVIL) and shell("undo", "last"),
    "an entry's kind": lambda shell: (
        edited(shell, "events = []", f'events = [{{ id = 1, at = 2026-01-01T00:00:00Z, kind = {in_toml(EVIL)} }}]'),
        shell("check", "last"),
    )[1],
    "a key that is not known": lambda shell: (
        edited(shell, f"schema = {SCHEMA}", f"schema = {SCHEMA}\n{in_toml(EVIL)} = 1"),
        shell("check", "last"),
    )[1],
}  # fmt: skip


@pytest.mark.parametrize("case", CASES)
def test_a_strangers_words_are_told_and_not_obeyed(case: str, shell: Shell) -> None:
    """In what is said and in what is complained about."""
    shell.begun()
    said = CASES[case](shell)
    words = said.out + said.err
    assert visible(words) == words
    assert "owned" in words
    assert "␛" in words or "\\x1b" in words


def test_plain_lines_obey_nobody(shell: Shell, monkeypatch: pytest.MonkeyPatch) -> None:
    """A session with such a note, settings with such a key, and an answer of that kind."""
    shell.begun()
    shell.ok("note", "last", EVIL)
    (shell.folder / settings.FILE).write_text(f"{in_toml(EVIL)} = 1\n", encoding="utf-8")
    answers = Path("answers.txt")
    answers.write_text(f"1\n{EVIL}\nreview\nquit\n", encoding="utf-8")
    said = shell("--plain", "--answers", str(answers))
    assert said.status == 0
    assert visible(said.out + said.err) == said.out + said.err
    assert said.out.count("owned") >= 4
    assert TOLD in said.out
