"""What the subcommands of upkeep take."""

import argparse

from coach.cli.shared_options import Add
from coach.upkeep.items import ITEM_NAMES

ITEMS_TOLD = f"Items: {', '.join(ITEM_NAMES)}. Days: 2026-03-01, today or yesterday."


def add_upkeep(add: Add) -> None:
    """`due`, `care` and `history`."""
    due = add("due", "upkeep:due", "what upkeep is due, on every machine or on one")
    due.add_argument("machine", metavar="MACHINE", nargs="?", help="the name of a stored machine; left out, all")
    care = add("care", "upkeep:care", "list a machine's upkeep, read an item, or enter that it was done", ITEMS_TOLD)
    care.add_argument("machine", metavar="MACHINE", help="the name of a stored machine")
    care.add_argument("item", metavar="ITEM", nargs="?", help="left out, all are listed; alone, what to do is told")
    care.add_argument("--done", action="store_true", help="it was done")
    care.add_argument("--on", metavar="DAY", help="on another day (today)")
    care.add_argument("--hours", help='what the counter of hours of use showed; "new 0": it is a new one')
    care.add_argument("--note", metavar="TEXT", help="with --done: anything worth remembering")
    often = care.add_argument_group(
        "how often, on this machine; whichever comes first, and what is not given not at all"
    )
    often.add_argument("--every-days", metavar="DAYS", help="due every so many days")
    often.add_argument("--every-hours", metavar="HOURS", help="due every so many hours of use")
    often.add_argument("--leave-out", action="store_true", help="this machine has none, or needs none")
    care.add_argument("--undo", action="store_true", help="take the last entry of this machine's log back")
    for action in (due, care, _history(add)):
        action.add_argument("--json", action="store_true", help="as JSON, and nothing else, on standard output")


def _history(add: Add) -> argparse.ArgumentParser:
    history = add("history", "history:history", "what a machine's visits say together: what drifts, and when to look")
    history.add_argument("machine", metavar="MACHINE", nargs="?", help="left out, the only one there is")
    history.add_argument(
        "--compare", metavar="VISIT", nargs=2, help="two visits beside each other, by number or by session name"
    )
    history.add_argument(
        "--forget", metavar="MIRROR", choices=["1", "2", "3"], help="drop what was learned of that mirror's mount"
    )
    return history
