"""What is typed about upkeep: the counter of hours of use, how often an item is due."""

from coach.tui.screens.asking import Ask, Field, Typed
from coach.upkeep.items import Item
from coach.upkeep.log import MachineLog
from coach.upkeep.typed import typed_hours, typed_interval
from coach.upkeep.words import every_words, interval_words


def ask_hours(log: MachineLog) -> Ask:
    """What the counter shows, today."""
    known = log.hours()
    last = f" Last read: {known:g}." if known is not None else ""

    def echo(typed: Typed) -> str:
        hours, anew = typed_hours(typed["hours"])
        return f"Understood: {hours:g} h{' on a new counter' if anew else ''}."

    def enter(typed: Typed) -> None:
        hours, anew = typed_hours(typed["hours"])
        log.count(hours, anew=anew)

    lead = f"What the counter of hours of use shows now.{last} Of a new counter: new 0."
    return Ask("Hours of use", lead, (Field("hours", "Hours", "", typed_hours),), echo, enter)


def ask_interval(log: MachineLog, item: Item) -> Ask:
    """How often an item is due on this machine."""
    fields = (
        Field("days", "Days", "" if item.days is None else str(item.days), lambda text: typed_interval(text, "")),
        Field(
            "use", "Hours of use", "" if item.hours is None else f"{item.hours:g}", lambda h: typed_interval("", h)
        ),
    )

    def read(typed: Typed) -> tuple[int | None, float | None]:
        return typed_interval(typed["days"], typed["use"])

    def enter(typed: Typed) -> None:
        days, hours = read(typed)
        log.every(item.name, days=days, hours=hours)

    lead = f"{item.title.capitalize()}: {interval_words(item)} ({item.source}). Both empty: never."
    return Ask("How often", lead, fields, lambda typed: f"Understood: {every_words(*read(typed))}.", enter)
