"""One visit as its session file tells it: what it found, what it left, and what happened before."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, datetime
from typing import TypeGuard

from coach.belief.belief import Belief
from coach.history.beam import BeamState
from coach.history.cuts import CutSpeed, first_and_last
from coach.history.happenings import Happening, of_session
from coach.machine import Machine
from coach.session.described import as_described
from coach.session.document import Document
from coach.session.events import Event, Finish, Mark, effective
from coach.session.found_and_left import moving
from coach.session.replay import after
from coach.tuning import TUNING, Tuning

FEWEST_PLACES = 3
"""Places of the head with marks below which a visit says nothing of both legs."""
OPEN = 6.0
"""So many times as far as usual a beam may be out before a visit's first mark, for its history."""


def open_minded(tuning: Tuning) -> Tuning:
    """With nearly nothing believed beforehand of how the beam lies: each visit's marks speak for themselves.

    What is believed at the beginning of a session ("usually within a few mrad", "perhaps it is aligned") is the same
    at every visit; counted each time it would hold every one of them to the middle, and no drift would be seen whole.
    """
    told = tuple(each for each in tuning.prior.explanations if each.beam >= 1.0)
    wide = tuple(replace(each, beam=OPEN * each.beam) for each in told)
    return replace(tuning, prior=replace(tuning.prior, explanations=wide))


@dataclass(frozen=True, eq=False)
class Visit:
    """What one visit says."""

    key: str
    """What its session is called by in the shell."""
    title: str
    begun: datetime
    ended: datetime
    """When its last mark was made, or something moved last; no sooner than it was begun."""
    finished: bool
    machine: Machine
    found: BeamState | None
    """How the beam lay before anything was adjusted; None of marks at too few places."""
    left: BeamState | None
    """How it lay at the end."""
    adjusted: bool
    """Whether anything was adjusted in between: else both are the same marks."""
    marks: int
    """At the head."""
    cut_found: CutSpeed | None
    cut_left: CutSpeed | None
    happened: tuple[Happening, ...]
    went_back: bool
    """Whether an entry is of before it was begun: the clock went back."""

    @property
    def on(self) -> date:
        """The day on which it was begun."""
        return self.begun.astimezone().date()


def visit_of(key: str, document: Document, tuning: Tuning = TUNING, *, cuts: bool = True) -> Visit:
    """What that session says.  Raises CoachError where its events cannot be replayed.

    `cuts`: whether what was cut is looked at as well.
    """
    events = effective(document.events)
    moved = moving(events)
    first = next((k for k, event in enumerate(events) if _at_head(event)), len(events))
    found_at = next((k for k, event in enumerate(events) if k > first and event.id in moved), len(events))
    belief = Belief.initial(document.machine, document.created.astimezone().date(), open_minded(tuning))
    found = None
    for index, event in enumerate(events):
        if index == found_at:
            found = belief
        belief = after(belief, event)
    marked = [event for event in events if _at_head(event)]
    before = [event for event in events[:found_at] if _at_head(event)]
    left = BeamState.of(belief) if _places(marked) >= FEWEST_PLACES else None
    cut_found, cut_left = first_and_last(events, tuning) if cuts else (None, None)
    beam = [event.at for event in events if _at_head(event) or event.id in moved]
    return Visit(
        key=key,
        title=document.title,
        begun=document.created,
        ended=max(document.created, *beam) if beam else document.created,
        finished=any(isinstance(event, Finish) for event in events),
        machine=as_described(document.machine, events),
        found=(BeamState.of(found) if found is not None else left) if _places(before) >= FEWEST_PLACES else None,
        left=left,
        adjusted=found is not None,
        marks=len(marked),
        cut_found=cut_found,
        cut_left=cut_left,
        happened=of_session(events, found_at if first < len(events) else None),
        went_back=any(event.at < document.created for event in events),
    )


def _at_head(event: Event) -> TypeGuard[Mark]:
    return isinstance(event, Mark) and event.target == "head"


def _places(marks: Iterable[Mark]) -> int:
    return len({(round(mark.x), round(mark.y)) for mark in marks})
