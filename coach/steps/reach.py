"""How far a part was said to move, against what is entered, and what a session taught about that.

A move beyond it is asked about and never refused: the person saw what was done.
"""

from collections.abc import Mapping

from coach.errors import InputError
from coach.machine import Machine
from coach.parts import DIRECTIONS, MOVED_ALONG, PARTS, Direction, Moved, Part, PartMove
from coach.session.events import Refused, Shift
from coach.session.session import Session
from coach.shown import Wording
from coach.steps.words import BOTH_SENSES, named

ROUNDED = 0.05
"""mm; nobody measures finer how far a part was moved."""


def beyond_reach(session: Session, part: Moved, moved: Mapping[Direction, float], wording: Wording) -> str:
    """What is asked where that, with what was entered before, takes a part farther than it was said to go; or ""."""
    for way in MOVED_ALONG[part]:
        amount, reach = moved.get(way, 0.0), _reach(session, part, way)
        total = amount + _moved_before(session, part, way)
        if not amount or reach is None or abs(total) <= reach + ROUNDED:
            continue
        senses = " or ".join(BOTH_SENSES[way])
        if reach == 0:
            return f"{_name(part)} was said not to move {senses} at all. Is this right?"
        so_far = "" if total == amount else f", {wording.length(abs(total))} in all"
        return (
            f"{_name(part)} was said to move {senses} by {wording.length(reach)} at the most, and this is "
            f"{wording.length(abs(amount))}{so_far}. Is this right?"
        )
    return ""


def with_refusals(machine: Machine, session: Session) -> Machine:
    """The machine with what a person could not move during the session: 0 there, unless it was moved after all."""
    moves = {move.part: move for move in machine.moves}
    for part, way in cannot(session):
        known = moves[part].model_dump(exclude_none=True) if part in moves else {"part": part}
        moves[part] = PartMove.model_validate(known | {way: 0.0})
    lens = machine.lens
    if lens is not None and lens_fixed(session):
        lens = lens.model_copy(update={"reach": 0.0})
    return machine.model_copy(update={"moves": tuple(moves[part] for part in PARTS if part in moves), "lens": lens})


def lens_fixed(session: Session) -> bool:
    """Whether somebody said that the lens tube cannot be moved, and did not move it after that."""
    return "lens" in session.head_belief.refused


def cannot(session: Session) -> tuple[tuple[Part, Direction], ...]:
    """In which ways which parts could not be moved in this session; what was moved later can be."""
    found: dict[tuple[Part, Direction], None] = {}
    for event in session.effective:
        if not isinstance(event, Refused | Shift) or event.part == "lens":
            continue
        if isinstance(event, Refused):
            ways = [way for way in DIRECTIONS[event.part] if event.axis in (None, way)]
            found |= dict.fromkeys((event.part, way) for way in ways)
        else:
            for way in DIRECTIONS[event.part]:
                if getattr(event, way):
                    found.pop((event.part, way), None)
    return tuple(found)


def cannot_words(fixed: tuple[tuple[Part, Direction], ...], *, lens: bool = False) -> str:
    """What cannot be moved, in words: "the tube, and the head up or down, cannot be moved"; "" where nothing.

    `lens`: the lens tube too.
    """
    parts = dict.fromkeys(part for part, _ in fixed)
    said = []
    for part in parts:
        ways = [way for which, way in fixed if which == part]
        whole = len(ways) == len(DIRECTIONS[part])
        said.append(named(part) if whole else f"{named(part)} {' or '.join(BOTH_SENSES[ways[0]])}")
    said += ["the lens tube"] if lens else []
    return f"{' and '.join(said)} cannot be moved" if said else ""


def take_refusal_back(session: Session, part: Part, axis: Direction | None = None) -> None:
    """That the part cannot be moved, or not in that direction, counts no longer.

    Raises InputError where nobody said so.
    What remains of a refusal in every direction is said again, so that only that one is free.
    """
    said = [event for event in session.effective if isinstance(event, Refused) and event.part == part]
    meant = [event for event in said if axis is None or event.axis in (None, axis)]
    if not meant:
        way = f" {' or '.join(BOTH_SENSES[axis])}" if axis else ""
        fixed = any(session.machine.reach(part, which) == 0 for which in ([axis] if axis else DIRECTIONS[part]))
        where = "; its profile says that it is fixed: change the machine" if fixed else ""
        raise InputError(f"Nobody said in this session that {named(part)} cannot be moved{way}{where}")
    for event in meant:
        session.undo(event.id)
    if axis is not None and any(event.axis is None for event in meant):
        for way in DIRECTIONS[part]:
            if way != axis and (part, way) not in session.belief.refused:
                session.refuse(part, way)


def _reach(session: Session, part: Moved, way: Direction) -> float | None:
    if part == "lens":
        lens = session.machine.lens
        return 0.0 if lens_fixed(session) else lens.reach if lens is not None else None
    return 0.0 if (part, way) in session.belief.refused else session.machine.reach(part, way)


def _moved_before(session: Session, part: Moved, way: Direction) -> float:
    shifts = [event for event in session.effective if isinstance(event, Shift) and event.part == part]
    return float(sum(getattr(event, way) for event in shifts))


def _name(part: Moved) -> str:
    return f"{named(part)[:1].upper()}{named(part)[1:]}"
