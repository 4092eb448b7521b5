"""Every shell command and every page with a stranger's words in all of its places: told, never obeyed.

What commands a terminal or turns the order of what follows: Unicode Character Database, general category Cc
(UnicodeData.txt) and the property Bidi_Control (PropList.txt); `coach.signs.visible` is held against both in
tests/test_visible_signs.py.
"""

import argparse
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from shellside import NEW, Shell

from coach.cli.options import build_parser
from coach.cli.parser import Parser
from coach.session.session import Session
from coach.signs import visible

EVIL = "\x1b]0;owned\x07\x1b[2J\u202e\u2066\x9b31m"
INTERACTIVE = ("practice", "open")
"""They lead a conversation, or need a terminal."""
ON_A_SESSION = (
    "advise last", "advise last --json", "advise-head last", "advise-pointer last", "cuts last", "learned last",
    "list", "list --json", "check last", "report last --format text", "worksheet last", "share last", "due",
    "history Shed", "care Shed", "described last", "undo last",
)  # fmt: skip


def actions() -> dict[str, Parser]:
    """Every shell command and its parser."""
    (chosen,) = (a for a in build_parser()._actions if isinstance(a, argparse._SubParsersAction))
    return dict(chosen.choices)


def calls(name: str, parser: Parser, usual: dict[str, str], walked: set[str]) -> Iterator[list[str]]:
    """The command with its places filled as usual and one after another of them, or an option, by the stranger.

    What several commands share, such as --unit, is walked at the first of them.
    """
    places = [a for a in parser._actions if not a.option_strings]
    usually = [usual.get(place.dest, "x") for place in places]
    for number in range(len(places)):
        yield [name, *usually[:number], EVIL, *usually[number + 1 :]]
    options = {a.option_strings[0] for a in parser._actions if a.option_strings and a.nargs != 0}
    for option in sorted(options - walked):
        yield [name, *usually, option, EVIL]
    walked |= options
    yield [name, *usually, f"--{EVIL}"]


def hostile(shell: Shell) -> Path:
    """A session in whose every free text a stranger's words stand, and broken files with such names."""
    shell.ok(*NEW[:1], "Shed", *NEW[2:])
    path = Path(shell.ok("new-session", "Shed").strip())
    session = Session.resume(path)
    session.note(EVIL)
    session.keep_draft({"note": EVIL, "left": EVIL})
    for station in session.machine.stations:
        session.mark(station.name, u=0.2, v=0.1, typed={"method": "offsets", "across": EVIL, "why": EVIL})
    session.turn(1, {"B": 0.125}, typed={"B": EVIL})
    session.amend(session.events[1].id, 0.3, 0.1, typed={"why": EVIL})
    (path.parent / f"{EVIL.replace('/', '')}.toml").write_text('"\\u001b[2J" = 1\n')
    (shell.folder / "machines" / "\x1b[31m.toml").write_text('name = "\\u001b[2J"\n')
    return path


def assert_told(text: str, where: object) -> None:
    """Nothing in it commands anything."""
    assert visible(text) == text, where
    assert "Traceback" not in text, where


@pytest.mark.sweep
def test_every_command_tells_and_obeys_nobody(shell: Shell, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """With those words as each argument and option: refused or taken, never 1 (a mistake of the program's own)."""
    monkeypatch.chdir(tmp_path)
    path = hostile(shell)
    kept = path.read_bytes()
    usual = {"session": str(path), "machine": "Shed", "mirror": "1", "part": "tube", "station": "middle",
             "screws": "B=1/8", "name": "Another", "text": "smoke"}  # fmt: skip
    walked, called = {"--to", "--data"}, 0
    for name, parser in actions().items():
        for argv in () if name in INTERACTIVE else calls(name, parser, usual, walked):
            said = shell(*argv)
            assert said.status in (0, 2), (argv, said)
            assert_told(said.out + said.err, argv)
            path.write_bytes(kept)
            called += 1
    assert called > 100


def test_every_answer_about_a_hostile_session_is_harmless(
    shell: Shell, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """What is said of it, and every page that is written about it."""
    monkeypatch.chdir(tmp_path)
    path = hostile(shell)
    for words in ON_A_SESSION:
        said = shell(*words.replace("last", str(path)).split(" "))
        assert said.status in (0, 2), (words, said)
        assert_told(said.out + said.err, words)
    pages = tmp_path / "pages"
    for form in ("html", "markdown", "text"):
        (pages / form).mkdir(parents=True)
        shell.ok("report", str(path), "--format", form, "--to", str(pages / form / "page"))
    written = [page for page in pages.rglob("*") if page.is_file()]
    assert len(written) >= 3
    for page in written:
        assert_told(page.read_text(encoding="utf-8"), page)
    assert any("owned" in page.read_text(encoding="utf-8") for page in written)


def test_plain_lines_with_such_answers(shell: Shell, tmp_path: Path) -> None:
    """At every question of a visit, and of a machine that is described: asked again, and told."""
    hostile(shell)
    shutil.rmtree(shell.folder / "drafts", ignore_errors=True)
    for begins in ("", "2\n", "1\n" * 6, "1\n" * 12, "3\n" + "1\n" * 5):
        answers = tmp_path / "answers"
        answers.write_text(f"{begins}{EVIL}\nreview\nhelp\n{EVIL}\nnote {EVIL}\nreview\nquit\n", encoding="utf-8")
        said = shell("--plain", "--answers", str(answers))
        assert said.status == 0
        assert "owned" in said.out
        assert_told(said.out + said.err, begins)
