"""A machine's upkeep as JSON.

`coach due --json` prints one object: `today`; `machines`, each {name, log, hours, used, due, items, check_up,
problem, line}: `hours` the counter's last reading, `used` hours of use over all counters, `due` the names of what
is due, the latest first, `items` all of them; `problem` and `line` null where the log is good, else all but these,
`name` and `log` are. `coach care MACHINE --json` prints one of `machines`. An item is {name, title, state,
last, by, due_on, days_over, hours_over, every_days, every_hours, source, do, cautions}: `state` "due", "never
noted" (not due yet), "later" or "left out"; `by` "log" or "visit", else null. `check_up`, null where no two
visits can be compared, is {on, since, verdict, stations: [{station, right, up, sd, stands_out}], missing}: mm,
`verdict` "as it was", "moved", "one mark" or "too few". Days are ISO 8601; what nobody knows is null.
"""

from datetime import date
from typing import Any

from coach.cli.out import number
from coach.errors import FileError
from coach.session.store import Store
from coach.steps.moved import Comparison
from coach.upkeep.document import path_of
from coach.upkeep.log import MachineLog
from coach.upkeep.standing import Standing


def log_json(name: str, store: Store, log: MachineLog | FileError, today: date) -> dict[str, Any]:
    """One machine, whose log may be broken."""
    known, trouble = (None, log) if isinstance(log, FileError) else (log, None)
    return {
        "name": name,
        "log": str(path_of(store.folder, name)),
        "hours": known.hours(today) if known else None,
        "used": known.used(today) if known else None,
        "due": [each.item.name for each in known.due(today)] if known else None,
        "items": [_item_json(each) for each in known.standing(today)] if known else None,
        "check_up": _check_up(known.check_up()) if known else None,
        "problem": trouble.reason if trouble else None,
        "line": trouble.line if trouble else None,
    }


def _item_json(each: Standing) -> dict[str, Any]:
    item = each.item
    return {
        "name": item.name,
        "title": item.title,
        "state": each.state,
        "last": each.last.isoformat() if each.last else None,
        "by": each.by or None,
        "due_on": each.due_on.isoformat() if each.due_on else None,
        "days_over": each.days_over,
        "hours_over": None if each.hours_over is None else number(each.hours_over),
        "every_days": item.days,
        "every_hours": item.hours,
        "source": item.source,
        "do": item.do,
        "cautions": [caution.text for caution in item.cautions],
    }


def _check_up(seen: Comparison | None) -> dict[str, Any] | None:
    if seen is None:
        return None
    return {
        "on": seen.on.isoformat(),
        "since": seen.since.isoformat(),
        "verdict": seen.verdict,
        "stations": [
            {
                "station": each.station,
                "right": number(each.right),
                "up": number(each.up),
                "sd": number(each.sd),
                "stands_out": each.stands_out,
            }
            for each in seen.stations
        ],
        "missing": list(seen.missing),
    }
