"""What was done in this round so far, and what is still to come: a few rows for where there is room."""

from coach.session.events import Arrive, Mark, Miss, Plan, Pulse, Turn
from coach.session.head_events import BedMark, HeadPulse, NozzleMark
from coach.session.session import Session
from coach.shown import Wording
from coach.steps.visit_progress import part_now
from coach.steps.words import turn_amount


def so_far(session: Session, wording: Wording) -> tuple[str, ...]:
    """What was planned and what of it is done, until the next mark is asked for; else each station with its mark."""
    turned = _turned(session, wording)
    if turned:
        return ("Mirror, screw in this round:", *turned)
    if part_now(session.effective) in ("head", "pointer"):
        return _below(session, wording)
    seen = {sighting.station: sighting for sighting in session.belief.round_sightings if sighting.target == "head"}
    rows = []
    for station in session.machine.stations:
        sighting = seen.get(station.name)
        if sighting is None:
            rows.append(f"· {station.name}")
        elif sighting.unexplained:
            rows.append(f"? {station.name}: nothing seen")
        elif sighting.u is None or sighting.v is None:
            rows.append(f"! {station.name}: missed")
        else:
            rows.append(f"✓ {station.name}: {wording.place(sighting.u, sighting.v)}")
    return ("Marks in this round:", *rows)


def _below(session: Session, wording: Wording) -> tuple[str, ...]:
    """This round's marks below the head."""
    rows = []
    for mark in session.head_belief.marks:
        where = "nozzle" if mark.target == "nozzle" else f"card {wording.length(mark.lowered, 0)} lower"
        if mark.right is None or mark.back is None:
            rows.append(f"! {where}: nothing through")
        else:
            rows.append(f"✓ {where}: {wording.signed(mark.right)} {wording.signed(mark.back)}")
    return ("Marks below the head, right and back:", *rows) if rows else ()


def _turned(session: Session, wording: Wording) -> list[str]:
    """The screws of the last plan: turned, as they really were; the one to turn now; those to come.

    Nothing once a mark was asked for.
    """
    plan: Plan | None = None
    turned: dict[tuple[int, str], float] = {}
    for event in session.effective:
        match event:
            case Plan():
                plan, turned = event, {}
            case Turn():
                turned |= {(event.mirror, name): by for name, by in event.screws.items()}
            case Arrive() | Pulse() | Mark() | Miss() | HeadPulse() | BedMark() | NozzleMark():
                plan = None
            case _:
                continue
    if plan is None:
        return []
    told = {(int(mirror), name): by for mirror, screws in plan.turns.items() for name, by in screws.items()}
    coming = [screw for screw in told if screw not in turned]
    return [
        f"{'✓' if screw in turned else '▶' if screw == coming[0] else '·'} {screw[0]} {screw[1]}: "
        f"{_short(by, wording)}"
        for screw, by in (told | turned).items()
    ]


def _short(turns: float, wording: Wording) -> str:
    """A turn that fits into a narrow part: "7 ticks clockwise"."""
    return f"{turn_amount(turns, wording)} {wording.turns(turns).direction.lower()}".strip()
