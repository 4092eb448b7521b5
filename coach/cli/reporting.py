"""`report`: a session as one page for somebody who was not there; enters nothing, writes over no file unasked."""

from argparse import Namespace
from pathlib import Path

from coach.cli.folder import store_of
from coach.cli.out import say
from coach.errors import Taken, Unwritable
from coach.session.session import Session

TAKEN = "there is a file of that name already, left as it is; name another with --to, or say --replace"


def report(arguments: Namespace) -> int:
    """Write the report and print where it is; the short text without --to is printed itself."""
    from coach.report.writing import checked_form, files_of, target_of, write_files

    store = store_of(arguments)
    found = store.find_session(arguments.session)
    session = Session.load(found)
    if arguments.format == "text" and arguments.to is None:
        from coach.report.text import message

        say(message(session).rstrip("\n"))
        return 0
    form = checked_form(arguments.format)
    files = files_of(session, form, target_of(arguments.to or "", found.stem, form, Path()), store.folder)
    try:
        write_files(files, replace=arguments.replace)
    except Taken as there:
        raise Unwritable(there.path, TAKEN) from None
    say("\n".join(str(path) for path in files))
    return 0
