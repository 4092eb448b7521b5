"""How far the job is: counts, the expected worst offset, and the stages behind us."""

from coach.advice.advice import Left
from coach.advice.outlook import outlook
from coach.advice.remaining import remaining
from coach.session.events import Pulse
from coach.session.session import Session
from coach.steps.beam_stages import BEAM_STAGES
from coach.steps.keys import StepKey
from coach.steps.locks import beam_locks, lock_words
from coach.steps.pace import minutes_words, pace, time_left
from coach.steps.step import Standing, Step
from coach.steps.visit import visit_standing


def standing(session: Session, step: Step) -> Standing:
    """Where the session stands at this step."""
    events = session.effective
    belief = session.belief
    now = step.advice.now if step.advice else outlook(belief.layout, belief.settled)
    left = step.advice.left if step.advice else remaining(belief, now)
    current = stage_index(step.key)
    visit = visit_standing(session)
    if visit is not None and not visit.on_the_beam:
        left = Left(0.0, 0.0)
    return Standing(
        pulses=sum(isinstance(event, Pulse) for event in events),
        rounds=belief.rounds,
        worst=now.worst,
        chance=now.chance,
        left=left,
        stages=tuple((stage.name, index < current) for index, stage in enumerate(BEAM_STAGES)),
        time=time_left(pace(session.events), left),
        locks=beam_locks(session) if visit is None or visit.on_the_beam else (),
        visit=visit,
    )


def stage_index(key: StepKey) -> int:
    """Which stage of the beam's path a step belongs to, from 0; past the last for a step of another part."""
    found = (index for index, stage in enumerate(BEAM_STAGES) if any(kind.key == key for kind in stage.steps))
    return next(found, len(BEAM_STAGES))


def left_words(left: Left) -> str:
    """What probably remains: "about 9 pulses and 2 rounds of adjusting"."""
    pulses, rounds = max(1, round(left.pulses)), round(left.rounds)
    words = f"about {pulses} pulse{'s' if pulses > 1 else ''}"
    return f"{words} and {rounds} round{'s' if rounds > 1 else ''} of adjusting" if rounds else words


def remaining_words(stands: Standing) -> str:
    """The same with the time it takes at this person's pace, and the lock nuts; empty when nothing is left."""
    if stands.left.pulses < 1:
        return lock_words(stands.locks)
    told = ", ".join(filter(None, (left_words(stands.left), minutes_words(stands.time))))
    return f"{told}; {lock_words(stands.locks)}" if stands.locks else told
