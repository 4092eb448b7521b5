"""Where a session stands in the visit: in a part, at a switch of the laser, or between two parts."""

from coach.session.events import Event, Gate
from coach.session.part_events import Begin
from coach.session.session import Session
from coach.session.visit_events import Care
from coach.steps import gates
from coach.steps.about import About
from coach.steps.bumped import unmarked
from coach.steps.key_now import key_may_be_in
from coach.steps.part import ASKS, Laser, PartKind
from coach.steps.part_state import became, next_part
from coach.steps.parts.beam_path import along_the_beam
from coach.steps.parts.table import PARTS
from coach.steps.route import passed_over, still_weak
from coach.steps.situation import flame_waits, gates_since_plugged_in
from coach.steps.stages.cleaning import broken, out_of_its_mount
from coach.steps.stages.switches import ISOLATED, KEY_OUT, POWERED
from coach.steps.visit_progress import one_part_alone, part_now, power_now, state_of
from coach.steps.visit_standing import VisitStanding
from coach.visit import VisitPart


def whereabouts(session: Session) -> About:
    """The step that a session's events lead to; one without parts is about the beam's path alone."""
    events = session.effective
    if not session.is_visit or flame_waits(events):
        return along_the_beam(session)
    rules = gates.missing_rules(_since_opening(events))
    if rules is not None:
        return About(key=gates.asking_step(rules), gate=rules.name)
    now = part_now(events)
    if now is None:
        return _between(session)
    kind = part_kind(now)
    there = kind.where(session)
    if there is None:
        return _between(session)
    laser = kind.needs_laser(there)
    if (halted := _halted(laser, session)) is not None:
        return _switch("untouched" if halted.key == "halt" else "off", events) or halted
    return _switch(laser, events) or _asked(laser, events) or _laid_in(there, laser, events) or there


def part_kind(name: str) -> PartKind:
    """What the table says of a part.  Raises ValueError for one that it does not have."""
    found = next((part for part in PARTS if part.name == name), None)
    if found is None:
        raise ValueError(f"there is no part {name!r} in the table of parts")
    return found


def visit_standing(session: Session) -> VisitStanding | None:
    """How far the visit is; None where the session is about the beam's path alone."""
    if not session.is_visit:
        return None
    now = part_now(session.effective)
    if now is not None and part_kind(now).where(session) is None:
        now = None  # nothing is left to do there: the person stands between two parts
    behind = sum(became(part, session) in ("done", "left out") for part in PARTS)
    return VisitStanding(part_kind(now).title if now else "", behind, len(PARTS), now == "beam path")


def part_rows(session: Session) -> tuple[tuple[VisitPart, str], ...]:
    """Every part, with what became of it, for lists."""
    return tuple((part.name, f"{part.title}: {became(part, session)}") for part in PARTS)


def _between(session: Session) -> About:
    """What comes next; once nothing does, that.  After a part that somebody came for alone only closing up does,
    unless it left something that another part has to see to."""
    weak = still_weak(session)
    out_and_back = any(isinstance(event, Care) and event.taken_out for event in session.effective)
    alone = one_part_alone(session.effective) and not (weak or out_and_back or unmarked(session))
    passed = passed_over(session)
    parts = [part for part in PARTS if (part.name == "close up" if alone else part.name not in passed)]
    comes = next_part(_in_turn(parts, session), session)
    if comes:
        return About(key="next-part", part=comes)
    return About(key="still-weak", part="checks") if weak else About(key="parts-done", part=PARTS[-1].name)


def _in_turn(parts: list[PartKind], session: Session) -> list[PartKind]:
    """Checks that were through and come again wait until all that makes them stale was done: till it is cut again."""
    if state_of("checks", session.effective) != "done":
        return parts
    last: tuple[VisitPart, ...] = ("checks", "cut again", "close up")
    return sorted(parts, key=lambda part: last.index(part.name) + 1 if part.name in last else 0)


def _switch(laser: Laser, events: tuple[Event, ...]) -> About | None:
    """What is to be done first so that the machine is off, or on again, or on with nothing firing."""
    power = power_now(events)
    if laser == "off" and power != "off":
        return About(key="switch-off", gate=ISOLATED.name)
    if laser in ("idle", "pulses", "cutting") and power != "on":
        return About(key="switch-on", gate=POWERED.name)
    if laser == "idle" and key_may_be_in(events):
        return About(key="key-out", gate=KEY_OUT.name)
    return None


def _laid_in(there: About, laser: Laser, events: tuple[Event, ...]) -> About | None:
    """Where a check cuts, a board, a scrap or a piece is laid in by hand first: the key is out till then.

    What has to be true before it cuts was only just acknowledged, with nothing cut since.
    """
    while events and isinstance(events[-1], Gate) and events[-1].name in ASKS["cutting"]:
        events = events[:-1]
    if there.key == "check" and laser == "cutting" and key_may_be_in(events):
        return About(key="key-out", gate=KEY_OUT.name)
    return None


def _halted(laser: Laser, session: Session) -> About | None:
    """What says that nothing may be fired, where that comes next: figures of a check, an optic broken or out."""
    if laser not in ("pulses", "cutting"):
        return None
    found = next((name for name, each in session.checks().items() if each.stop), None)
    if found is not None:
        return About(key="halt", part="checks", item=found)
    if (optic := broken(session)) is not None:
        return About(key="halt-optic", part="clean", item=optic)
    out = out_of_its_mount(session)
    return About(key="clean-optic", part="clean", item=out) if out is not None else None


def _asked(laser: Laser, events: tuple[Event, ...]) -> About | None:
    """What is to be acknowledged first where it pulses or cuts."""
    since = events
    if laser == "cutting":  # where marks are made below the head its lens is out
        since = events[
            max((n for n, e in enumerate(events) if isinstance(e, Begin) and e.part == "head"), default=0) :
        ]
    gate = gates.first_missing(ASKS[laser], gates_since_plugged_in(since))
    return About(key=gates.asking_step(gate), gate=gate.name) if gate is not None else None


def _since_opening(events: tuple[Event, ...]) -> frozenset[str]:
    """Names of the gates acknowledged since the program was opened."""
    opened = max((n for n, event in enumerate(events) if event.kind == "opened"), default=-1)
    return frozenset(event.name for event in events[opened + 1 :] if isinstance(event, Gate))
