"""What is done on paper with a machine: a worksheet is written to be printed, or one is typed in."""

from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from textual.app import App

from coach.errors import CoachError
from coach.tui.program import program_of
from coach.tui.screens.asking import Ask, Field, Typed
from coach.tui.screens.choices import Entry
from coach.tui.screens.dialogs import Pick

if TYPE_CHECKING:
    from coach.worksheet.typed_in import TypedIn

PRINT = Entry("print", "Write a worksheet to print")
TYPE_IN = Entry("type", "Type a worksheet in")
LEAD = "For whoever has no screen beside the machine: blanks in true scale for the tapes, fields, cautions."
WHERE = "Where is the page written? It is a file for a browser, which prints it; nothing is written over."


def on_paper(app: App[None], machine: Path) -> None:
    """Ask which of both."""
    acts = {"print": ask_where, "type": type_in}
    box = Pick("Worksheet", (LEAD,), (PRINT, TYPE_IN))
    app.push_screen(box, lambda key: acts[key](app, machine) if key else None)


def ask_where(app: App[None], machine: Path) -> None:
    """Ask for the file, write the page, and say where it is."""
    from coach.machine import Machine

    try:
        described = Machine.load(machine)
    except CoachError as error:
        program_of(app).tell(str(error))
        return
    at = Path.cwd() / f"{machine.stem}-worksheet.html"

    def write(typed: Typed) -> None:
        from coach.files import write_new
        from coach.worksheet.html import html
        from coach.worksheet.sheet import sheet_of

        today = datetime.now().astimezone().date()
        write_new(asked_path(typed), html(sheet_of(described, today, program_of(app).wording)))

    box = Ask(
        "Worksheet",
        WHERE,
        (Field("file", "File", str(at), proposed=True),),
        lambda typed: f"{asked_path(typed)}",
        write,
    )

    def written(done: bool | None) -> None:
        if done:
            program_of(app).tell(f"The worksheet is in {asked_path(box.typed)}.", "Written")

    app.push_screen(box, written)


def asked_path(typed: Typed) -> Path:
    """The file that is meant."""
    return Path(typed["file"].strip() or ".").expanduser()


def type_in(app: App[None], machine: Path) -> None:
    """Into which session, and of which day, where that is not known yet."""
    from coach.machine import Machine
    from coach.worksheet.into import OWN, begun_alone, sessions_for

    folder = program_of(app).folder
    try:
        described = Machine.load(machine)
        offered = sessions_for(folder, described.name)
    except CoachError as error:
        program_of(app).tell(str(error))
        return

    def alone() -> None:
        _ask_day(app, lambda day: begun_alone(described, folder, day))

    if not offered:
        alone()
        return
    rows = {f"into{number}": into for number, into in enumerate(offered)}
    entries = [*(Entry(key, into.label) for key, into in rows.items()), Entry("own", OWN)]

    def chosen(key: str | None) -> None:
        if key == "own":
            alone()
        elif key:
            _into(app, rows[key].path)

    app.push_screen(Pick("Type a worksheet in", (), entries), chosen)


def _into(app: App[None], path: Path) -> None:
    from coach.worksheet.into import begun_in, half_typed

    try:
        sheet = half_typed(path)
    except CoachError as error:
        program_of(app).tell(str(error))
        return
    if sheet is not None:
        program_of(app).type_in(sheet)
    else:
        _ask_day(app, lambda day: begun_in(path, day))


def _ask_day(app: App[None], begin: "Callable[[str], TypedIn]") -> None:
    """Ask when the marks were made, then type in."""
    from coach.tui.screens.sheet_asking import ask_day

    begun: list[TypedIn] = []
    box = ask_day(lambda day: begun.append(begin(day)), "today")
    app.push_screen(box, lambda done: program_of(app).type_in(begun[0]) if done else None)
