"""Names and notes of strangers on the screen: shown as they are, never obeyed."""

from pathlib import Path

import pytest
from app_driving import running
from machines import make_machine

from coach import Machine, Session
from coach.describing import drafts
from coach.session.store import Store
from coach.signs import visible
from coach.tui.screens.review import ReviewScreen

TITLE = "\x1b]0;owned\x07\x1b[2J"
SHOWN = "␛]0;owned␛[2J"
"""The toolkit itself leaves the bell out."""
MARKED = "[/b] [red]Shed"
"""Looks like the marks that style a text."""


def hostile() -> Machine:
    """A machine whose name and stations look like marks."""
    table = make_machine(name=MARKED).to_table()
    places = enumerate([(20.0, 380.0), (580.0, 380.0), (300.0, 20.0)])
    table["stations"] = [{"name": f"{MARKED}{number}", "x": x, "y": y} for number, (x, y) in places]
    return Machine.model_validate(table)


@pytest.mark.sweep
async def test_a_strangers_words_command_nothing_on_any_screen(tmp_path: Path) -> None:
    """At home, in boxes, while describing, at every step to the first mark, in the list: each row is harmless, and
    the words are still told."""
    machine, seen = hostile(), ""
    Store(tmp_path).save_machine(machine)
    session = Session.start(machine)
    path = session.keep_new(tmp_path)
    session.note(f"{TITLE} {MARKED}")
    drafts.keep(drafts.begin_change(tmp_path, Store(tmp_path).machine_path(MARKED)))
    (tmp_path / "sessions" / "odd\x1b[31m.toml").write_text('"\\u001b[2J" = 1\n')

    async with running(tmp_path, size=(120, 45)) as driver:

        def look() -> None:
            nonlocal seen
            rows = driver.rows()
            assert [row for row in rows if visible(row) != row] == []
            assert all(len(row) <= driver.app.size.width for row in rows)
            seen += " ".join(rows)

        look()
        assert MARKED in seen
        for key in ("down", "down", "down", "s", "f4", "end", "question_mark", "f4"):
            await driver.press(key)
            look()
        driver.app.open_session(path)
        await driver.settle()
        for _ in range(14):
            look()
            await driver.press("enter")
        for key in ("f4", "g", "f4", "r"):
            await driver.press(key)
            look()
        assert isinstance(driver.screen, ReviewScreen)
        driver.app.tell(f"{TITLE}{MARKED}")
        await driver.settle()
        look()
    assert SHOWN in seen.partition("Review")[2]
