"""What `new-machine` and `new-session` take."""

import argparse
from typing import Any

from coach.cli.shared_options import LENGTHS, MIRRORS, Add, add_made, add_unit
from coach.frame import ZEROS


def add_machines(add: Add) -> None:
    """Add both actions."""
    _add_machine(add)
    session = add("new-session", "changes:new_session", "begin a session; prints its file")
    session.add_argument("machine", metavar="MACHINE", help="the name of a stored machine, or a path")
    session.add_argument("--title", default="", help="what to call the session")
    add_made(session)
    session.add_argument(
        "--check-up", action="store_true", help="a mark at each station, nothing turned, and a cut check"
    )


def _add_machine(add: Add) -> None:
    new = add(
        "new-machine",
        "machines:new_machine",
        "describe a machine; what is not given is guessed and noted as guessed",
        LENGTHS,
    )
    new.add_argument("name", metavar="NAME", help="a few words to know the machine by")
    new.add_argument("--width", required=True, help="the head's travel from left to right")
    new.add_argument("--depth", required=True, help="the head's travel from front to back")
    new.add_argument("--side", required=True, choices=["left", "right"], help="where mirrors 1 and 2 stand")
    new.add_argument("--zero", choices=ZEROS, help="in which corner the controller reads X 0, Y 0 (front-left)")
    new.add_argument("--mirror1-gap", help="mirror 1 to mirror 2, gantry at the very back (150 mm)")
    new.add_argument("--mirror2-gap", help="mirror 2 to the head, head at mirror 2's end (120 mm)")
    new.add_argument("--mirror1", help="diameter of mirror 1 (25 mm)")
    new.add_argument("--mirror2", help="diameter of mirror 2 (25 mm)")
    new.add_argument(
        "--moves", metavar="PARTS", help='what can be moved, each way: "mirror 2 right 4; tube no" (not known)'
    )
    new.add_argument("--aperture", help="diameter of the opening at the head's entrance (18 mm)")
    new.add_argument("--tape-radius", help="how far out a mark can be read (2 mm beyond the opening's rim)")
    new.add_argument("--tape-wide", help="how far out a mark can be read on your wide card (30 mm)")
    new.add_argument("--tolerance", help="how far off the middle is still good (1 mm)")
    add_head(new)
    new.add_argument("--keep", action="store_true", help="keep a size that is questioned")
    add_unit(new)
    mounts = new.add_argument_group(
        "mounts", "For all mirrors; with 1, 2 or 3 behind the name, as in --points2, for that mirror alone."
    )
    for mirror in ("", *MIRRORS):
        add_mount(mounts, mirror)


def add_head(new: argparse.ArgumentParser) -> None:
    """Mirror 3, lens and nozzle."""
    head = new.add_argument_group("head", "Mirror 3, lens and nozzle; what is left out is not known.")
    head.add_argument("--mirror3", choices=["fixed"], help="it has no screws that one can reach")
    head.add_argument("--focal", help="the lens's focal length (50.8 mm)")
    head.add_argument("--nozzle-to-focus", help="from the nozzle's tip down to the focus (8 mm)")
    head.add_argument("--nozzle", help="diameter of the nozzle's hole (2.5 mm)")
    head.add_argument("--curved", choices=["up", "down"], help="which way the lens's curved side looks")
    head.add_argument("--mirror3-to-lens", help="from mirror 3's middle down to the lens")
    head.add_argument(
        "--lens-moves", metavar="LENGTH", help="how far the lens tube can be moved, each way; 0: it cannot"
    )


def add_mount(group: Any, mirror: str) -> None:
    """The mount of one mirror, or with "" of all of them."""
    texts = {
        "points": 'the plate\'s three points, seen facing the screw heads: "A pivot -20 -20; B screw 20 -20; ..."',
        "thread": "the screws' thread, such as M4 (M4)",
        "pitch": "the screws' advance per turn, in place of a thread",
        "drive": "where a clockwise turn moves the plate: away from you is push (unknown)",
    }
    for name, text in texts.items():
        choices = ["push", "pull", "unknown"] if name == "drive" else None
        metavar = None if choices and not mirror else name.upper()
        text = argparse.SUPPRESS if mirror else text
        group.add_argument(f"--{name}{mirror}", choices=choices, metavar=metavar, help=text)
