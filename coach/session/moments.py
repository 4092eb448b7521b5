"""When something happened, as a file may say it: in a time that a calendar and a clock can reach."""

from datetime import date, datetime, time
from typing import Annotated, TypeVar

from pydantic import AfterValidator

FIRST, LAST = 1970, 2199
"""Years: a clock that lost its battery begins at the first, and beyond the last nobody can reckon with dates."""
DateT = TypeVar("DateT", bound=date)


def _possible(when: DateT) -> DateT:
    if not FIRST <= when.year <= LAST:
        raise ValueError(f"nothing happened in the year {when.year}; expected one from {FIRST} to {LAST}")
    return when


def _zoned(when: datetime) -> datetime:
    """A time without a zone, as a hand writes it, is of the clock here."""
    return when.astimezone() if when.tzinfo is None else when


def moment_of(day: date, now: datetime) -> datetime:
    """What stands for a day: this moment where it is today, else its noon, since only the day is known."""
    return now if day == now.date() else datetime.combine(day, time(12)).astimezone()


Moment = Annotated[datetime, AfterValidator(_possible), AfterValidator(_zoned)]
"""A moment, with its zone."""
Day = Annotated[date, AfterValidator(_possible)]
