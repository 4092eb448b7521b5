"""What was done in this round so far, and what is still to come: a few rows for where there is room."""

from coach.session.events import Plan, Turn
from coach.session.session import Session
from coach.shown import Wording
from coach.steps.words import turn_words


def so_far(session: Session, wording: Wording) -> tuple[str, ...]:
    """The screws turned since the person set out to adjust; else each station with its mark of this round."""
    turned = _turned(session, wording)
    if turned:
        return ("Turned in this round:", *turned)
    seen = {sighting.station: sighting for sighting in session.belief.round_sightings if sighting.target == "head"}
    rows = []
    for station in session.machine.stations:
        sighting = seen.get(station.name)
        if sighting is None:
            rows.append(f"· {station.name}")
        elif sighting.u is None or sighting.v is None:
            rows.append(f"! {station.name}: missed")
        else:
            rows.append(f"✓ {station.name}: {wording.place(sighting.u, sighting.v)}")
    return ("Marks in this round:", *rows)


def _turned(session: Session, wording: Wording) -> list[str]:
    """The screws turned since the last plan, as they were really turned; nothing once a mark was asked for."""
    rows: list[str] = []
    for event in reversed(session.effective):
        match event:
            case Turn():
                screws = event.screws.items()
                rows = [f"✓ mirror {event.mirror}, {name}: {turn_words(by, wording)}" for name, by in screws] + rows
            case Plan():
                return rows
            case _ if rows:
                continue
            case _:
                return []
    return []
