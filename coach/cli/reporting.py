"""`report`: a session as one page for somebody who was not there; enters nothing, writes over no file unasked."""

import os
from argparse import Namespace
from pathlib import Path

from coach.cli.out import say
from coach.cli.where import store_of
from coach.errors import InputError, Unwritable
from coach.files import write_text
from coach.session.session import Session

ENDINGS = {"html": ".html", "markdown": ".md", "text": ".txt"}


def report(arguments: Namespace) -> int:
    """Write the report and print where it is; the short text without --to is printed itself."""
    found = store_of(arguments).find_session(arguments.session)
    session = Session.load(found)
    if arguments.format == "text" and arguments.to is None:
        from coach.report.text import message

        say(message(session).rstrip("\n"))
        return 0
    target = _target(arguments, found)
    files = _files(session, arguments.format, target)
    for path in files:
        if os.path.lexists(path) and not arguments.replace:
            raise Unwritable(
                path,
                "there is a file of that name already, left as it is; name another with --to, or say --replace",
            )
    for path, text in files.items():
        write_text(path, text)
    say("\n".join(str(path) for path in files))
    return 0


def _target(arguments: Namespace, found: Path) -> Path:
    """The file to be written.  Raises InputError where its folder is not there."""
    name = f"{found.stem}-report{ENDINGS[arguments.format]}"
    asked = Path(arguments.to) if arguments.to is not None else Path(name)
    target = asked / name if asked.is_dir() else asked
    if not target.parent.is_dir():
        raise InputError(f"There is no folder {str(target.parent)!r}", expected="a folder that is there")
    return target


def _files(session: Session, form: str, target: Path) -> dict[Path, str]:
    """Every file of the report with its text, the report itself first."""
    from coach.report.html import html
    from coach.report.markdown import markdown, pictures
    from coach.report.of_session import report_of
    from coach.report.text import message

    match form:
        case "text":
            return {target: message(session)}
        case "html":
            return {target: html(report_of(session))}
        case "markdown":
            told = report_of(session)
            beside = {target.with_name(name): text for name, text in pictures(told, target.stem).items()}
            return {target: markdown(told, target.stem), **beside}
        case _:
            raise ValueError(f"{form!r} is no format of a report")
