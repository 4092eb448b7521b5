"""Options that several subcommands take, and how a room of options adds a subcommand."""

import argparse
from typing import Any, Protocol


class Add(Protocol):
    """Adds a subcommand: its name, its action, what it is for, and what stands below its options."""

    def __call__(self, name: str, action: str, text: str, epilog: str = "") -> argparse.ArgumentParser:
        """The subcommand's parser."""


class Added(Protocol):
    """A parser, or a group of its options."""

    def add_argument(self, *names: str, **rest: Any) -> Any:
        """Add one option."""


LENGTHS = "Lengths: 600, 23,6 in or 3/8 in; a comma or a point marks decimals."
MIRRORS = ("1", "2", "3")


def add_plain(parser: argparse.ArgumentParser, default: object = argparse.SUPPRESS) -> None:
    """`--plain` and `--answers`."""
    parser.add_argument(
        "--plain",
        action="store_true",
        default=default,
        help="as question-and-answer lines, without a full screen: for screen readers, ssh and scripts",
    )
    parser.add_argument(
        "--answers", metavar="FILE", default=argparse.SUPPRESS, help="with --plain: the answers, one a line"
    )


def add_last(parser: argparse.ArgumentParser) -> None:
    """A session that need not be named."""
    told = "a path or a name, as in coach list; left out, the one worked on last"
    parser.add_argument("session", metavar="SESSION", nargs="?", default="last", help=told)


def add_unit(parser: argparse.ArgumentParser) -> None:
    """`--unit`."""
    parser.add_argument("--unit", choices=["mm", "in"], default="mm", help="of lengths typed without one (mm)")


def add_json(parser: argparse.ArgumentParser) -> None:
    """`--json`."""
    parser.add_argument("--json", action="store_true", help="as JSON, and nothing else, on standard output")


def add_place(parser: argparse.ArgumentParser) -> None:
    """Where the head stood, and what carried the tape."""
    parser.add_argument("station", metavar="STATION", help="a station, or any name together with --x and --y")
    parser.add_argument("--x", help="the head's place, as the controller counts it")
    parser.add_argument("--y", help="the head's place, as the controller counts it")
    targets = ["head", "mirror 2", "mirror 1"]
    parser.add_argument("--target", choices=targets, help="whose opening carried the tape (head)")


def add_made(taken: Added) -> None:
    """`--made`: when something was made that is typed in afterwards."""
    taken.add_argument(
        "--made", metavar="DAY", help="where it is typed in afterwards: the day, 2026-03-01 or yesterday (now)"
    )


def add_file(parser: argparse.ArgumentParser) -> None:
    """`--to` and `--replace`, where one file is written."""
    parser.add_argument("--to", metavar="FILE", help="the file to write")
    parser.add_argument("--replace", action="store_true", help="write over a file that is there")


def add_dose(parser: argparse.ArgumentParser) -> None:
    """The pulse, as far as it is known, and when it was made."""
    dose = parser.add_argument_group("the pulse, as far as it is known")
    dose.add_argument("--ms", help="how long it was, in ms: 70, or with its unit: 0,07 s")
    dose.add_argument("--power", help="the power that was set, in per cent: 12")
    dose.add_argument("--layers", help="layers of tape, where they were not as many as always")
    add_made(dose)


def mirror(text: str) -> int:
    """A mirror's number.  Raises ArgumentTypeError."""
    plain = text.lower().removeprefix("mirror").strip()
    if plain not in MIRRORS:
        raise argparse.ArgumentTypeError(f"there is no mirror {text[:40]!r}; expected 1, 2 or 3")
    return int(plain)
