"""`report`: a session as one page for somebody who was not there; enters nothing, writes over no file unasked."""

from argparse import Namespace
from datetime import datetime
from pathlib import Path

from coach.cli.folder import store_of
from coach.cli.out import complain, say
from coach.errors import Taken, Unwritable
from coach.session.session import Session
from coach.session.store import LAST, LAST_PRACTICE, Store
from coach.session.summary import working

TAKEN = "there is a file of that name already, left as it is; name another with --to, or say --replace"


def report(arguments: Namespace) -> int:
    """Write the report; print of which session it is, then where; the short text without --to is printed itself."""
    from coach.report.writing import checked_form, files_of, target_of, write_files

    store = store_of(arguments)
    found = store.find_session(arguments.session)
    session = Session.load(found)
    if arguments.format == "text" and arguments.to is None:
        from coach.report.text import message

        if newer := _practised_since(arguments, store, found):
            complain(newer)
        say(message(session).rstrip("\n"))
        return 0
    form = checked_form(arguments.format)
    files = files_of(session, form, target_of(arguments.to or "", found.stem, form, Path()), store.folder)
    try:
        write_files(files, replace=arguments.replace)
    except Taken as there:
        raise Unwritable(there.path, TAKEN) from None
    newer = _practised_since(arguments, store, found)
    say("\n".join(filter(None, (_named(session, found), newer, *map(str, files)))))
    return 0


def _named(session: Session, path: Path) -> str:
    """Which session it is: "last" may be another than was meant."""
    from coach.steps.entries import when_words

    entries = working(session.events)
    then = when_words(entries[-1].at if entries else session.created, datetime.now().astimezone())
    return f"Session: {session.title}, {session.machine.name}, last entry {then} ({path})."


def _practised_since(arguments: Namespace, store: Store, taken: Path) -> str:
    """That practice is newer than what was taken for the last; "" where it is not, or another was asked for."""
    if arguments.session != LAST:
        return ""
    newest = next((each for each in store.summaries() if each.content), None)
    if newest is None or newest.path == taken:
        return ""
    return f'Practice is newer ({newest.path.stem}); "{LAST_PRACTICE}" takes it.'
