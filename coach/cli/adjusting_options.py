"""What the subcommands take that enter turns and shifts, and what stands in their way."""

from coach.cli.shared_options import LENGTHS, Add, add_unit, mirror

TURNS = (
    "Turns: parts of one turn (B=-1/8, C=0,0625), degrees (B=45deg) or ticks of a clock's face ('B=7 ticks ccw'); "
    "clockwise is positive, facing the screw head."
)


def add_adjusting(on_session: Add) -> None:
    """`turn`, `shift`, `refuse`, `mended`, `best`, `disturbed` and `lock`."""
    turn = on_session("turn", "changes:turn", "enter turns of one mirror's screws", TURNS)
    turn.add_argument("mirror", metavar="MIRROR", type=mirror, help="1, 2 or 3")
    turn.add_argument("screws", metavar="SCREW=TURNS", nargs="+", help="which screw, and how far")
    shift = on_session("shift", "changes:shift", "enter that a part was moved sideways", LENGTHS)
    shift.add_argument("part", metavar="PART", help='"mirror 2", head, "mirror 1", tube or lens')
    for way, text in (("up", "down"), ("right", "to the left"), ("back", "to the front")):
        shift.add_argument(f"--{way}", help=f"negative {text}")
    shift.add_argument("--keep", action="store_true", help="keep a move farther than the part was said to go")
    add_unit(shift)
    _add_hindrances(on_session)
    lock = on_session("lock", "changes:lock", "enter that a mirror's lock nuts were tightened")
    lock.add_argument("mirror", metavar="MIRROR", type=mirror, help="1, 2 or 3")


def _add_hindrances(on_session: Add) -> None:
    refuse = on_session("refuse", "hindrances:refuse", "enter that a part cannot be moved")
    refuse.add_argument("part", metavar="PART", help='"mirror 2", head, "mirror 1", tube or lens')
    refuse.add_argument("--axis", choices=["up", "right", "back"], help="only that way (any)")
    refuse.add_argument("--take-back", action="store_true", help="it can be moved after all")
    for name, text in (
        ("mended", "what it named was seen to, go on"),
        ("best", "leave it so, and align to the best that can be had"),
    ):
        after = on_session(name, f"hindrances:{name}", f"after a stop: {text}")
        after.add_argument("--head", action="store_true", help="a stop about mirror 3, lens and nozzle")
    disturbed = on_session("disturbed", "hindrances:disturbed", "enter that a part was out, or was bumped")
    disturbed.add_argument(
        "part", metavar="PART", help='"mirror 1", "mirror 2", "mirror 3", tube, lens, head or machine'
    )
