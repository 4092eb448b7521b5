"""A machine's history in sentences.  ± is two standard deviations, as everywhere."""

import math
from collections.abc import Sequence
from datetime import date
from typing import assert_never

from coach.advice.chance_words import percent
from coach.history.forecast import Forecast
from coach.history.found import PartDrift
from coach.history.happenings import Happening, Kind, Part
from coach.history.of_machine import History
from coach.history.visits import Visit
from coach.shown import Wording, day_words
from coach.tuning import TUNING

LOOK_AT: dict[Part, str] = {
    "mirror 1": "look at its lock nuts, and at what holds the tube before it",
    "mirror 2": "look at its lock nuts",
    "centre": "look at the head's bracket, and at the slots of the mirrors",
    "opening": "",
    "power": "clean the optics; what does not come back is the tube's age",
}
TIMES = {1: "", 2: ", the second time in the same direction", 3: ", the third time in the same direction"}
KINDS: dict[Kind, str] = {
    "bumped": "bumped, or out",
    "moved": "moved",
    "out": "was out, and put back",
    "changed": "changed",
    "cleaned": "cleaned",
    "mended": "mended",
    "nuts": "tried",
    "turned": "turned before anything was marked",
}
TELL_APART = (
    "A mark at mirror 2 with the gantry at the front, at this visit and the next, tells mirror 1 from mirror 2."
)


def headline(history: History, wording: Wording) -> str:
    """The whole in one sentence."""
    drifting = [each for each in history.parts if each.state == "drifts"]
    if drifting:
        return " ".join(_capital(drift_words(each, wording)) + "." for each in drifting)
    open_ = [each.part for each in history.parts if each.state == "either"]
    if open_:
        return f"Something drifts: {_or([name_of(part) for part in open_])}. Which one the marks do not say yet."
    if not history.visits:
        return "No visit is stored of this machine."
    if not history.parts or all(each.state == "too few" for each in history.parts):
        return f"{_visits(len(history.visits))} so far: drift is told from three on that marked enough places."
    return "Nothing drifts by more than the doubt of the readings."


def drift_words(each: PartDrift, wording: Wording) -> str:
    """What one part did: "mirror 2 has turned 1.1 ± 0.3 mrad since 3 May 2026, the third time in …"."""
    since = f" since {day_words(each.since)}" if each.since else ""
    match each.state:
        case "too few":
            return f"{name_of(each.part)}: too few visits to tell ({each.visits}; three at least)"
        case "none":
            return f"{name_of(each.part)}: no drift ({amount(each, wording)}{since})"
        case "either":
            return f"{name_of(each.part)}: perhaps ({percent(each.chance)}; {amount(each, wording)}{since})"
        case "drifts":
            verb = {"centre": "has moved", "power": "has changed by"}.get(each.part, "has turned")
            again = TIMES.get(each.times, f", {each.times} times in the same direction" if each.times > 3 else "")
            return f"{name_of(each.part)} {verb} {amount(each, wording)}{since}{again}: {LOOK_AT[each.part]}"
        case _:
            assert_never(each.state)


def amount(each: PartDrift, wording: Wording) -> str:
    """How far, give or take: a mirror's tilt in mrad, the centre's way in mm, the cut speed's share."""
    if each.part == "power":
        return share_words(float(each.moved[0]), float(each.moved_sd[0]))
    if each.part == "centre":
        where = f" ({wording.place(*map(float, each.moved))})" if each.state == "drifts" else ""
        return f"{wording.amount(each.size)} ± {wording.length(2 * each.size_sd)}{where}"
    return f"{each.size:.1f} ± {2 * each.size_sd:.1f} mrad"


def share_words(log: float, sd: float) -> str:
    """A small logarithm and its standard deviation as a share: "−12 ± 5 %"."""
    return f"{'+' if log > 0 else '−'}{abs(100 * math.expm1(log)):.0f} ± {200 * sd:.0f} %"


