"""What `new-machine` takes of the head and of the mounts."""

import argparse
from typing import Any


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
        "--lens-moves", metavar="LENGTH", help="how far the lens's tube can be moved, each way; 0: it cannot"
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
