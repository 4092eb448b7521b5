"""Gates: what a person acknowledges before the coach goes on; the table of steps says which step asks them."""

from collections.abc import Collection
from typing import assert_never

from coach.steps.keys import Asked, GateName, StepKey
from coach.steps.kind import Gate
from coach.steps.table import STEPS

_ASKING: dict[GateName, tuple[StepKey, Gate]] = {
    gate.name: (kind.key, gate) for kind in STEPS.values() for gate in kind.gates
}
_OF_A_MOMENT: tuple[Asked, ...] = ("after a flame", "before the tube")
"""Gates that are asked where something happened, and not before the job goes on."""

GATES = tuple(gate for _, gate in _ASKING.values() if gate.asked not in _OF_A_MOMENT)
"""What is asked before the first pulse, in order."""

FLAME_OUT = next(gate for _, gate in _ASKING.values() if gate.asked == "after a flame")
"""What is asked after a flame, before anything else."""

TUBE_OFF = next(gate for _, gate in _ASKING.values() if gate.asked == "before the tube")
"""What is asked each time before hands go to the tube."""

CONFIRMS: dict[str, str] = {name: gate.confirm for name, (_, gate) in _ASKING.items()}
"""What acknowledging a gate means, by the gate's name."""


def asking_step(gate: Gate) -> StepKey:
    """The step that asks a gate."""
    return _ASKING[gate.name][0]


def missing_gate(
    done_ever: Collection[str], done_since_opening: Collection[str], done_since_plugged_in: Collection[str]
) -> Gate | None:
    """The first gate still to be acknowledged, or None."""
    given = (done_ever, done_since_opening, done_since_plugged_in)
    return next((gate for _, gate in _ASKING.values() if not _acknowledged(gate, *given)), None)


def _acknowledged(
    gate: Gate, ever: Collection[str], since_opening: Collection[str], since_plugged_in: Collection[str]
) -> bool:
    match gate.asked:
        case "every time":
            return gate.name in since_opening
        case "before the beam":
            return gate.name in since_plugged_in
        case "once":
            return gate.name in ever
        case "after a flame" | "before the tube":  # asked by what happened, see `coach.steps.situation`
            return True
        case _:
            assert_never(gate.asked)
