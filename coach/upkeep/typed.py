"""How what is typed about upkeep is read: days, hours of use, intervals."""

from datetime import date, timedelta

from coach.errors import InputError
from coach.units import parse_number
from coach.upkeep.entries import MOST_DAYS

NEW = "new"
"""Typed before the hours of a new counter."""


def typed_hours(text: str) -> tuple[float, bool]:
    """What the counter shows, and whether it is a new one: "131", "131,5", "new 0".  Raises InputError."""
    words = text.strip()
    anew = words.lower().startswith(f"{NEW} ")
    return parse_number(words[len(NEW) :] if anew else words, "the hours of use"), anew


def typed_day(text: str, today: date) -> date:
    """A day: "2026-03-01", "today", "yesterday".  Raises InputError."""
    word = text.strip().lower()
    if word in ("today", "yesterday"):
        return today - timedelta(days=int(word == "yesterday"))
    try:
        return date.fromisoformat(word)
    except ValueError:
        raise InputError(
            f"{text!r} is no day", expected="year-month-day, today or yesterday", example="2026-03-01"
        ) from None


def typed_interval(days: str, hours: str) -> tuple[int | None, float | None]:
    """Every so many days, or hours of use; nothing typed: not by these.  Raises InputError."""
    every = parse_number(days, "the days") if days.strip() else None
    if every is not None and every != int(every):
        raise InputError(f"{days!r} is no whole number of days", expected=f"1 to {MOST_DAYS}", example="14")
    by_use = parse_number(hours, "the hours of use") if hours.strip() else None
    return None if every is None else int(every), by_use
