"""What `cut` and `cuts` take."""

from coach.cli.shared_options import Add, add_json


def add_cuts(on_session: Add) -> None:
    """Add both actions."""
    cut = on_session("cut", "cutting:cut", "enter which lines fell through at a station")
    cut.add_argument("station", metavar="STATION", help="one of the machine's stations")
    cut.add_argument("--fastest", help="the fastest line that fell through, mm/s; left out, none did")
    cut.add_argument("--next", help="the next line, which did not, mm/s; left out, all did")
    cut.add_argument("--material", help='with thickness and batch: "ply 6 mm, lot 3" (as before)')
    cut.add_argument("--power", help="the power that was set, in per cent (as before)")
    cut.add_argument("--anew", action="store_true", help="a further cut check begins")
    cut.add_argument("--warm", action="store_true", help="that station once more, at once, while the tube is warm")
    add_json(cut)
    cuts = on_session("cuts", "cutting:cuts", "how it cuts: how evenly, and whether as it did")
    cuts.add_argument("--keep", action="store_true", help="keep the first good check as the machine's baseline")
    cuts.add_argument(
        "--new-baseline",
        metavar="WHY",
        help="put this check in the baseline's place; the old one stays on record",
    )
    add_json(cuts)
