"""Mirror 3, lens and nozzle: an upright beam through the nozzle's middle."""

from typing import assert_never

from coach.describing.at_need import head_known
from coach.head.advice import HeadAdvice
from coach.session.part_events import Item
from coach.session.session import Session
from coach.steps.about import About, BelowShot
from coach.steps.bumped import touched_since_end
from coach.steps.head_deeds import UNDESCRIBED
from coach.steps.open_below import open_below
from coach.steps.part import Laser, PartKind
from coach.steps.stages.below import BELOW
from coach.steps.stages.head import HEAD_STAGE


def _where(session: Session) -> About:
    """What is open below the head; where nothing is, what the advice says."""
    if not head_known(session.machine) and not _goes_without(session):
        return About(key="head-unknown", part="head")
    advice = session.head_advice()
    shot = BelowShot(advice.target, advice.lowered, advice.lens) if advice.target else None
    return open_below(session.effective, "head", shot) or _advised(advice, shot)


def _advised(advice: HeadAdvice, shot: BelowShot | None) -> About:
    match advice.kind:
        case "shoot":
            assert shot is not None
            return About(
                key="bed-card" if shot.target == "bed" else "nozzle-tape", part="head", head=advice, below=shot
            )
        case "turn" | "shift":
            return About(key="head-adjust", part="head", head=advice)
        case "done":
            return About(key="head-done", part="head", head=advice)
        case "stop":
            return About(key="head-stop", part="head", head=advice)
        case _:
            assert_never(advice.kind)


def _goes_without(session: Session) -> bool:
    """Whether the person goes on without mirror 3's screws; a practice machine is as it is."""
    said = any(isinstance(e, Item) and (e.part, e.name) == ("head", UNDESCRIBED) for e in session.effective)
    return said or session.practice is not None


def _laser(about: About) -> Laser:
    return "idle" if about.key == "head-unknown" else "pulses"


HEAD_PART = PartKind(
    name="head",
    title="Head, lens and nozzle",
    about="Tape under the nozzle and a card at two heights tell whether the beam stands upright and passes the "
    "nozzle's middle; mirror 3's screws and the lens's place put it right.",
    laser="pulses",
    minutes=10,
    needs="a card, tape, a long square, callipers, steel or tile for the bed, a block where it has no lift, the keys "
    "for mirror 3, a clean tissue",
    stages=(BELOW, HEAD_STAGE),
    where=_where,
    counts_no_more=lambda session: touched_since_end("head", session),
    laser_at=_laser,
)
