"""What lies below mirror 3 as pictures: the head from two sides, the tape under the nozzle, the card, the pointer."""

from coach.head.belief import HeadBelief
from coach.head.marks import HeadMark
from coach.head.outlook import HeadOutlook, outlook, radius_at_lens
from coach.head.pointer import PointerSpot, standing_spots
from coach.optics.below import cone_radius
from coach.pictures.bed_card import CardScene
from coach.pictures.head_shown import HeadShown, Lens, Part
from coach.pictures.head_views import HeadScene
from coach.pictures.nozzle import NozzleScene
from coach.pictures.pointer_spots import PointerScene
from coach.pictures.view import Scene
from coach.session.head_events import Pointer
from coach.session.session import Session
from coach.steps.about import BelowShot
from coach.steps.step import Step

VAGUE_LEAN, VAGUE_PLACE = 0.7, 0.5
"""Degrees, and mm at the nozzle, of doubt (one standard deviation) beyond which nothing was measured yet."""


def below_scene(session: Session, step: Step) -> Scene:
    """The tape or the card of the step's pulse, with what was marked on it in this round."""
    shot = step.below
    if step.pointer is not None or shot is None or shot.target == "pointer":
        return pointer_scene(session, shot)
    return nozzle_scene(session) if shot.target == "nozzle" else card_scene(session, shot)


def head_scene(session: Session, step: Step) -> HeadScene:
    """The head from two sides, with the part in question, as far as the beam there is known."""
    belief = session.head_belief
    now = step.head.now if step.head is not None else outlook(belief)
    return HeadScene(_shown(belief, now), session.machine.path.side, _part(step))


def head_as_believed(session: Session) -> HeadScene:
    """The head from two sides, as far as the beam there is known."""
    belief = session.head_belief
    return HeadScene(_shown(belief, outlook(belief)), session.machine.path.side, "")


def _part(step: Step) -> Part:
    """What is worked on at the step, or named by it."""
    if step.screw is not None:
        return "mirror 3"
    moved = step.shift.part if step.shift is not None else step.head.part if step.head is not None else ""
    if moved in ("lens", "head"):
        return "lens" if moved == "lens" else "head"
    if step.head is None:
        return ""
    if step.head.cause in ("nozzle", "lens"):
        return "nozzle" if step.head.cause == "nozzle" else "lens"
    return "mirror 3" if step.head.turns else ""


def _shown(belief: HeadBelief, now: HeadOutlook) -> HeadShown:
    lens, w = belief.layout.lens, radius_at_lens(belief)
    leans, passes = max(now.lean_sd) < VAGUE_LEAN, max(now.nozzle_sd) < VAGUE_PLACE
    return HeadShown(
        Lens(lens.focal, lens.nozzle_distance, lens.nozzle, w),
        lean=now.lean if leans else None,
        give=2 * max(now.lean_sd) if leans else None,
        nozzle=now.nozzle if passes else None,
        slope=now.slope if max(now.slope_sd) < VAGUE_LEAN else None,
        clipped=now.clipped if passes else None,
        most=belief.tuning.head.lean,
    )


def nozzle_scene(session: Session) -> NozzleScene:
    """The tape under the nozzle with the newest mark of this round."""
    belief = session.head_belief
    lens, w = belief.layout.lens, radius_at_lens(belief)
    newest = next((mark for mark in reversed(belief.marks) if mark.target == "nozzle"), None)
    seen = newest if newest is not None and newest.seen else None
    return NozzleScene(
        lens.nozzle,
        belief.tuning.head.nozzle,
        mark=_flat(seen) if seen else None,
        beam=cone_radius(w, lens.focal, lens.nozzle_distance) if lens.nozzle_distance > 0 else None,
        clipped=outlook(belief).clipped if seen else None,
        nothing_came=newest is not None and not newest.seen,
    )


def card_scene(session: Session, shot: BelowShot) -> CardScene:
    """The card with this round's marks at the highest and the lowest height, lens as at the step's pulse."""
    return card_marked(session, lens=shot.lens, heights=(shot.lowered,))


def card_marked(session: Session, *, lens: bool, heights: tuple[float, ...] = ()) -> CardScene:
    """The same of any lens; `heights`: mm by which the bed is lowered for what is still to be marked."""
    belief = session.head_belief
    marks = sorted(belief.on_card(lens=lens), key=lambda mark: mark.lowered)
    most = belief.tuning.head.lean
    if not marks:
        return CardScene(upper=min(heights, default=0.0), lens=lens, most=most)
    high, low = marks[0], marks[-1]
    upper = min(high.lowered, *heights) if heights else high.lowered
    apart = max(low.lowered, *heights) - upper if heights else low.lowered - upper
    return CardScene(
        _flat(high) if high.lowered == upper else None,
        _flat(low) if low.lowered == upper + apart > upper else None,
        lowered=apart,
        upper=upper,
        lens=lens,
        most=most,
    )


def pointer_scene(session: Session, shot: BelowShot | None) -> PointerScene:
    """Where the pointer's spot lay beside the mark at both heights, since its screws were last turned."""
    tuning = session.head_belief.tuning.head
    told = [event for event in session.effective if isinstance(event, Pointer)]
    spots = standing_spots(tuple(PointerSpot(e.right, e.back, e.lowered) for e in told), tuning)
    heights = sorted({*spots, *([shot.lowered] if shot is not None else [])}) or [0.0]
    places = [
        (spot.right, spot.back) if (spot := spots.get(height)) else None for height in (heights[0], heights[-1])
    ]
    apart = heights[-1] - heights[0]
    return PointerScene(places[0], places[1] if apart else None, apart, tuning.pointer)


def _flat(mark: HeadMark) -> tuple[float, float]:
    x, y = mark.place
    return float(x), float(y)
