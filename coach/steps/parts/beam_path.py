"""The beam's path: every station centred, mirrors 1 and 2 well hit."""

from dataclasses import replace
from typing import assert_never

from coach.advice.advice import Advice
from coach.advice.reasons import NothingSeen, NothingSeenWide
from coach.advice.shots import expected_shot
from coach.advice.silence import dosed
from coach.session.session import Session
from coach.steps.about import About
from coach.steps.beam_stages import BEAM_STAGES
from coach.steps.bumped import touched_since_end
from coach.steps.check_up import marks_only, next_mark
from coach.steps.keys import StepKey
from coach.steps.part import Laser, PartKind
from coach.steps.situation import situation


def along_the_beam(session: Session) -> About:
    """Where the events leave the beam's path; what nothing is open for, the advice says."""
    where = situation(session.effective)
    return _with_expectation(session, where) if where is not None else _advised(session)


def _advised(session: Session) -> About:
    """Nothing is open: what the advice says; in a check-up only marks, then its own end."""
    advice = next_mark(session) if marks_only(session) else session.advice()
    if advice is None:
        return About(key="check-up", part="beam path")
    return About(key=advised_step(advice), advice=advice, shot=advice.stations[0] if advice.stations else None)


def _with_expectation(session: Session, where: About) -> About:
    """Where a mark is asked for, with where it is expected."""
    if where.shot is None or where.gate is not None:
        return where
    shot = expected_shot(session.belief, where.shot)
    told = where.key == "pulse" and (shot.ms, shot.power, shot.layers) == (None, None, None)
    return replace(where, shot=dosed(session.belief, shot) if told else shot)


def advised_step(advice: Advice) -> StepKey:
    """The step that advice leads to."""
    match advice.kind:
        case "shoot":
            head = advice.stations[0].target == "head"
            if isinstance(advice.reason, NothingSeen | NothingSeenWide):
                return "nothing" if head else "nothing-mirror"
            return "go" if head else "go-mirror"
        case "turn":
            return "adjust"
        case "shift":
            return "adjust-tube" if advice.part == "tube" else "adjust-part"
        case "done" | "stop":
            return advice.kind
        case _:
            assert_never(advice.kind)


def _laser(about: About) -> Laser:
    """At the tube it is unplugged, by a gate of its own; after that it is led on again like anywhere."""
    return "untouched" if about.key in ("unplug", "move-tube") else "pulses"


BEAM_PATH = PartKind(
    name="beam path",
    title="Beam path",
    about="Short pulses on tape, station by station, until every mark is centred.",
    laser="pulses",
    minutes=30,
    needs="masking tape, callipers, the keys for the screws, a pen",
    stages=BEAM_STAGES,
    where=along_the_beam,
    counts_no_more=lambda session: touched_since_end("beam path", session),
    laser_at=_laser,
)
