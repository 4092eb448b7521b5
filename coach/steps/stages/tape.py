"""Tape on the opening; and what to do when it burns."""

from coach.steps.cautions import HANDS, NOT_FIRING, WAIT
from coach.steps.kind import Gate, Stage
from coach.steps.stages.gated import gate_step

_TAPE = (
    Gate(
        "tape",
        "TAPE ON",
        "Press masking tape over the head's entrance opening so that its rim leaves an imprint in it. Note "
        "which way is up. Have a fresh piece ready for each mark.",
        "Tape on, rim pressed in",
    ),
)
_FLAME = (
    Gate(
        "flame-out",
        "FLAME? STOP",
        "Let go of the button. Keep the lid closed if that smothers it; extinguisher if it does not. Extraction on, "
        "wait until it is cool, look for smouldering. Then fresh tape, and one small step less power or time.",
        "Out, cool, fresh tape on",
        "after a flame",
    ),
)

TAPE = Stage(
    "Tape",
    (
        gate_step("tape", "Tape", (HANDS, NOT_FIRING), _TAPE),
        gate_step("flare", "Flare-up", (WAIT,), _FLAME, about=("shot",)),
    ),
)
