"""`due` and `care`: what upkeep is due, what to do, and that it was done.

With --json as `coach.cli.upkeep_json` tells.
"""

from argparse import Namespace
from datetime import date

from coach.cli.folder import store_of
from coach.cli.out import say, say_json
from coach.cli.upkeep_json import log_json
from coach.errors import FileError, InputError, Unreadable
from coach.session.kept import now
from coach.session.store import Store
from coach.shown import IN_MM
from coach.steps.moved_words import comparison_lines
from coach.steps.stored import Stored, stored
from coach.upkeep.items import Item, item_called
from coach.upkeep.log import MachineLog
from coach.upkeep.standing import unnoted
from coach.upkeep.typed import typed_day, typed_hours, typed_interval
from coach.upkeep.visited import VISITED
from coach.upkeep.words import (
    due_words,
    entry_words,
    interval_words,
    last_words,
    next_words,
    standing_words,
    unnoted_words,
)

MEANT = {"done": "done", "every_days": "every", "every_hours": "every", "leave_out": "every", "undo": "undo"}
"""Options that say what is entered; without any, `hours` alone is entered, or looked."""
TAKES = {
    "look": {"json"},
    "undo": {"undo"},
    "done": {"done", "on", "hours", "note"},
    "hours": {"hours", "on"},
    "every": {"every_days", "every_hours", "leave_out"},
}
"""What each of them takes."""
OPTIONS = set().union(*TAKES.values())
SHOWN = "--done takes --on, --hours, --note; --hours alone takes --on; the list takes --json"


def due(arguments: Namespace) -> int:
    """What is due on every machine, or on one; of all, a log that cannot be read is listed too and no failure."""
    store, today = store_of(arguments), now().date()
    if arguments.machine is not None:
        names = [store.find_machine(arguments.machine).name]
        logs: list[MachineLog | FileError] = [MachineLog.open(names[0], store.folder)]
    else:
        names = [found.content.name for found in store.machines() if found.content]
        found = stored(store.folder, (VISITED,))
        logs = [_opened(name, store, found) for name in names]
    if arguments.json:
        machines = [log_json(name, store, log, today) for name, log in zip(names, logs, strict=True)]
        say_json({"today": today.isoformat(), "machines": machines})
        return 0
    if not names:
        say("No machine is described yet; coach new-machine describes one.")
    for name, log in zip(names, logs, strict=True):
        say("\n".join([*_due_lines(name, log, today), *_by_its_drift(name, store, today)]))
    return 0


def _by_its_drift(name: str, store: Store, today: date) -> list[str]:
    """When to look again by what drifted between visits: a proposal beside the usual interval."""
    from coach.history.stored import next_check
    from coach.history.words import check_words

    ahead = next_check(name, store, now())
    return [f"  {check_words(ahead, today)}"] if ahead is not None else []


def _opened(name: str, store: Store, found: Stored) -> MachineLog | FileError:
    try:
        return MachineLog.among(name, store.folder, found)
    except Unreadable as error:
        return error


def _due_lines(name: str, log: MachineLog | FileError, today: date) -> list[str]:
    if isinstance(log, FileError):
        return [f"{name}: BROKEN {log}"]
    due, standing = log.due(today), log.standing(today)
    calm = unnoted_words(unnoted(standing))
    waits = [f"  {calm}."] if calm else []
    if not due:
        comes = next_words(standing)
        return [f"{name}: nothing is due{f'; {comes}' if comes else ''}.", *waits]
    lines = (
        f"  {each.item.title}: {', '.join(filter(None, (standing_words(each), last_words(each))))}" for each in due
    )
    return [f"{name}, due now: {due_words(due)}.", *lines, *waits]


# -- care -----------------------------------------------------------------------------------------


