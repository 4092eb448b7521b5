"""From a session to the pictures of a visit's checks, cuts and cleaning: what was entered last."""

from coach.machine import Machine
from coach.optics.focus import depth_of_focus
from coach.pictures.bed_gaps import BedGapsScene
from coach.pictures.optic_faces import OpticShown
from coach.pictures.optics_path import OpticsScene
from coach.session.session import Session
from coach.steps.stages.cleaning import ORDER
from coach.steps.visit_progress import part_now
from coach.triage.cleaned import Optic
from coach.tuning import Tuning

# -- the bed --------------------------------------------------------------------------------------


def bed_gaps_scene(session: Session, asked: str = "") -> BedGapsScene:
    """The gaps at the corners as they were measured last; `asked` is the corner that is measured now."""
    machine, found = session.machine, session.checks().get("bed")
    return BedGapsScene(
        machine.bed.width,
        machine.bed.depth,
        dict(found.figures) if found is not None else {},
        harmless_gap(machine, session.belief.tuning),
        asked,
    )


def harmless_gap(machine: Machine, tuning: Tuning) -> float:
    """mm that gaps may differ by: half the depth of focus of the lens as described, or of a usual one."""
    focal = machine.lens.focal if machine.lens is not None else tuning.beam.focal
    return depth_of_focus(focal, tuning.cutting.radius, tuning.cutting.m2) / 2


# -- cleaning -------------------------------------------------------------------------------------


def optics_scene(session: Session, optics: tuple[Optic, ...], now: str = "") -> OpticsScene:
    """These optics, in the order in which the beam meets them, as they looked last; `now`: the one to be cleaned.

    Those that nobody looked at are to do only while the optics are cleaned one after the other.
    """
    cared, asked = session.cared(), part_now(session.effective) == "clean"
    shown = tuple(OpticShown(name, cared.get(name), name == now, asked) for name in ORDER if name in optics)
    return OpticsScene(shown, session.machine.path.side)
