"""The words `share` and `import`: a session's file for somebody else, and somebody else's beside those here."""

from datetime import datetime
from pathlib import Path

from coach.errors import InputError
from coach.files import as_toml, write_new
from coach.plain.talk import Talk, numbered
from coach.session.document import read, to_table
from coach.session.store import Store
from coach.sharing.personal import personal, without
from coach.sharing.taking import Choice, checked, take
from coach.sharing.words import GOES_ALONG, LONGER, about, machine_words, personal_lines, taken_words

FILE = "Which file is taken up? Its path; it stays as it is."


def shared(talk: Talk, path: Path | None, rest: str) -> None:
    """List what is personal, ask what of it goes along, write the copy, and say where it is.

    `rest` is its file; without one it goes to the folder that the program was begun in.  Raises InputError, Taken,
    Unwritable.
    """
    if path is None:
        raise InputError("This session has no file yet", expected="an entry first")
    document = read(path)
    talk.say("This is personal in it; names and notes can be left out:", *personal_lines(personal(document)))
    rows = numbered([(key, label) for key, (label, _) in GOES_ALONG.items()])
    _, out = GOES_ALONG[talk.choose("What goes along?", rows, 1)]
    stem = f"visit-{document.created:%Y-%m-%d}" if "name" in out else path.stem  # the file's name tells names too
    target = Path(rest).expanduser() if rest else Path.cwd() / f"{stem}-copy.toml"
    write_new(target, as_toml(target, to_table(without(document, *out))))
    talk.say(f"The copy is in {target}.")


def taken_up(talk: Talk, folder: Path, rest: str) -> None:
    """Tell what is in a file from elsewhere, and keep it unless it is here.  Raises Unreadable, InputError."""
    path = Path(rest or talk.ask(FILE)).expanduser()
    document = checked(path)
    talk.say(*about(document, datetime.now().astimezone()), machine_words(document, Store(folder)))
    choice: Choice = ""
    seen = take(folder, path, "look")
    if seen.how is not None and seen.how.kind == "further":
        chosen = talk.choose(
            "This copy goes on after the one here.", numbered([*LONGER.items(), ("", "Leave it")]), 1
        )
        if not chosen:
            return
        choice = "continue" if chosen == "continue" else "beside"
    talk.say(*taken_words(take(folder, path, choice)))
