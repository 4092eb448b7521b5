"""What `worksheet` takes, and when something was made that is typed in afterwards."""

import argparse
from collections.abc import Callable
from typing import Any, Protocol


class Added(Protocol):
    """A parser, or a group of its options."""

    def add_argument(self, *names: str, **rest: Any) -> Any:
        """Add one option."""


def add_made(taken: Added) -> None:
    """Add the option."""
    taken.add_argument(
        "--made", metavar="DAY", help="where it is typed in afterwards: the day, 2026-03-01 or yesterday (now)"
    )


def add_sheets(add: Callable[..., argparse.ArgumentParser]) -> None:
    """Add the action."""
    sheet = add(
        "worksheet",
        "sheets:worksheet",
        "write a page to print and take to the machine: blanks in true scale for the tapes; prints where it is",
        "Without --to the page goes to the folder you are in.",
    )
    sheet.add_argument("machine", metavar="MACHINE", help="the name of a stored machine, or a path")
    sheet.add_argument("--to", metavar="FILE", help="the file to write")
    sheet.add_argument("--replace", action="store_true", help="write over a file that is there")
    sheet.add_argument("--unit", choices=["mm", "in"], default="mm", help="in which lengths are written down (mm)")
