"""Parts of the visit that are gone to, left and left out, and what was seen to on their lists."""

from collections.abc import Iterable
from typing import Annotated, Literal

from pydantic import Field

from coach.session.happened import Happened
from coach.visit import VisitPart


class Begin(Happened):
    """The person goes to a part of the visit; a session without any is about the beam's path alone."""

    kind: Literal["begin"] = "begin"
    part: VisitPart


class End(Happened):
    """The person is through with a part of the visit."""

    kind: Literal["end"] = "end"
    part: VisitPart


class Skip(Happened):
    """A part of the visit is left out, for that reason."""

    kind: Literal["skip"] = "skip"
    part: VisitPart
    why: Annotated[str, Field(min_length=1)]


ANEW = "anew"
"""Name of the entry with which a part's list is gone through once more from its beginning."""


class Item(Happened):
    """One thing on a part's list was seen to, or stays open; with `ANEW` the list begins once more."""

    kind: Literal["item"] = "item"
    part: VisitPart
    name: str
    done: bool
    why: str = ""
    """Why it stays open, or why nothing had to be done for it, where that was said."""


def newest_part(events: Iterable[object]) -> VisitPart | None:
    """The part that was gone to last; None in a session about the beam's path alone."""
    return next((event.part for event in reversed(tuple(events)) if isinstance(event, Begin)), None)
