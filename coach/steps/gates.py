"""Gates: what a person acknowledges before the coach goes on; the table of steps says which step asks them."""

from collections.abc import Collection, Sequence
from typing import assert_never

from coach.steps.beam_stages import BEAM_STAGES
from coach.steps.keys import GateName, StepKey
from coach.steps.kind import Gate
from coach.steps.stages.attended import ATTENDED_CUTS

_ASKING: dict[GateName, tuple[StepKey, Gate]] = {
    gate.name: (kind.key, gate)
    for stage in (*BEAM_STAGES, ATTENDED_CUTS)
    for kind in stage.steps
    for gate in kind.gates
}
FLAME_OUT = next(gate for _, gate in _ASKING.values() if gate.asked == "after a flame")
"""What is asked after a flame, before anything else."""

TUBE_OFF = next(gate for _, gate in _ASKING.values() if gate.asked == "before the tube")
"""What is asked each time before hands go to the tube."""

_OF_OTHER_PARTS: tuple[GateName, ...] = ("question", "clean")
"""Gates that stand for a whole part of the visit where a session has no other than the beam's path."""


def missing_rules(done_since_opening: Collection[str]) -> Gate | None:
    """The rules, where they were not acknowledged since the program was opened: they come before any part."""
    rules = _ASKING["rules"][1]
    return None if rules.name in done_since_opening else rules


def asking_step(gate: Gate) -> StepKey:
    """The step that asks a gate."""
    return _ASKING[gate.name][0]


def missing_gate(
    done_ever: Collection[str],
    done_since_opening: Collection[str],
    done_since_plugged_in: Collection[str],
    *,
    visit: bool = False,
) -> Gate | None:
    """The first gate still to be acknowledged, or None; in a `visit` other parts see to what some of them ask."""
    given = (done_ever, done_since_opening, done_since_plugged_in)
    asked = (gate for gate in GATES if not (visit and gate.name in _OF_OTHER_PARTS))
    return next((gate for gate in asked if not _acknowledged(gate, *given)), None)


def first_missing(names: Sequence[GateName], done_since_plugged_in: Collection[str]) -> Gate | None:
    """The first of these gates that was not acknowledged since then."""
    return next((_ASKING[name][1] for name in names if name not in done_since_plugged_in), None)


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
        case (
            "after a flame" | "before the tube" | "at a switch" | "before cutting"
        ):  # asked by what happened, see `coach.steps.situation` and `coach.steps.visit`
            return True
        case _:
            assert_never(gate.asked)


GATES = tuple(gate for _, gate in _ASKING.values() if not _acknowledged(gate, (), (), ()))
"""What is asked before the first pulse, in order."""
