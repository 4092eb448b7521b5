"""From a session to the pictures of a visit's other parts: bed, optics, head, nozzle, card and pointer.

What is drawn as known was measured or is believed with little doubt; everything else stays open.
"""

from coach.head.marks import HeadMark
from coach.head.outlook import HeadOutlook, outlook, radius_at_lens
from coach.machine import Machine
from coach.optics.below import clipped_by_nozzle, cone_radius
from coach.optics.focus import depth_of_focus
from coach.pictures.bed_card import CardScene
from coach.pictures.bed_gaps import BedGapsScene
from coach.pictures.flat import Flat, off
from coach.pictures.head_shown import HeadShown, Lens
from coach.pictures.head_views import HeadScene
from coach.pictures.nozzle import NozzleScene
from coach.pictures.optic_faces import OpticShown
from coach.pictures.optics_path import OpticsScene
from coach.pictures.pointer_spots import PointerScene
from coach.session.head_events import Pointer
from coach.session.session import Session
from coach.triage.evidence import MIRRORS, Optic
from coach.tuning import Tuning

LIKELY = 2.0
"""Standard deviations that are said as "give or take"."""
KNOWN_LEAN, KNOWN_NOZZLE = 1.0, 0.8
"""Degrees and mm of such a doubt from which on nothing is drawn: it would show no more than a guess."""


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
    """These optics, in the order in which the beam meets them, as they looked last; `now`: the one to be cleaned."""
    cared = session.cared()
    order: tuple[Optic, ...] = ("combiner", *MIRRORS, "lens")
    shown = tuple(OpticShown(name, cared.get(name), name == now) for name in order if name in optics)
    return OpticsScene(shown, session.machine.path.side)


# -- the head -------------------------------------------------------------------------------------


def head_scene(session: Session) -> HeadScene:
    """Lean and nozzle as believed, as far as they are known; what is surely out stands out."""
    belief = session.head_belief
    now, lens = outlook(belief), belief.layout.lens
    shown = HeadShown(
        Lens(lens.focal, lens.nozzle_distance, lens.nozzle, radius_at_lens(belief)),
        now.lean if _known(now.lean_sd, KNOWN_LEAN) else None,
        LIKELY * max(now.lean_sd),
        now.nozzle if _known(now.nozzle_sd, KNOWN_NOZZLE) else None,
        now.slope if _known(now.slope_sd, KNOWN_LEAN) else None,
        _clipped(now),
        most=belief.tuning.head.lean,
    )
    return HeadScene(shown, session.machine.path.side, now.suspect)


def _known(sd: Flat, most: float) -> bool:
    return LIKELY * max(sd) <= most


def _clipped(now: HeadOutlook) -> float | None:
    return now.clipped if _known(now.nozzle_sd, KNOWN_NOZZLE) else None


def nozzle_scene(session: Session) -> NozzleScene:
    """The tape under the nozzle with this round's newest mark."""
    belief = session.head_belief
    lens, w = belief.layout.lens, radius_at_lens(belief)
    mark = next((mark for mark in reversed(belief.marks) if mark.target == "nozzle"), None)
    at = _place(mark) if mark is not None else None
    clipped = clipped_by_nozzle(lens.nozzle, w, lens.focal, lens.nozzle_distance, off(at)) if at is not None else None
    return NozzleScene(
        lens.nozzle,
        belief.tuning.head.nozzle,
        at,
        cone_radius(w, lens.focal, lens.nozzle_distance),
        clipped,
        nothing_came=mark is not None and not mark.seen,
    )


def card_scene(session: Session, *, lens: bool, lowered: float | None = None) -> CardScene:
    """This round's marks on the card with the lens in or out; `lowered`: the height of the next one, mm."""
    belief = session.head_belief
    newest = {mark.lowered: mark for mark in belief.on_card(lens=lens)}  # a later one takes an earlier one's place
    heights = sorted({*newest, *(() if lowered is None else (lowered,))})
    if not heights:
        return CardScene(lens=lens, most=belief.tuning.head.lean)
    upper, under = heights[0], heights[-1]
    high, low = newest.get(upper), newest.get(under) if under > upper else None
    return CardScene(
        _place(high) if high is not None else None,
        _place(low) if low is not None else None,
        under - upper,
        upper,
        lens,
        belief.tuning.head.lean,
    )


def _place(mark: HeadMark) -> Flat | None:
    return (mark.right, mark.back) if mark.right is not None and mark.back is not None else None


def pointer_scene(session: Session, lowered: float | None = None) -> PointerScene:
    """Where the spot was seen last at each of two heights; `lowered`: the height that is looked at next, mm."""
    newest = {each.lowered: (each.right, each.back) for each in session.effective if isinstance(each, Pointer)}
    heights = sorted({*newest, *(() if lowered is None else (lowered,))})
    tolerance = session.head_belief.tuning.head.pointer
    if not heights:
        return PointerScene(tolerance=tolerance)
    upper, under = heights[0], heights[-1]
    low = newest.get(under) if under > upper else None
    return PointerScene(newest.get(upper), low, under - upper, tolerance)
