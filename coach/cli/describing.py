"""`described`: what a machine's profile says of mirror 3, lens and nozzle, told to a session that is under way."""

from argparse import Namespace

from coach.cli.entered import entered
from coach.cli.folder import store_of
from coach.cli.where import session_of
from coach.errors import InputError
from coach.session.described import of_head
from coach.shown import IN_MM
from coach.steps.entries import entry_words


def described(arguments: Namespace) -> int:
    """Enter the head as the stored machine has it now.  Raises InputError where that is what the session knows."""
    session = session_of(arguments)
    machine = store_of(arguments).find_machine(arguments.machine or session.machine.name)
    if of_head(machine) == of_head(session.machine):
        raise InputError(
            f"The profile of {machine.name} says of mirror 3, lens and nozzle what this session knows",
            expected="a machine that was changed since; coach opens the form",
        )
    session.described(machine)
    entered(session, f"{entry_words(session.effective[-1], IN_MM)}. Ask for advice again.")
    return 0
