"""From arguments to an exit status.  No traceback reaches a person."""

import contextlib
import importlib
import os
import sys
import textwrap
from argparse import Namespace
from collections.abc import Sequence

from coach.cli.out import complain
from coach.cli.parser import join_negative
from coach.errors import Changed, CoachError, InputError

DONE, MISTAKE, WRONG, UNSAID, INTERRUPTED = 0, 1, 2, 3, 130
TRIES = 50
"""So often an entry is made anew because another program wrote first; each time, one other got its own through."""

IN_LINES = ("screen:start", "screen:practice", "screen:open_session")
"""What can be led in lines in place of screens."""
CAUSE = 200
"""Characters of a mistake's own words."""


def main(argv: Sequence[str] | None = None) -> int:
    """Run one subcommand and return its exit status."""
    given = list(sys.argv[1:] if argv is None else argv)
    try:
        return _flushed(_act(given))
    except SystemExit as leaving:  # --help and --version
        return _flushed(leaving.code if isinstance(leaving.code, int) else DONE)
    except KeyboardInterrupt:
        return INTERRUPTED
    except BrokenPipeError:
        _close_quietly()
        return DONE
    except CoachError as error:
        complain(str(error))
        return WRONG
    except OSError as error:
        if error.filename is None:  # every entry stands before it is said
            return _unsaid(error)
        complain(f"{error.filename}: {error.strerror or error}.")
        _close_quietly()
        return WRONG
    except Exception as error:
        return _mistake(error, given)


def _act(given: list[str]) -> int:
    for word in given:
        if any("\ud800" <= letter <= "\udfff" for letter in word):
            raise InputError(f"{word!a} is not readable text", expected="UTF-8")
    from coach.cli.options import build_parser

    arguments = build_parser(given).parse_args(join_negative(given))
    if (arguments.plain or arguments.answers is not None) and arguments.action not in IN_LINES:
        raise InputError(
            "--plain and --answers are for the job itself, and this action asks nothing",
            expected="them without an action, or with practice or open",
            example="coach --plain practice",
        )
    return _run(arguments)


def _run(arguments: Namespace) -> int:
    """Carry out the action; where another program wrote first, anew on what stands there then."""
    module, _, function = arguments.action.partition(":")
    action = getattr(importlib.import_module(f"coach.cli.{module}"), function)
    for _ in range(0 if module == "screen" else TRIES - 1):
        with contextlib.suppress(Changed):
            return int(action(arguments) or DONE)
    return int(action(arguments) or DONE)


def _flushed(status: int) -> int:
    """The status, once all output is really out."""
    try:
        if sys.stdout is not None:
            sys.stdout.flush()
    except BrokenPipeError:
        _close_quietly()
    except OSError as error:
        unsaid = _unsaid(error)
        return unsaid if status == DONE else status
    return status


def _unsaid(error: OSError) -> int:
    complain(f"What was asked is done, but the answer could not be written: {error.strerror or error}.")
    _close_quietly()
    return UNSAID


def _close_quietly() -> None:
    """Nobody reads any more: keep Python from saying so when it exits."""
    with contextlib.suppress(OSError, ValueError, AttributeError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _mistake(error: Exception, given: list[str]) -> int:
    from coach.cli.crash import OwnMistake, write_report

    if isinstance(error, OwnMistake):
        error = error.mistake
    cause = textwrap.shorten(str(error), CAUSE, placeholder=" …")
    complain(
        f"The coach made a mistake of its own ({type(error).__name__}{cause and f': {cause}'}); "
        "what was saved before stands. "
        f"{write_report(error, given)}"
    )
    return MISTAKE
