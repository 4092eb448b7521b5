"""Hours of use: what the machine's counter showed, when, and whether that can be.

Readings are kept as they stood on the counter.  How long the machine was used is their difference; a new counter goes
on from where the old one was read last.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from coach.errors import InputError, OutOfReach
from coach.upkeep.entries import Counted, Done, Every

IN_A_DAY = 24.0


@dataclass(frozen=True)
class Reading:
    """The counter, on a day."""

    on: date
    hours: float
    """As it showed."""
    anew: bool = False
    entry: int = 0
    """Id of the entry that it stands in; 0 for none."""


def readings(entries: Iterable[Done | Counted | Every]) -> tuple[Reading, ...]:
    """Every reading that counts, by day; those of one day in the order in which they were entered."""
    found = [reading for entry in entries if (reading := reading_of(entry)) is not None]
    return tuple(sorted(found, key=lambda reading: reading.on))


def reading_of(entry: Done | Counted | Every) -> Reading | None:
    """What an entry says of the counter; None where it says nothing."""
    if isinstance(entry, Every) or entry.hours is None:
        return None
    return Reading(entry.on, entry.hours, isinstance(entry, Counted) and entry.anew, entry.id)


def checked_reading(known: tuple[Reading, ...], new: Reading) -> None:
    """That the counter can have shown this on that day.  Raises OutOfReach where it ran backwards or too fast."""
    before = [reading for reading in known if reading.on <= new.on]
    after = [reading for reading in known if reading.on > new.on]
    if before and not new.anew:
        _follows(before[-1], new, new)
    if after and not after[0].anew:
        _follows(new, after[0], new)


def _follows(first: Reading, then: Reading, new: Reading) -> None:
    other = then if new is first else first
    stood = f"on {other.on} it showed {other.hours:g}"
    if then.hours < first.hours:
        raise OutOfReach(
            f"The hours run backwards: {new.hours:g} on {new.on}, and {stood}",
            expected=f"{'at most' if other is then else 'at least'} {other.hours:g}; where the counter is a new one, "
            f'"new {new.hours:g}"',
        )
    room = IN_A_DAY * ((then.on - first.on).days + 1)
    if then.hours - first.hours > room:
        raise OutOfReach(
            f"{new.hours:g} hours on {new.on}, and {stood}: more than the days between have",
            expected=f"a difference of at most {room:g} hours",
        )


def used_until(known: tuple[Reading, ...], day: date, entry: int | None = None) -> float | None:
    """Hours of use from the first reading to the last on or before that day; None without one.

    With `entry` only as far as the reading that stands in it.
    """
    total: float | None = None
    last: Reading | None = None
    for reading in known:
        if reading.on > day:
            break
        grown = 0.0 if last is None or reading.anew else reading.hours - last.hours
        total, last = (total or 0.0) + grown, reading
        if reading.entry == entry:
            break
    return total


def used_since(known: tuple[Reading, ...], since: date, today: date, entry: int | None = None) -> float | None:
    """Hours of use between two days as far as readings tell; None where none was made by `today`.

    `entry`: what was entered on the first day.  Where it has no reading of the counter, that day's last one stands
    in, or the last before (rather too many hours), else the first one after.
    """
    now = used_until(known, today)
    return None if now is None else now - (used_until(known, since, entry) or 0.0)


def checked_day(on: date, today: date) -> date:
    """A day on which something can have been done.  Raises InputError for one in the future."""
    if on > today:
        raise InputError(f"{on} lies in the future", expected=f"{today} or a day before")
    return on
