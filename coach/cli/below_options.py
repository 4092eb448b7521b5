"""What the subcommands about head, lens, nozzle and pointer take."""

import argparse

from coach.cli.shared_options import Add


def add_below(add: Add) -> None:
    """`bed-mark`, `nozzle-mark`, `pointer`, `advise-head` and `advise-pointer`."""
    bed = add("bed-mark", "below:bed_mark", "enter a mark on a card on the bed, below the head")
    _add_place(bed, "anywhere on the card, the same place for all marks of a round")
    _add_lowered(bed)
    bed.add_argument("--lens", action="store_true", help="lens and nozzle were in (they were out)")
    nozzle = add("nozzle-mark", "below:nozzle_mark", "enter a mark on tape under the nozzle")
    _add_place(nozzle, "the middle of the rim's imprint")
    nozzle.add_argument("--cut", action="store_true", help="the rim cut it")
    nozzle.add_argument("--nothing", action="store_true", help="nothing came through the nozzle")
    for mark in (bed, nozzle):
        mark.add_argument("--sd", help="the reading's doubt (one standard deviation)")
        mark.add_argument("--keep", action="store_true", help="keep a reading that is questioned")
    spot = add("pointer", "below:pointer", "enter where the pointer's spot lies")
    _add_place(spot, "the mark")
    _add_lowered(spot)
    for name, action, text in (
        ("advise-head", "advising_head:advise_head", "what to do next about mirror 3, lens and nozzle"),
        ("advise-pointer", "advising_head:advise_pointer", "what to do next about the pointer"),
    ):
        add(name, action, text).add_argument(
            "--json", action="store_true", help="as JSON, and nothing else, on standard output"
        )


def _add_place(parser: argparse.ArgumentParser, whence: str) -> None:
    parser.add_argument("--right", help=f"to the right of {whence}, seen from above; negative to the left")
    parser.add_argument("--back", help="to the back of it; negative to the front")
    parser.add_argument("--unit", choices=["mm", "in"], default="mm", help="of lengths typed without one (mm)")


def _add_lowered(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--lowered", help="how far the bed stood below its usual height (0)")
