"""The job as one table: its stages in order, their steps, and what each of them says, asks, shows and does."""

from collections.abc import Mapping
from typing import assert_never

from coach.advice.advice import Advice
from coach.advice.reasons import NothingSeen, NothingSeenWide
from coach.steps.cautions import Caution
from coach.steps.keys import StepKey
from coach.steps.kind import Stage, StepKind
from coach.steps.stages.check import CHECK
from coach.steps.stages.done import DONE
from coach.steps.stages.marks import MARKS
from coach.steps.stages.safety import SAFETY
from coach.steps.stages.tape import TAPE
from coach.steps.stages.turns import TURNS

STAGES: tuple[Stage, ...] = (CHECK, SAFETY, TAPE, MARKS, TURNS, DONE)
"""The stages of the job, in order."""

STEPS: Mapping[str, StepKind] = {kind.key: kind for stage in STAGES for kind in stage.steps}
"""Every step by its key."""


def kind_of(key: str) -> StepKind:
    """What the table says of a step.  Raises ValueError for a key that is none."""
    if key not in STEPS:
        raise ValueError(f"there is no step {key!r} in the table of steps")
    return STEPS[key]


def stage_index(key: StepKey) -> int:
    """Which stage of the job a step belongs to, from 0."""
    return next(index for index, stage in enumerate(STAGES) if any(kind.key == key for kind in stage.steps))


def cautions_for(key: StepKey) -> tuple[Caution, ...]:
    """The step's own cautions, then the ones that are always shown."""
    return kind_of(key).cautions


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
