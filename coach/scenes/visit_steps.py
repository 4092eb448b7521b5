"""Which picture belongs to a step of a visit's other parts."""

from typing import Literal

from coach.pictures.path import PathScene
from coach.pictures.view import Scene
from coach.scenes.of_cuts import cuts_scene
from coach.scenes.of_visit import bed_gaps_scene, optics_scene
from coach.session.part_events import Item
from coach.session.session import Session
from coach.steps.stages.cleaning import ORDER
from coach.steps.step import Step
from coach.steps.visit_progress import since_anew
from coach.triage.cleaned import Optic

PLACES: dict[str, Literal[1, 2, 3]] = {"mirror 1": 1, "mirror 2": 2, "mirror 3": 3, "lens": 3}
"""Which mirror an optic is, or is next to."""


def visit_scene(session: Session, step: Step) -> Scene | None:
    """The picture for a step of these parts, or None where words are enough.  Raises ValueError for other steps."""
    match step.kind.picture:
        case "check":
            return bed_gaps_scene(session) if step.item == "bed" else None
        case "optics":
            return optics_scene(session, there(session), step.item or "")
        case "cuts":
            return cuts_scene(session, step)
        case _:
            raise ValueError(f"{step.kind.picture!r} is no picture of these parts")


def optic_place(session: Session, step: Step) -> PathScene | None:
    """Where on the machine the optic is that a step is about; None where that differs from machine to machine."""
    bed, mirror = session.machine.bed, PLACES.get(step.item or "")
    if mirror is None:
        return None
    return PathScene(bed.width, bed.depth, session.machine.path.side, (bed.width / 2, bed.depth / 2), mirror)


def there(session: Session) -> tuple[Optic, ...]:
    """The optics of this machine: all but those of which it was said that there are none."""
    events = since_anew(session.effective, "clean")
    missing = {event.name for event in events if isinstance(event, Item) and event.part == "clean"}
    return tuple(optic for optic in ORDER if optic not in missing)
