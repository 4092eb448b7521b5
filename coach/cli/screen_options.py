"""What `practice` and `open` take."""

import argparse

from coach.cli.shared_options import Add, add_last, add_plain
from coach.practice.kinds import KINDS
from coach.practice.visit_kinds import CAUSES

MOST_SEED = 999_999_999


def add_screens(add: Add) -> None:
    """Add both actions."""
    practice = add("practice", "screen:practice", "practise on the built-in demo machine")
    practice.add_argument("--seed", type=seed, help="which hidden trouble, from 0; left out, a new one each time")
    kind = practice.add_mutually_exclusive_group()
    kind.add_argument(
        "--kind", choices=list(KINDS), default="plain", metavar="KIND",
        help=f"what kind of trouble in the beam's path: {', '.join(KINDS)} (plain)",
    )  # fmt: skip
    kind.add_argument(
        "--visit", nargs="?", const="", choices=["", *CAUSES], metavar="WHAT",
        help=f"a whole visit, from the complaint to closing up; of what is wrong: {', '.join(CAUSES)} (any)",
    )  # fmt: skip
    add_plain(practice)
    opened = add("open", "screen:open_session", "open a stored session in the full-screen program")
    add_last(opened)
    add_plain(opened)


def seed(text: str) -> int:
    """A bench's seed.  Raises ArgumentTypeError."""
    if not (text.isascii() and text.isdigit()) or int(text[:20]) > MOST_SEED:
        raise argparse.ArgumentTypeError(f"{text[:40]!r} is not a whole number from 0 to {MOST_SEED}")
    return int(text)
