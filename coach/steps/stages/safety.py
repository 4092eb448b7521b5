"""Safety first, every time the program is opened."""

from coach.steps.cautions import COVERS, EYEWEAR
from coach.steps.kind import Gate, Stage
from coach.steps.stages.gated import gate_step

_GATES = (
    Gate(
        "rules",
        "RULES FIRST",
        "Your local rules, the machine's manual and licensed practice come before anything this program says. "
        "With the beam path open, treat the machine as Class 4: direct and scattered beam hurt eyes and skin "
        "and ignite things.",
        "I know them and I am allowed to do this",
    ),
    Gate(
        "eyewear",
        "EYES AND HANDS",
        "Eyewear marked for 10 600 nm on everyone in the room, and only those who are needed. Watches and rings "
        "off. A stop stands behind every place the beam may reach. Covers stay closed wherever the mark can be "
        "made that way; no interlock is defeated.",
        "Eyewear on, room clear",
    ),
    Gate(
        "fire",
        "FIRE",
        "A fire extinguisher is within reach and you will watch the tape during and after each pulse. The pulse is "
        "short, at the lowest power that marks; the button is never held.",
        "Extinguisher here, I watch the tape",
    ),
    Gate(
        "air",
        "WATER AND AIR",
        "Cooling water runs and extraction is on. The bed is clear. You know what the target is made of; never PVC.",
        "Cooling and extraction on",
    ),
)

SAFETY = Stage("Safety", (gate_step("safety", "Safety", (EYEWEAR, COVERS), _GATES),))
