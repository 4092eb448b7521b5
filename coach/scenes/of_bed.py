"""From a session to the bed seen from above: the stations, each with the tape that was marked there."""

import math
from collections.abc import Mapping
from dataclasses import replace

from coach.advice.advice import Shot
from coach.belief.belief import Sighting
from coach.machine import Machine
from coach.pictures.bed import BedScene, State, StationDot
from coach.scenes.before_after import first_round, newest_at_head
from coach.session.session import Session


def bed_scene(session: Session, now: Shot | None) -> BedScene:
    """The stations with this round's offsets, the one in question marked."""
    return _bed(session.machine, newest_at_head(session.belief.round_sightings), now)


def beds_before_and_after(session: Session) -> tuple[BedScene, BedScene] | None:
    """The bed with the marks before anything was adjusted, and with this round's, both discs at one scale.

    None where nothing was adjusted.
    """
    first = first_round(session.effective)
    if not session.belief.adjustments or not first:
        return None
    after = bed_scene(session, None)
    before = _bed(session.machine, first, None)
    reach = max(math.hypot(dot.u or 0.0, dot.v or 0.0) for bed in (before, after) for dot in bed.stations)
    reach = max(reach, before.reaching)
    return replace(before, reaching=reach), replace(after, reaching=reach)


def _bed(machine: Machine, seen: Mapping[str, Sighting], now: Shot | None) -> BedScene:
    places = {s.name: (s.x, s.y) for s in machine.stations}
    places |= {s.station: (s.x, s.y) for s in seen.values()}
    if now is not None and now.target == "head":
        places[now.name] = (now.x, now.y)
    dots = []
    for name, (x, y) in places.items():
        sighting = seen.get(name)
        state = became(sighting)
        if now is not None and name == now.name and now.target == "head":
            state = "now"
        u, v = (sighting.u, sighting.v) if sighting else (None, None)
        dots.append(StationDot(name, x, y, state, u=u, v=v))
    head = (now.x, now.y) if now is not None else None
    return BedScene(machine.bed.width, machine.bed.depth, machine.path.side, tuple(dots), head)


def became(sighting: Sighting | None) -> State:
    """What this round's pulse at a station came to; one that left nothing need not have missed."""
    if sighting is None:
        return "todo"
    if sighting.unexplained:
        return "nothing seen"
    return "missed" if sighting.missed else "done"
