"""Gates: what a person acknowledges before the coach goes on; the table of steps says which step asks them."""

from collections.abc import Collection
from typing import assert_never

from coach.steps.keys import GateName, StepKey
from coach.steps.kind import Gate
from coach.steps.table import STEPS

_ASKING: dict[GateName, tuple[StepKey, Gate]] = {
    gate.name: (kind.key, gate) for kind in STEPS.values() for gate in kind.gates
}

GATES = tuple(gate for _, gate in _ASKING.values() if gate.asked != "after a flame")
"""What is asked before the first pulse, in order."""

FLAME_OUT = next(gate for _, gate in _ASKING.values() if gate.asked == "after a flame")
"""What is asked after a flame, before anything else."""

CONFIRMS: dict[str, str] = {name: gate.confirm for name, (_, gate) in _ASKING.items()}
"""What acknowledging a gate means, by the gate's name."""


def asking_step(gate: Gate) -> StepKey:
    """The step that asks a gate."""
    return _ASKING[gate.name][0]


def missing_gate(done_ever: Collection[str], done_since_opening: Collection[str]) -> Gate | None:
    """The first gate still to be acknowledged, or None."""
    gates = (gate for _, gate in _ASKING.values())
    return next((gate for gate in gates if not _acknowledged(gate, done_ever, done_since_opening)), None)


def _acknowledged(gate: Gate, ever: Collection[str], since_opening: Collection[str]) -> bool:
    match gate.asked:
        case "every time":
            return gate.name in since_opening
        case "once":
            return gate.name in ever
        case "after a flame":  # asked by the flame itself, before all others
            return True
        case _:
            assert_never(gate.asked)
