"""A copy of a session to be given away, and somebody else's taken up."""

from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import Any

from textual.app import App

from coach.errors import CoachError
from coach.files import as_toml, write_new
from coach.session.document import read, to_table
from coach.session.store import Store
from coach.sharing.personal import personal, without
from coach.sharing.taking import Choice, Taken, checked, take
from coach.sharing.words import GOES_ALONG, LONGER, about, machine_words, personal_lines, taken_words
from coach.tui.program import program_of
from coach.tui.screens.asking import Ask, Field, Typed
from coach.tui.screens.choices import Entry
from coach.tui.screens.dialogs import Pick
from coach.tui.screens.home_paper import asked_path

LEAD = "This is personal in it. Names and notes can be left out; what stays cannot: something is computed from it."
WHERE = "Where is the copy written? Nothing is written over, and the session stays as it is."


def share(app: App[Any], path: Path) -> None:
    """List what is personal, ask what of it goes along and for the file, write it, and say where it is."""
    try:
        document = read(path)
    except CoachError as error:
        program_of(app).tell(str(error))
        return

    def where(key: str | None) -> None:
        if key is None:
            return
        out = GOES_ALONG[key][1]

        def write(typed: Typed) -> None:
            target = asked_path(typed)
            write_new(target, as_toml(target, to_table(without(document, *out))))

        stem = f"visit-{document.created:%Y-%m-%d}" if "name" in out else path.stem  # the file's name tells names too
        at = Path.cwd() / f"{stem}-copy.toml"
        box = Ask(
            GOES_ALONG[key][0],
            WHERE,
            (Field("file", "File", str(at), proposed=True),),
            lambda typed: f"{asked_path(typed)}",
            write,
        )
        app.push_screen(box, lambda done: _say(app, box) if done else None)

    entries = [Entry(key, label) for key, (label, _) in GOES_ALONG.items()]
    lines = "\n".join(personal_lines(personal(document)))
    app.push_screen(Pick("Share this session", (LEAD, lines), entries), where)


def _say(app: App[Any], box: Ask) -> None:
    program_of(app).tell(f"The copy is in {asked_path(box.typed)}.", "Written")


TAKE_UP = "Take up a shared file"
FILE = "A session's file from elsewhere: its path. It is checked, and kept beside what is here; it stays as it is."


def take_up(app: App[Any], then: Callable[[], object]) -> None:
    """Ask for the file, tell what is in it, keep it unless it is here already, and say what came of it."""
    folder, came = program_of(app).folder, list[tuple[Path, Taken]]()

    def inside(typed: Typed) -> str:
        document = checked(asked_path(typed))
        return " ".join((*about(document, datetime.now().astimezone()), machine_words(document, Store(folder))))

    def look(typed: Typed) -> None:
        came.append((asked_path(typed), take(folder, asked_path(typed), "look")))

    box = Ask(TAKE_UP, FILE, (Field("file", "File", ""),), inside, look, enter="take it up")

    def keep(path: Path, choice: Choice) -> None:
        try:
            said = taken_words(take(folder, path, choice))
        except CoachError as error:
            said = (str(error),)
        program_of(app).tell(" ".join(said), TAKE_UP)
        then()

    def looked(done: bool | None) -> None:
        if not done:
            return
        path, taken = came[-1]
        if taken.how is None or taken.how.kind != "further":
            keep(path, "")
            return
        rows = [Entry(key, label) for key, label in LONGER.items()]
        longer = Pick(TAKE_UP, ("This copy goes on after the one here.",), rows)
        app.push_screen(
            longer, lambda key: keep(path, "continue" if key == "continue" else "beside") if key else None
        )

    app.push_screen(box, looked)
