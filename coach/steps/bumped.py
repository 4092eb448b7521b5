"""Something was out and back, or was bumped: said at any step, and what the coach makes of it.

What it widens is the belief's business (`coach.belief.transitions.DISTURBED`, `coach.head.belief.disturb`); here
stands what a person is told of it, and which parts of a visit come once more for it.
"""

from collections.abc import Callable
from dataclasses import dataclass

from coach.belief.transitions import DISTURBED
from coach.session.changes import rails_mended
from coach.session.events import DisturbedPart, Event, Mark
from coach.session.head_events import BedMark, NozzleMark
from coach.session.part_events import End, Skip
from coach.session.session import Session
from coach.session.visit_events import Care
from coach.steps.words import named
from coach.visit import VisitPart

LEAD = "What it steers is believed less, and marked again. Undo takes it back."
"""Under its heading on one line of 80 columns, where the list leaves no second one."""


@dataclass(frozen=True)
class Bumped:
    """One thing that can be out and back, or bumped."""

    part: DisturbedPart
    label: str
    """As it is chosen."""
    does: str
    """What comes of it."""


_EVERY_STATION = "every station is marked again."
BUMPED: tuple[Bumped, ...] = (
    Bumped(
        "machine",
        "The machine was bumped or carried",
        f"No mark of before counts as it did, of the beam's path and below the head: {_EVERY_STATION}",
    ),
    Bumped(
        "mirror 1",
        "Mirror 1: out and back, or bumped",
        f"Its beam may leave it otherwise, and after mirror 2 too: {_EVERY_STATION}",
    ),
    Bumped(
        "mirror 2",
        "Mirror 2: out and back, or bumped",
        f"Its beam may leave it otherwise: {_EVERY_STATION}",
    ),
    Bumped(
        "mirror 3",
        "Mirror 3: out and back, or bumped",
        "Marks at the head do not feel it and still count; marks on the bed and under the nozzle come again.",
    ),
    Bumped(
        "lens",
        "The lens was out and back",
        "Marks at the head do not feel it and still count; marks below the head come again. Gauge the focus anew.",
    ),
    Bumped(
        "head",
        "The head was bumped, or off its carriage",
        f"Its opening may stand elsewhere: {_EVERY_STATION} Gauge the focus anew.",
    ),
    Bumped(
        "tube",
        "Tube or combiner: out and back, or bumped",
        f"The whole beam may lie elsewhere: {_EVERY_STATION}",
    ),
)
"""In the order in which they are offered: what happens oftenest first, the tube last."""


def disturb(session: Session, part: str) -> str:
    """Enter it; what was entered and what comes of it.  Raises CoachError."""
    session.disturbed(part)
    does = next(each.does for each in BUMPED if each.part == part)
    return f"{out_words(part)}. {does}{_in_this_session(session, part)}"


def out_words(part: str) -> str:
    """The entry in a few words."""
    return f"Out, or bumped: {named(part)}"


def spelled(part: str) -> str:
    """A part as the session knows it, however it was written."""
    words = part.lower()
    for mirror in "123":
        words = words.replace(f"mirror{mirror}", f"mirror {mirror}")
    return " ".join(words.split())


def _in_this_session(session: Session, part: str) -> str:
    """Where that is none of this session's business, that."""
    if session.is_visit or any(DISTURBED[part]):
        return ""
    return " This session is about the beam's path alone; the head has its part in a visit."


# -- the parts of a visit that it touches -----------------------------------------------------------


def touched_since_end(part: VisitPart, session: Session) -> bool:
    """Whether something that this part is about was out or bumped since it was last ended.

    Since it was left out, whether it was bumped: who leaves it out knows of optics that come out to be cleaned.
    """
    events = session.effective
    mended = rails_mended(events)
    ended = max((n for n, e in enumerate(events) if isinstance(e, End | Skip) and e.part == part), default=0)
    left_out = isinstance(events[ended], Skip)
    since = [event for event in events[ended + 1 :] if not (left_out and isinstance(event, Care))]
    return any(_touches(event, part) or (event.id in mended and _marked(part, events)) for event in since)


def unmarked(session: Session) -> frozenset[VisitPart]:
    """Parts about something that was said to be bumped, or out, of which no mark was made since."""
    return frozenset(part for part in MARKS_OF if _newest_is_bump(session.effective, part))


def waits_words(session: Session) -> str:
    """Why marks come before anything else; "" where nothing was bumped since the last of them."""
    if not unmarked(session):
        return ""
    mended = rails_mended(session.effective)
    newest = next(event for event in reversed(session.effective) if event.kind == "disturbed" or event.id in mended)
    if newest.kind != "disturbed":
        return RAIL_WORDS
    named = {"machine": "The machine was bumped", "head": "The head was bumped"}
    return f"{named.get(newest.part, f'The {newest.part} was out, or bumped')}: marks tell what it did."


MARKS_OF: dict[VisitPart, Callable[[Event], bool]] = {
    "beam path": lambda event: isinstance(event, Mark) and event.target == "head",
    "head": lambda event: isinstance(event, BedMark | NozzleMark),
}
"""The parts in which marks tell how things stand, and which marks do."""


RAIL_WORDS = "The rails were seen to, and mirror 2 and head ride on them: marks tell what that did."


def _marked(part: VisitPart, events: tuple[Event, ...]) -> bool:
    """Whether that part has a mark that a mended rail makes stale; a part without any comes in its own turn."""
    return any(MARKS_OF[part](event) for event in events)


def _newest_is_bump(events: tuple[Event, ...], part: VisitPart) -> bool:
    mended = rails_mended(events)
    for event in reversed(events):
        if MARKS_OF[part](event):
            return False
        if event.id in mended:
            return _marked(part, events)
        if event.kind == "disturbed" and _touches(event, part):
            return True
    return False


def _touches(event: Event, part: VisitPart) -> bool:
    """Whether marks of that part feel what happened; what the beam's path suffers is felt below the head too."""
    if event.kind == "disturbed":
        moved = event.part
    elif isinstance(event, Care) and event.taken_out:
        moved = "tube" if event.optic == "combiner" else event.optic
    else:
        return False
    return part == "head" or any(DISTURBED[moved])
