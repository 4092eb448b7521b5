"""`note`: what somebody wants remembered; nothing that reckons is loaded for it."""

from argparse import Namespace

from coach.cli.entered import entered
from coach.cli.folder import store_of
from coach.errors import InputError
from coach.session.plain_entries import PlainEntries


def note(arguments: Namespace) -> int:
    """Write a note into the session."""
    text = " ".join(arguments.text)
    if not text.strip():
        raise InputError(
            "The note is empty", expected="text behind the session; in quotes where it begins with a dash",
            example='coach note last -- "-- see the photo"',
        )  # fmt: skip
    session = PlainEntries.resume(store_of(arguments).find_session(arguments.session))
    session.note(text)
    entered(session, f"Noted: {' '.join(text.split())}")
    return 0
