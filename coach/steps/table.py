"""The job as one table: its stages in order, their steps, and what each of them says, asks, shows and does."""

from collections.abc import Mapping

from coach.steps.cautions import Caution
from coach.steps.keys import StepKey
from coach.steps.kind import StepKind
from coach.steps.parts.table import STAGES

STEPS: Mapping[str, StepKind] = {kind.key: kind for stage in STAGES for kind in stage.steps}
"""Every step of every part by its key."""

CONFIRMS: dict[str, str] = {gate.name: gate.confirm for kind in STEPS.values() for gate in kind.gates}
"""What acknowledging a gate means, by the gate's name."""


def kind_of(key: str) -> StepKind:
    """What the table says of a step.  Raises ValueError for a key that is none."""
    if key not in STEPS:
        raise ValueError(f"there is no step {key!r} in the table of steps")
    return STEPS[key]


def cautions_for(key: StepKey) -> tuple[Caution, ...]:
    """The step's own cautions, then the ones that are always shown."""
    return kind_of(key).cautions
