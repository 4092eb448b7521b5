"""From what was entered and done to what is due: pure, computed anew each time."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Literal

from coach.upkeep.entries import Counted, Done, Every
from coach.upkeep.items import ITEMS, Item, ItemName
from coach.upkeep.use import Reading, readings, used_since
from coach.upkeep.visited import Visited

State = Literal["due", "never noted", "later", "left out"]
"""Never noted: nobody knows when it was done last, and it is not due yet by when the machine was described; left out:
not on this machine."""


@dataclass(frozen=True)
class Standing:
    """How one item stands on a day."""

    item: Item
    """With this machine's own interval."""
    state: State
    last: date | None
    """When it was done last; None: never noted."""
    by: Literal["", "log", "visit"]
    """Where that is known from."""
    due_on: date | None
    """The day on which it is due, counted by days; None where it is not, or was never noted."""
    days_over: int | None
    """Days since then, 0 on the day itself, negative before."""
    hours_over: float | None
    """Hours of use beyond the interval, negative before; None where nobody knows, or it is not counted by use."""
    since: date | None = None
    """From when it is counted where it was never noted: when the machine was described."""

    @property
    def is_due(self) -> bool:
        """Whether it is to be done now."""
        return self.state == "due"

    @property
    def lateness(self) -> float:
        """How late it is, in parts of its interval: what is listed first."""
        by_days = self.days_over / self.item.days if self.days_over is not None and self.item.days else 0.0
        by_use = self.hours_over / self.item.hours if self.hours_over is not None and self.item.hours else 0.0
        return max(by_days, by_use)


Entries = Iterable[Done | Counted | Every]


def items_of(entries: Entries) -> tuple[Item, ...]:
    """All items with this machine's intervals: as said last, else the usual ones."""
    said = {entry.item: entry for entry in entries if isinstance(entry, Every)}
    return tuple(_at_intervals(item, said.get(item.name)) for item in ITEMS)


def _at_intervals(item: Item, every: Every | None) -> Item:
    if every is None or (every.days, every.hours) == (item.days, item.hours):
        return item
    return replace(item, days=every.days, hours=every.hours, source="as set for this machine")


def standings(
    entries: Entries, visits: Iterable[Visited], today: date, since: date | None = None
) -> tuple[Standing, ...]:
    """How every item stands on a day, in the order of the table; what came later does not count.

    What was never noted is counted from `since`, the day on which the machine was described; None: nobody knows it.
    """
    known = tuple(entries)
    read = readings(known)
    last: dict[ItemName, LastDone] = {}
    done = [LastDone(visit.item, visit.on, "visit", None) for visit in visits]
    done += [LastDone(entry.item, entry.on, "log", entry.id) for entry in known if isinstance(entry, Done)]
    for each in done:
        if each.on <= today and (each.item not in last or each.on >= last[each.item].on):
            last[each.item] = each
    return tuple(
        _standing(item, last[item.name], read, today) if item.name in last else _unnoted(item, today, since)
        for item in items_of(known)
    )


@dataclass(frozen=True)
class LastDone:
    """When an item was done last."""

    item: ItemName
    on: date
    by: Literal["log", "visit"]
    entry: int | None
    """Of the log."""


def _unnoted(item: Item, today: date, since: date | None) -> Standing:
    """Never noted: due once its days have passed since the machine was described, and till then asked for calmly."""
    if item.days is None and item.hours is None:
        return Standing(item, "left out", None, "", None, None, None)
    over = None if item.days is None or since is None else (today - since).days - item.days
    if over is None or over < 0:
        return Standing(item, "never noted", None, "", None, None, None, since)
    return Standing(item, "due", None, "", today - timedelta(days=over), over, None, since)


def _standing(item: Item, done: LastDone, read: tuple[Reading, ...], today: date) -> Standing:
    left_out = item.days is None and item.hours is None
    due_on = None if item.days is None else done.on + timedelta(days=item.days)
    days_over = None if due_on is None else (today - due_on).days
    used = used_since(read, done.on, today, done.entry)
    hours_over = None if item.hours is None or used is None else used - item.hours
    over = (days_over is not None and days_over >= 0) or (hours_over is not None and hours_over >= 0)
    state: State = "left out" if left_out else "due" if over else "later"
    return Standing(item, state, done.on, done.by, due_on, days_over, hours_over)


def due_first(standing: Iterable[Standing]) -> tuple[Standing, ...]:
    """What is due: the latest by its interval first."""
    return tuple(sorted((each for each in standing if each.is_due), key=lambda each: -each.lateness))


def unnoted(standing: Iterable[Standing]) -> tuple[Standing, ...]:
    """What nobody noted yet and is not due either."""
    return tuple(each for each in standing if each.state == "never noted")
