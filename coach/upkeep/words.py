"""Upkeep in words: how an item stands, how often it is due, what was entered.

Days and hours are said alike whatever the person's unit of length is.
"""

from collections.abc import Sequence
from datetime import date
from typing import assert_never

from coach.shown import day_words
from coach.upkeep.entries import Counted, Done, Every
from coach.upkeep.items import Item, item_called
from coach.upkeep.standing import Standing

MOST_NAMED = 3
"""So many items are named in one line."""


def standing_words(standing: Standing) -> str:
    """How an item stands: "due for 3 days", "due for 1.5 h of use", "in 5 days", "not noted yet"."""
    match standing.state:
        case "never noted":
            return "not noted yet"
        case "left out":
            return standing.state
        case "later":
            return _until(standing)
        case "due":
            return _over(standing)
        case _:
            assert_never(standing.state)


def _over(standing: Standing) -> str:
    days, hours = standing.days_over, standing.hours_over
    if hours is not None and hours >= 0:
        return f"due for {hours:.4g} h of use" if hours else "due now by use"
    return "due today" if days == 0 else f"due for {_days(days or 0)}"


def _until(standing: Standing) -> str:
    parts = []
    if standing.days_over is not None:
        parts.append(f"in {_days(-standing.days_over)}")
    if standing.hours_over is not None:
        parts.append(f"in {-standing.hours_over:.4g} h of use")
    return " or ".join(parts) or "by hours of use, and nobody read the counter"


def last_words(standing: Standing) -> str:
    """When it was done last, and whether a visit did it; "" where that was never noted."""
    if standing.last is None:
        return ""
    return f"done {standing.last}{' in a visit' if standing.by == 'visit' else ''}"


def interval_words(item: Item) -> str:
    """How often it is due: "every 7 days or 40 h of use"."""
    return every_words(item.days, item.hours)


def every_words(days: int | None, hours: float | None) -> str:
    """The same of any interval; neither: left out."""
    parts = []
    if days is not None:
        parts.append("day" if days == 1 else _days(days))
    if hours is not None:
        parts.append(f"{hours:g} h of use")
    return f"every {' or '.join(parts)}" if parts else "left out on this machine"


def due_words(due: Sequence[Standing]) -> str:
    """What is due, in one line: "lens look, rails and wheels, hose and 2 more"; "" where nothing is."""
    named = [each.item.title for each in due[:MOST_NAMED]]
    more = len(due) - len(named)
    return ", ".join(named) + (f" and {more} more" if more else "")


def unnoted_words(unnoted: Sequence[Standing]) -> str:
    """What nobody noted yet, asked for calmly: "12 items not noted yet"; "" where all were."""
    count = len(unnoted)
    return f"{count} item{'' if count == 1 else 's'} not noted yet: note when each was done last" if count else ""


def since_words(standing: Standing) -> str:
    """Why an item that was never noted stands as it does."""
    counted = f"; counted from {standing.since}, when the machine was described" if standing.since else ""
    return f"Not noted yet when it was done last{counted}."


def readback_words(item: Item, on: date, hours: float | None) -> str:
    """What is about to be noted: what, when, and at which reading of the counter."""
    counted = f"the counter as read last, {hours:g} h" if hours is not None else "hours of use: counter not read"
    return f"{_begun(item.title)}: done today, {day_words(on)}; {counted}. H enters a new reading first."


def next_words(standing: Sequence[Standing]) -> str:
    """What comes next where nothing is due: "next: belts, in 5 days"; "" where nothing does."""
    later = [each for each in standing if each.state == "later"]
    first = max(later, key=lambda each: each.lateness, default=None)
    return f"next: {first.item.title}, {standing_words(first)}" if first else ""


def entry_words(entry: Done | Counted | Every) -> str:
    """One entry in a few words, beginning with a capital."""
    match entry:
        case Done():
            counted = f", counter {entry.hours:g} h" if entry.hours is not None else ""
            note = f" ({entry.note})" if entry.note else ""
            return f"Done on {_day(entry.on)}: {item_called(entry.item).title}{counted}{note}"
        case Counted():
            return f"Counter on {_day(entry.on)}: {entry.hours:g} h{', a new one' if entry.anew else ''}"
        case Every():
            return f"{_begun(item_called(entry.item).title)}: {every_words(entry.days, entry.hours)}"
        case _:
            assert_never(entry)


def _begun(words: str) -> str:
    return words[:1].upper() + words[1:]


def _day(on: date) -> str:
    return on.isoformat()


def _days(count: int) -> str:
    return "1 day" if count == 1 else f"{count} days"


def item_lines(each: Standing) -> tuple[str, ...]:
    """What is to be done, when it was done last, how often it is due."""
    last = last_words(each)
    stood = f"{last[:1].upper()}{last[1:]}; {standing_words(each)}." if last else since_words(each)
    return each.item.do, "", stood, f"Due {interval_words(each.item)}: {each.item.source}."