def name_of(part: Part) -> str:
    """What a part is called."""
    return {"centre": "the centre", "power": "the cut speed", "opening": "mirror 2's opening"}.get(part, part)


def forecast_words(ahead: Forecast | None, tolerance: str, today: date) -> tuple[str, ...]:
    """When the tolerance is left, and when to look again; nothing where nothing is forecast."""
    if ahead is None:
        return ()
    check = check_words(ahead, today)
    if ahead.out_already:
        return (f"On {day_words(ahead.made)} it was left with a station beyond {tolerance} already.", check)
    if ahead.soonest is None:
        least = f"until {day_words(ahead.until)} at least (19 in 20)"
        return (f"Left untouched, every station stays within {tolerance} {least}.", check)
    if ahead.latest is None:
        end = f"perhaps not before {day_words(ahead.until)}, and nothing is said of later"
        first = f"no sooner than {day_words(ahead.soonest)} (19 in 20)"
        return (f"Left untouched, a station passes {tolerance} {first}; {end}.", check)
    likely = f", likeliest about {day_words(ahead.likely)}" if ahead.likely else ""
    span = f"between {day_words(ahead.soonest)} and {day_words(ahead.latest)}"
    return (f"Left untouched, a station passes {tolerance} {span} (nine in ten){likely}.", check)


def check_words(ahead: Forecast, today: date) -> str:
    """When to look again."""
    if ahead.check <= today:
        return f"By its drift it is time to look again (since {day_words(ahead.check)}): a ten-minute check-up."
    return f"Look again by {day_words(ahead.check)}: a ten-minute check-up."


def next_check_brief(history: History) -> str:
    """When to look again by the drift between visits, in a few words; "" where nobody can tell."""
    ahead = history.forecast
    if ahead is None:
        return ""
    return f"check-up by its drift: {'now' if ahead.check <= history.today else f'by {day_words(ahead.check)}'}"


def next_check_words(history: History, wording: Wording) -> tuple[str, ...]:
    """When to look again by the drift between visits, and how sure that is; or that nobody can tell yet."""
    ahead = history.forecast
    if ahead is None:
        fewest = TUNING.drifting.fewest
        return (f"By its drift nobody can tell yet when to look again: that takes {fewest} visits with marks.",)
    doubt, check = forecast_words(ahead, wording.exact(history.visits[-1].machine.tolerance), history.today)
    return (check, doubt)


def happening_words(each: Happening) -> str:
    """One thing that happened: "2026-05-03: mirror 2 was out, and put back"."""
    return f"{each.on}: {each.what} {KINDS[each.kind]}"


def history_lines(history: History, wording: Wording) -> tuple[str, ...]:
    """All that is said of drifts and of what comes."""
    tolerance = wording.exact(history.visits[-1].machine.tolerance) if history.visits else ""
    told = [each for each in history.parts if each.state != "drifts"]
    parts = [_capital(drift_words(each, wording)) + "." for each in told]
    power = [_capital(drift_words(history.power, wording)) + "."] if history.power is not None else []
    either = [TELL_APART] if sum(each.state == "either" for each in told) > 1 else []
    comes = forecast_words(history.forecast, tolerance, history.today)
    return (headline(history, wording), *either, *comes, *parts, *power)


def visit_words(number: int, visit: Visit, worst: Sequence[str]) -> str:
    """One visit in a row: its number, day, title, how far off the worst station was when it was found and left."""
    state = "" if visit.finished else ", not finished"
    found, left = worst
    few = "marked at fewer than three places"
    how = f"found {found}, left {left}" if found and left else f"left {left}" if left else few
    cut = f", cut {visit.cut_left.speed:.1f} mm/s" if visit.cut_left is not None else ""
    return f"visit {number}, {visit.on}: {how}{cut}{state}; {visit.title}"


def _visits(count: int) -> str:
    return "One visit" if count == 1 else f"{count} visits"


def _or(names: Sequence[str]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} or {names[-1]}"


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]
