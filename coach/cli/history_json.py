"""A machine's history as JSON.

`coach history MACHINE --json` prints one object: `machine`, `visits`, `happened`, `parts`, `power`, `forecast`,
`compared` (how many of the newest visits are weighed together) and `problems` (sentences). A visit is {number,
session, title, begun, finished, adjusted, found, left, cut_found_mm_s, cut_left_mm_s}; `found` and `left`, null where
nobody can tell, have a1_u, a1_v, a2_u, a2_v in mrad, c_u, c_v in mm, each with its standard deviation in `sd`, and
`worst_mm`. A part is {part, state, since, until, chance, moved, sd, a_year, a_year_sd, unit, times, visits}: `state`
"drifts", "none", "either" or "too few"; `moved` of mirror 1 and 2 is their own tilt in mrad, of the centre mm, of the
power a share. `forecast`, null of fewer than three visits, has made, soonest, likely, latest, until, check; a null
date lies beyond `until`. Days are ISO 8601.
"""

from datetime import date
from typing import Any

from coach.cli.out import number
from coach.history.beam import BeamState, worst
from coach.history.forecast import Forecast
from coach.history.found import PartDrift
from coach.history.of_machine import History
from coach.history.visits import Visit

NAMES = ("a1_u", "a1_v", "a2_u", "a2_v", "c_u", "c_v")
UNITS = {"mirror 1": "mrad", "mirror 2": "mrad", "centre": "mm", "power": "share"}


def history_json(told: History) -> dict[str, Any]:
    """All of it."""
    return {
        "machine": told.machine,
        "visits": [_visit(count, visit) for count, visit in told.numbered],
        "happened": [{"on": each.on.isoformat(), "what": each.what, "kind": each.kind} for each in told.happened],
        "parts": [_part(each) for each in told.parts],
        "power": _part(told.power) if told.power is not None else None,
        "forecast": _forecast(told.forecast),
        "compared": told.compared,
        "problems": list(told.problems),
    }


def _visit(count: int, visit: Visit) -> dict[str, Any]:
    cuts = (visit.cut_found, visit.cut_left)
    found, left = (None if each is None else number(each.speed) for each in cuts)
    return {
        "number": count,
        "session": visit.key,
        "title": visit.title,
        "begun": visit.begun.isoformat(),
        "finished": visit.finished,
        "adjusted": visit.adjusted,
        "found": _state(visit, visit.found),
        "left": _state(visit, visit.left),
        "cut_found_mm_s": found,
        "cut_left_mm_s": left,
    }


def _state(visit: Visit, state: BeamState | None) -> dict[str, Any] | None:
    if state is None:
        return None
    values = {name: number(float(state.mean[k])) for k, name in enumerate(NAMES)}
    doubts = {name: number(float(state.cov[k, k] ** 0.5)) for k, name in enumerate(NAMES)}
    return {**values, "sd": doubts, "worst_mm": number(worst(visit.machine, state))}


def _part(each: PartDrift) -> dict[str, Any]:
    return {
        "part": each.part,
        "state": each.state,
        "since": _day(each.since),
        "until": _day(each.until),
        "chance": number(each.chance),
        "moved": number(each.size if each.part != "power" else float(each.moved[0])),
        "sd": number(each.size_sd),
        "a_year": number(each.yearly if each.part != "power" else float(each.rate[0])),
        "a_year_sd": number(each.yearly_sd),
        "unit": UNITS[each.part],
        "times": each.times,
        "visits": each.visits,
    }


def _forecast(ahead: Forecast | None) -> dict[str, Any] | None:
    if ahead is None:
        return None
    days = {name: _day(getattr(ahead, name)) for name in ("made", "soonest", "likely", "latest", "until", "check")}
    return {**days, "out_already": ahead.out_already}


def _day(day: date | None) -> str | None:
    return day.isoformat() if day is not None else None
