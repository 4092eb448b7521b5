"""What comes after an adjustment, said while it is still to be made."""

from typing import assert_never

from coach.advice.decide import advise
from coach.belief import belief as beliefs
from coach.belief.belief import Belief
from coach.steps.about import ScrewTask, ShiftTask
from coach.steps.words import named


def after_screw(belief: Belief, task: ScrewTask) -> str:
    """What follows this screw: the next one, or what the advice probably is after the last."""
    if task.number < task.of:
        return f"Screw {task.number} of {task.of}: then the next one."
    return _next_words(beliefs.turn(belief, task.mirror, {task.screw: task.turns}))


def after_shift(belief: Belief, task: ShiftTask) -> str:
    """What probably follows this shift."""
    return _next_words(beliefs.shift(belief, task.part, task.up, task.right, task.back))


def _next_words(belief: Belief) -> str:
    advice = advise(belief)
    match advice.kind:
        case "shoot":
            return f"Then: a pulse at {advice.stations[0].name}."
        case "shift":
            return f"Then: move {named(advice.part)}."
        case "turn":
            return "Then: turn on."
        case "done" | "stop":
            return ""
        case _:
            assert_never(advice.kind)
