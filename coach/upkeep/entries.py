"""What happened in a machine's upkeep, in the order in which it was entered: all that its log stores."""

from typing import Annotated, Literal

from pydantic import Field

from coach.session.events import Undo
from coach.session.happened import Happened
from coach.session.moments import Day
from coach.upkeep.items import ItemName

MOST_HOURS = 200_000.0
"""More than a counter of hours shows in twenty years without a stop."""
MOST_DAYS = 3650
Hours = Annotated[float, Field(ge=0, le=MOST_HOURS, allow_inf_nan=False)]
"""What the counter of hours of use shows."""


class Done(Happened):
    """An item was done."""

    kind: Literal["done"] = "done"
    item: ItemName
    on: Day
    hours: Hours | None = None
    """What the counter showed then; None: nobody read it."""
    note: str = ""


class Counted(Happened):
    """The counter of hours of use was read."""

    kind: Literal["hours"] = "hours"
    hours: Hours
    on: Day
    anew: bool = False
    """A new counter: it does not go on from what the old one showed."""


class Every(Happened):
    """How often an item is due on this machine from now on; neither: it is left out."""

    kind: Literal["every"] = "every"
    item: ItemName
    days: Annotated[int, Field(ge=1, le=MOST_DAYS)] | None = None
    hours: Annotated[float, Field(gt=0, le=MOST_HOURS, allow_inf_nan=False)] | None = None


Entry = Annotated[Done | Counted | Every | Undo, Field(discriminator="kind")]


def counting(entries: tuple[Entry, ...]) -> tuple[Done | Counted | Every, ...]:
    """The entries that still count, in the order in which they were entered."""
    undone = {entry.takes_back for entry in entries if isinstance(entry, Undo)}
    return tuple(entry for entry in entries if not isinstance(entry, Undo) and entry.id not in undone)
