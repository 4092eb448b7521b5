"""A session is written as a report: as what, into which file, and where it is now."""

import textwrap
from pathlib import Path
from typing import TYPE_CHECKING, Any

from textual.app import App

from coach.errors import CoachError
from coach.tui.program import program_of
from coach.tui.screens.asking import Ask, Field, Typed
from coach.tui.screens.choices import Entry
from coach.tui.screens.dialogs import Pick

if TYPE_CHECKING:
    from coach.report.writing import Form
    from coach.session.session import Session

LEAD = "For whoever was not there. Nothing is entered by it, and it can be written at any moment."
WHERE = "Into which file? Nothing is written over; a name that is taken already is refused."
SENT = (
    "The text was handed to the terminal to be copied (OSC 52). Whether it arrived nobody can tell from here: not "
    "every terminal takes it. Try to paste it; to be sure, keep it as a file too."
)
BEGINNING = 240
"""Characters of the text that are shown: what can be chosen has to stay in view beneath them."""
COPIED = (Entry("done", "Done"), Entry("file", "Keep it as a file too"))


def write_report(app: App[Any], session: "Session", path: Path | None) -> None:
    """Ask as what; `path` is the session's file, after which the report is named."""
    from coach.report.writing import FORMS, checked_form

    def picked(key: str | None) -> None:
        if key == "text":
            _copy(app, session, path)
        elif key:
            _ask_where(app, session, path, checked_form(key))

    entries = [Entry(form, kind.label) for form, kind in FORMS.items()]
    app.push_screen(Pick("Report", (LEAD,), entries), picked)


def report_of_file(app: App[Any], path: Path) -> None:
    """The same of a stored session."""
    from coach.session.session import Session

    try:
        session = Session.load(path)
    except CoachError as error:
        program_of(app).tell(str(error))
        return
    write_report(app, session, path)


def _copy(app: App[Any], session: "Session", path: Path | None) -> None:
    """The short text: handed to the terminal, and a file where that is wanted."""
    from coach.report.text import message

    text = message(session)
    app.copy_to_clipboard(text)
    begins = f"It has {len(text):,} characters and begins: {textwrap.shorten(text, BEGINNING, placeholder=' …')}"
    box = Pick("Message to the service", (SENT, begins), COPIED)
    app.push_screen(box, lambda key: _ask_where(app, session, path, "text") if key == "file" else None)


def _ask_where(app: App[Any], session: "Session", path: Path | None, form: "Form") -> None:
    from coach.report.writing import FORMS, files_of, free_target, target_of, write_files

    stem = path.stem if path is not None else "session"
    proposed = free_target(target_of("", stem, form, Path.cwd()), form)
    written: list[Path] = []

    def at(typed: Typed) -> Path:
        return target_of(typed["file"].strip(), stem, form, Path.cwd())

    def write(typed: Typed) -> None:
        files = files_of(session, form, at(typed), program_of(app).folder)
        write_files(files)
        written[:] = files

    def done(kept: bool | None) -> None:
        if kept:
            others = len(written) - 1
            more = f" {others} more file{' belongs' if others == 1 else 's belong'} to it." if others else ""
            program_of(app).wrote(written[0], f"The report is in {written[0]}.{more}")

    ask = Ask(
        FORMS[form].label,
        WHERE,
        (Field("file", "File", str(proposed), proposed=True),),
        lambda typed: f"Into {at(typed)}",
        write,
    )
    app.push_screen(ask, done)
