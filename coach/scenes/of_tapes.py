"""Every station's tape by itself, at one scale: its marks numbered as they were entered, the newest solid."""

from collections.abc import Iterable

from coach.pictures.aperture import ApertureScene
from coach.pictures.marks_shown import MarkShown
from coach.session.events import Event, Mark
from coach.session.session import Session

WIDTH = 2.0
"""mm; so wide a mark is drawn whose width was not measured."""
ROOM = 1.25
"""So many times as far as the farthest mark the pictures reach: its number has to find room beside it."""
MOST = 3
"""So many marks of one station at the most: the first ones' numbers would only cover each other."""


def tapes(session: Session) -> tuple[tuple[str, ApertureScene], ...]:
    """Station and its tape on the head's opening, those in the machine's list first; none without a mark.

    The newest mark is solid, the first one and the one before the newest are hollow.
    """
    machine, marks = session.machine, _by_station(session.effective)
    names = [place.name for place in machine.stations if place.name in marks]
    names += [name for name in marks if name not in names]
    scenes = [
        (name, ApertureScene(machine.aperture.head, machine.tape.radius, machine.tolerance, _shown(marks[name])))
        for name in names
    ]
    reach = max((ROOM * scene.reach() for _, scene in scenes), default=0.0)
    return tuple((name, _at_scale(scene, reach)) for name, scene in scenes)


def _by_station(events: Iterable[Event]) -> dict[str, list[Mark]]:
    found: dict[str, list[Mark]] = {}
    for event in events:
        if isinstance(event, Mark) and event.target == "head":
            found.setdefault(event.station, []).append(event)
    return found


def _shown(marks: list[Mark]) -> tuple[MarkShown, ...]:
    *older, newest = marks
    if len(older) >= MOST:
        older = [older[0], *older[2 - MOST :]]
    return (
        *(MarkShown(m.u, m.v, "before", m.width or WIDTH, str(m.id)) for m in older),
        MarkShown(newest.u, newest.v, "blob", newest.width or WIDTH, str(newest.id)),
    )


def _at_scale(scene: ApertureScene, reach: float) -> ApertureScene:
    rim = 1.06 * scene.aperture / 2
    return ApertureScene(
        scene.aperture, scene.readable, scene.tolerance, scene.marks, view_radius=min(max(reach, rim), scene.whole)
    )
