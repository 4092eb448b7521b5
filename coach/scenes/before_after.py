"""From a session to the picture of before and after."""

from collections.abc import Iterable

from coach.belief.belief import Sighting
from coach.pictures.beside import BesideScene
from coach.pictures.compare import CompareScene
from coach.pictures.compared import Compared
from coach.session.events import Event, Lock, Mark, Miss, Shift, Turn
from coach.session.replay import sighting_of
from coach.session.session import Session
from coach.tuning import TUNING

LIKELY = 2.0
"""An expected mark is drawn with so many standard deviations of doubt."""


def beside(session: Session) -> BesideScene | None:
    """Before beside after, once something was adjusted and both have something to show."""
    both = before_after(session)
    if both is None or not both.adjusted or not any(s.before for s in both.stations):
        return None
    return BesideScene(both.aperture, both.tolerance, both.stations)


def before_after(session: Session) -> CompareScene | None:
    """The first round's marks at the head against the newest; None as long as there is no pulse to tell of.

    Where a station has no mark since the last adjustment, what is expected there, with `LIKELY` standard
    deviations of doubt.  As long as nothing was adjusted: the marks alone.
    """
    machine, belief = session.machine, session.belief
    adjusted = belief.adjustments > 0
    first = first_round(session.effective) if adjusted else {}
    newest = newest_at_head(belief.round_sightings)
    if not first and not newest:
        return None
    places = {s.name: (s.x, s.y) for s in machine.stations}
    places |= {name: (s.x, s.y) for name, s in (first | newest).items()}
    stations = [_compared(name, first.get(name), newest.get(name)) for name in places]
    if adjusted:
        stations = [_with_expected(session, s, *places[s.name]) for s in stations]
    return CompareScene(machine.aperture.head, machine.tolerance, tuple(stations), adjusted)


def first_round(events: Iterable[Event]) -> dict[str, Sighting]:
    """Station to what its last pulse at the head showed before anything was adjusted."""
    seen = []
    for event in events:
        match event:
            case Mark():
                seen.append(sighting_of(event, TUNING))
            case Miss():
                seen.append(Sighting(event.station, event.x, event.y, event.target))
            case Lock():
                break
            case Turn() if any(event.screws.values()):
                break
            case Shift() if event.up or event.right or event.back:
                break
    return newest_at_head(seen)


def newest_at_head(sightings: Iterable[Sighting]) -> dict[str, Sighting]:
    """Station to the last sighting there on the head's tape."""
    return {s.station: s for s in sightings if s.target == "head"}


def _compared(name: str, first: Sighting | None, newest: Sighting | None) -> Compared:
    return Compared(
        name,
        _offset(first),
        _offset(newest),
        missed_before=first is not None and first.missed,
        missed_after=newest is not None and newest.missed,
    )


def _offset(seen: Sighting | None) -> tuple[float, float] | None:
    return (seen.u, seen.v) if seen is not None and seen.u is not None and seen.v is not None else None


def _with_expected(session: Session, station: Compared, x: float, y: float) -> Compared:
    """The station with what is expected of its next mark, if it has none and none was missed."""
    if station.after or station.missed_after:
        return station
    mark = session.belief.expected(x, y)
    across, along = mark.axes_sd
    return Compared(
        station.name,
        station.before,
        expected=(mark.u, mark.v),
        doubt=(LIKELY * across, LIKELY * along),
        missed_before=station.missed_before,
    )
