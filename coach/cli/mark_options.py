"""What `mark`, `miss` and `nothing` take: every way to measure that the shell offers, and the pulse."""

import argparse

from coach.cli.shared_options import LENGTHS, Add, add_dose, add_place, add_unit
from coach.reading.method import OPENING
from coach.reading.methods import METHODS, OPTIONS

SHAPES = ("round", "crescent", "cut", "double")


def add_marks(on_session: Add) -> None:
    """Add the three actions."""
    mark = on_session("mark", "marking:mark", "enter a measured mark, in one of several ways", LENGTHS)
    add_place(mark)
    add_unit(mark)
    mark.add_argument(
        "--face", choices=["outer", "sticky"], default="outer", help="which face of the tape was looked at (outer)"
    )
    mark.add_argument("--sd", help="the reading's doubt (one standard deviation)")
    mark.add_argument("--keep", action="store_true", help="keep a reading that is questioned, with a wider doubt")
    mark.add_argument("--looked-twice", action="store_true", help="keep it in full: looked twice, it is so")
    offset = mark.add_argument_group("the mark's centre from the opening's centre")
    offset.add_argument("--u", help="to the right")
    offset.add_argument("--v", help="up")
    offset.add_argument("--width", help="the mark's diameter, where it was measured by itself")
    offset.add_argument("--shape", choices=SHAPES, default="round", help="whether it is whole (round)")
    _add_methods(mark)
    add_dose(mark)
    miss = on_session("miss", "marking:miss", "enter a pulse whose mark is certainly off the tape")
    nothing = on_session("nothing", "marking:nothing", "enter a pulse that left nothing, nobody knows why")
    for left_none in (miss, nothing):
        add_place(left_none)
        add_unit(left_none)
        add_dose(left_none)


def _add_methods(parser: argparse.ArgumentParser) -> None:
    """The options of every way to measure that the shell offers, as the table of methods has it."""
    added: set[str] = set()
    for method in (method for method in METHODS if method.shell is not None):
        group = parser.add_argument_group(method.shell.heading if method.shell else "")
        for field in method.fields:
            group.add_argument(*field.flags, dest=field.argument, help=field.shell_help)
        if method.own_option is not None and method.own_option not in added:
            option = OPTIONS[method.own_option]
            group.add_argument(f"--{option.key}", choices=[v.in_shell for v in option.values], help=option.shell_help)
        if method.needs_opening and OPENING not in added:
            group.add_argument(f"--{OPENING}", help="its diameter, where the machine's profile has none (mirror 2)")
        added |= set(method.shell_extras)