def care(arguments: Namespace) -> int:
    """List a machine's upkeep, tell an item, enter that it was done, change its interval, or take back."""
    store = store_of(arguments)
    name = store.find_machine(arguments.machine).name
    item = None if arguments.item is None else item_called(arguments.item)
    wanted = _wanted(arguments, item)
    log = MachineLog.open(name, store.folder)
    if wanted == "look":
        _look(arguments, store, log, item)
        return 0
    if wanted == "undo":
        say(f"Taken back: {entry_words(log.undo())}.")
        return 0
    _enter(arguments, log, item)
    again = next((each for each in log.standing() if item is not None and each.item.name == item.name), None)
    comes = f"; due again {standing_words(again)}" if again and again.state == "later" else ""
    assert log.last is not None
    say(f"{entry_words(log.last)}{comes}.")
    return 0


def _wanted(arguments: Namespace, item: Item | None) -> str:
    """What the options ask for: "look", "undo", "done", "hours" or "every".  Raises InputError for a mixture."""
    given = {option for option, value in vars(arguments).items() if value not in (None, False)}
    asked = {MEANT[option] for option in given if option in MEANT} or ({"hours"} & given) or {"look"}
    if len(asked) > 1:
        raise InputError("More than one entry is asked for", expected="one at a time")
    if arguments.leave_out and {"every_days", "every_hours"} & given:
        raise InputError("Left out, and yet due every so often", expected="--leave-out alone")
    wanted = asked.pop()
    beside = (given & OPTIONS) - TAKES[wanted]
    if beside:
        raise InputError(
            f"--{sorted(beside)[0].replace('_', '-')} says nothing here", expected=f"what takes it: {SHOWN}"
        )
    if wanted in ("done", "every") and item is None:
        raise InputError("No item is named", expected="MACHINE ITEM", example='coach care "Shed laser" rails --done')
    if wanted in ("hours", "undo") and item is not None:
        raise InputError(
            f"The item {item.name!r} says nothing here", expected=f"--{wanted} without an item, or --done beside it"
        )
    return wanted


def _enter(arguments: Namespace, log: MachineLog, item: Item | None) -> None:
    """Enter what is asked for.  Raises InputError, Unwritable."""
    on = None if arguments.on is None else typed_day(arguments.on, now().date())
    hours, anew = (None, False) if arguments.hours is None else typed_hours(arguments.hours)
    if item is None:
        assert hours is not None
        log.count(hours, on=on, anew=anew)
    elif arguments.done and anew:
        raise InputError("A new counter is entered by itself", expected="--hours without an item, then --done")
    elif arguments.done:
        log.done(item.name, hours=hours, on=on, note=arguments.note or "")
    else:
        days, by_use = typed_interval(arguments.every_days or "", arguments.every_hours or "")
        log.every(item.name, days=days, hours=by_use)


def _look(arguments: Namespace, store: Store, log: MachineLog, item: Item | None) -> None:
    today = now().date()
    if arguments.json:
        say_json(log_json(log.machine, store, log, today))
        return
    standing = {each.item.name: each for each in log.standing(today)}
    if item is None:
        say(f"{log.machine}, upkeep ({_counter(log)}):")
        for each in standing.values():
            told = "; ".join(filter(None, (interval_words(each.item), last_words(each), standing_words(each))))
            say(f"  {each.item.name}: {each.item.title}; {told}")
        return
    each = standing[item.name]
    say(f"{each.item.title[:1].upper()}{each.item.title[1:]}: {standing_words(each)}.")
    say(f"Do: {each.item.do}")
    say(f"How often: {interval_words(each.item)} ({each.item.source}).")
    seen = log.check_up() if item.name == "check-up" else None
    for line in comparison_lines(seen, IN_MM) if seen else ():
        say(f"Last: {line}")
    for caution in each.item.cautions:
        say(f"Safety: {caution.text}")


def _counter(log: MachineLog) -> str:
    hours = log.hours()
    return "hours of use: not read yet" if hours is None else f"hours of use: {hours:g}"
