"""Tape on the opening; and what to do when it burns."""

from coach.steps.cautions import HANDS, NOT_FIRING, WAIT
from coach.steps.kind import Gate, Stage
from coach.steps.stages.gated import gate_step

_TAPE = (
    Gate(
        "tape",
        "Tape on",
        "Supply isolated. Press masking tape over the head's entrance opening so that its rim leaves an imprint in "
        "it. Before a piece comes off, write its station and UP on it; peel it slowly from one edge. Have a "
        "fresh piece ready for each mark.",
        "Tape on, rim pressed in",
    ),
)
_FLAME = (
    Gate(
        "flame-out",
        "Let go, lid shut",
        "Let go of the button and stop the machine. Air assist and extraction off while it burns, lid shut: no fresh "
        "air. Still burning: damp cloth or CO2. Not out at once: out of the room, door shut, call the fire service. "
        "Once out and cool: extraction on, look for smouldering, fresh tape, and one small step less power or time.",
        "Out, cool, no smouldering, fresh tape on",
        "after a flame",
    ),
)

TAPE = Stage(
    "Tape",
    (
        gate_step("tape", "Tape", (HANDS, NOT_FIRING), _TAPE),
        gate_step("flare", "Flame", (WAIT,), _FLAME),
    ),
)
