"""What comes after an adjustment, said while it is still to be made."""

from typing import assert_never

from coach.advice.advice import Advice
from coach.advice.decide import advise
from coach.belief import belief as beliefs
from coach.belief.belief import Belief
from coach.head import belief as heads
from coach.head.advice import HeadAdvice
from coach.head.belief import HeadBelief
from coach.head.decide import head_advice
from coach.steps.about import ScrewTask, ShiftTask
from coach.steps.words import named


def after_screw(belief: Belief, task: ScrewTask) -> str:
    """What follows this screw: the next one, or what the advice probably is after the last."""
    return _next_screw(task) or _then(advise(beliefs.turn(belief, task.mirror, {task.screw: task.turns})))


def after_shift(belief: Belief, task: ShiftTask) -> str:
    """What probably follows this shift."""
    return _then(advise(beliefs.shift(belief, task.part, task.up, task.right, task.back)))


def after_head_screw(belief: HeadBelief, task: ScrewTask) -> str:
    """The same of a screw of mirror 3."""
    return _next_screw(task) or _then(head_advice(heads.turn(belief, {task.screw: task.turns})))


def after_head_shift(belief: HeadBelief, task: ShiftTask) -> str:
    """The same where lens or head are moved for what lies below."""
    return _then(head_advice(heads.shift(belief, task.part, task.up, task.right, task.back)))


def _next_screw(task: ScrewTask) -> str:
    return f"Screw {task.number} of {task.of}: then the next one." if task.number < task.of else ""


def _then(advice: Advice | HeadAdvice) -> str:
    match advice.kind:
        case "shoot":
            return f"Then: {_shot(advice)}."
        case "shift":
            return f"Then: move {named(advice.part)}."
        case "turn":
            return "Then: turn on."
        case "done" | "stop":
            return ""
        case _:
            assert_never(advice.kind)


def _shot(advice: Advice | HeadAdvice) -> str:
    if isinstance(advice, Advice):
        return f"a pulse at {advice.stations[0].name}"
    return f"a mark {'on the card' if advice.target == 'bed' else 'under the nozzle'}"
