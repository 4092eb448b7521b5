"""`worksheet`: a page to print, to take to the machine and to type in later; enters nothing."""

from argparse import Namespace
from datetime import datetime
from pathlib import Path

from coach import files
from coach.cli.folder import machine_of, store_of
from coach.cli.out import say
from coach.errors import Taken, Unwritable
from coach.shown import Wording


def worksheet(arguments: Namespace) -> int:
    """Write the sheet and print where it is."""
    from coach.session.store import slug
    from coach.worksheet.html import html
    from coach.worksheet.sheet import sheet_of

    machine = machine_of(store_of(arguments), arguments.machine)
    target = Path(arguments.to) if arguments.to is not None else Path(f"{slug(machine.name)}-worksheet.html")
    page = html(sheet_of(machine, datetime.now().astimezone().date(), Wording(arguments.unit)))
    write_asked(target, page, replace=arguments.replace)
    say(str(target))
    return 0


def write_asked(target: Path, text: str, *, replace: bool) -> None:
    """Write a file that was asked for.  Raises InputError, and Unwritable with the way out where one is there."""
    try:
        files.write_new(target, text, replace=replace)
    except Taken:
        raise Unwritable(
            target, "there is a file of that name already, left as it is; name another with --to, or say --replace"
        ) from None
