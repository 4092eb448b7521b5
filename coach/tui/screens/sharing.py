"""A copy of a session to be given away: what is personal in it, what of that goes along, and where it is written."""

from pathlib import Path
from typing import Any

from textual.app import App

from coach.errors import CoachError
from coach.files import as_toml, write_new
from coach.session.document import read, to_table
from coach.sharing.personal import Kind, personal, without
from coach.sharing.words import personal_lines
from coach.tui.program import program_of
from coach.tui.screens.asking import Ask, Field, Typed
from coach.tui.screens.choices import Entry
from coach.tui.screens.dialogs import Pick
from coach.tui.screens.home_paper import asked_path

LEAD = "This is personal in it. What stays is told and cannot be left out: something is computed from it."
CHOICES: dict[str, tuple[str, tuple[Kind, ...]]] = {
    "neither": ("Without names and notes", ("name", "note")),
    "names": ("Without names", ("name",)),
    "notes": ("Without notes", ("note",)),
    "all": ("All of it goes along", ()),
}
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
        out = CHOICES[key][1]

        def write(typed: Typed) -> None:
            target = asked_path(typed)
            write_new(target, as_toml(target, to_table(without(document, *out))))

        stem = f"visit-{document.created:%Y-%m-%d}" if "name" in out else path.stem  # the file's name tells names too
        at = Path.cwd() / f"{stem}-copy.toml"
        box = Ask(
            CHOICES[key][0], WHERE, (Field("file", "File", str(at)),), lambda typed: f"{asked_path(typed)}", write
        )
        app.push_screen(box, lambda done: _say(app, box) if done else None)

    entries = [Entry(key, label) for key, (label, _) in CHOICES.items()]
    lines = "\n".join(personal_lines(personal(document)))
    app.push_screen(Pick("Share this session", (LEAD, lines), entries), where)


def _say(app: App[Any], box: Ask) -> None:
    program_of(app).tell(f"The copy is in {asked_path(box.typed)}.", "Written")
