"""How far the job is: counts, the expected worst offset, and the stages behind us."""

from coach.advice.advice import Left
from coach.advice.outlook import outlook
from coach.advice.remaining import remaining
from coach.session.events import Lock, Pulse, Turn
from coach.session.session import Session
from coach.steps.pace import minutes_words, pace, time_left
from coach.steps.step import Standing, Step
from coach.steps.table import STAGES, stage_index


def standing(session: Session, step: Step) -> Standing:
    """Where the session stands at this step."""
    events = session.effective
    belief = session.belief
    now = step.advice.now if step.advice else outlook(belief.layout, belief.settled)
    left = step.advice.left if step.advice else remaining(belief, now)
    current = stage_index(step.key)
    return Standing(
        pulses=sum(isinstance(event, Pulse) for event in events),
        rounds=belief.rounds,
        worst=now.worst,
        chance=now.chance,
        left=left,
        stages=tuple((stage.name, index < current) for index, stage in enumerate(STAGES)),
        time=time_left(pace(session.events), left),
        locks=loose_locks(session),
    )


def loose_locks(session: Session) -> tuple[int, ...]:
    """The mirrors that were turned and whose lock nuts nobody has said to be tightened since."""
    loose: set[int] = set()
    for event in session.effective:
        if isinstance(event, Turn):
            loose.add(event.mirror)
        elif isinstance(event, Lock):
            loose.discard(event.mirror)
    return tuple(sorted(loose))


def lock_words(mirrors: tuple[int, ...]) -> str:
    """What the lock nuts still ask for: "lock nuts of mirrors 1 and 2, then a mark at each station"."""
    if not mirrors:
        return ""
    which = f"mirror{'s' if len(mirrors) > 1 else ''} {' and '.join(map(str, mirrors))}"
    return f"lock nuts of {which}, then a mark at each station"


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
