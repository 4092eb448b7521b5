"""Whether the key may be in: nothing says so, so whatever may have fired since it was last said to be out counts."""

from typing import assert_never

from coach.session.described import Described
from coach.session.events import (
    Amend,
    Arrive,
    Best,
    Disturbed,
    Event,
    Finish,
    Gate,
    Lock,
    Mark,
    Mended,
    Miss,
    Note,
    Opened,
    Plan,
    Pulse,
    Refused,
    Shift,
    Turn,
    Undo,
)
from coach.session.head_events import BedMark, HeadPulse, NozzleMark, Pointer
from coach.session.part_events import Begin, End, Item, Skip
from coach.session.visit_events import Answer, Baseline, Care, Check, Cut, SheetLaid
from coach.steps.keys import GateName
from coach.steps.part import Laser
from coach.steps.parts.table import PARTS
from coach.steps.stages.check_words import CHECK_WORDS
from coach.steps.stages.closing import CLOSING
from coach.steps.visit_progress import part_now
from coach.visit import VisitPart

KEY_IS_OUT: tuple[GateName, ...] = ("key-out", "isolated", "tube-off", "powered")
"""Gates that say that it is out; plugged in again, until it is asked for.  The rules say so of a beginning, and no
more: where it may have been in when the program was left, it is said once more."""
LASER_ON: tuple[Laser, ...] = ("pulses", "cutting")
QUIET: frozenset[VisitPart] = frozenset(
    part.name for part in PARTS if part.laser_at is None and part.laser not in LASER_ON
)
"""Parts at no step of which anything is fired."""


def key_may_be_in(events: tuple[Event, ...]) -> bool:
    """Whether something may have been fired since the key was last said to be out."""
    for place in range(len(events) - 1, -1, -1):
        event = events[place]
        if isinstance(event, Gate) and event.name in KEY_IS_OUT:
            return False
        if _fires(event) or _left_firing(event, events[:place]):
            return True
    return False


def _fires(event: Event) -> bool:
    """Whether the entry is made where it pulses or cuts, or says that it did or is about to."""
    match event:
        case Arrive() | Pulse() | HeadPulse() | Cut() | SheetLaid():
            return True
        case Gate():
            return event.name == "attended"
        case Check():
            return CHECK_WORDS[event.name].laser in LASER_ON
        case Item(part="close up"):
            return any(item.name == event.name and item.laser in LASER_ON for item in CLOSING)
        case Item() | Begin() | End() | Skip() | Answer() | Care() | Baseline():
            return False
        case Mark() | Miss() | BedMark() | NozzleMark() | Pointer():  # the shell takes one without its pulse
            return True
        case Plan() | Turn() | Shift() | Lock() | Disturbed() | Described() | Refused() | Mended() | Best():
            return False
        case Opened() | Amend() | Note() | Finish() | Undo():
            return False
        case _:
            assert_never(event)


def _left_firing(event: Event, before: tuple[Event, ...]) -> bool:
    """Whether a part was left in the middle of which it may have been fired, with nothing entered there."""
    left = part_now(before) if isinstance(event, Begin | End | Skip) else None
    return left is not None and left not in QUIET
