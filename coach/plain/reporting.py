"""The word `report`: a session is written as a page, a message or tables, and where that is is said."""

from pathlib import Path

from coach.report.text import message
from coach.report.writing import FORMS, checked_form, files_of, free_target, target_of, write_files
from coach.session.session import Session

OFFERED = "The word report writes it as a page for whoever was not there."


def reported(session: Session, path: Path | None, rest: str, folder: Path) -> list[str]:
    """Write what was asked for behind the word, and say where it is; the short text without a file is said itself.

    `path` is the session's file, after which the report is named; `rest` is a form, a file or a folder, or a form and
    then a file; `folder` is the data folder.  Without a file the report goes to the folder the program was begun in,
    under a name that is free.  Raises InputError, Taken, Unwritable.
    """
    first, _, after = rest.partition(" ")
    form = checked_form(first) if first in FORMS else "html"
    asked = (after if first in FORMS else rest).strip()
    if form == "text" and not asked:
        return message(session).splitlines()
    stem = path.stem if path is not None else "session"
    target = target_of(asked, stem, form, Path.cwd())
    files = files_of(session, form, target if asked else free_target(target, form), folder)
    write_files(files)
    return [f"The report is in {each}." for each in files]
