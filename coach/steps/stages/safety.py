"""What has to be true before the beam is on: whenever the program is opened, and after the machine was unplugged."""

from coach.steps.cautions import COVERS, EYEWEAR
from coach.steps.kind import Gate, Stage
from coach.steps.stages.gated import gate_step

_GATES = (
    Gate(
        "eyewear",
        "Eyewear on",
        "Eyewear on everyone in the room, rated for 10 600 nm and for this laser's power (its EN 207 marking or its "
        "optical density; clear plastic without a marking is none), and only those who are needed. Watches and rings "
        "off. A stop that neither burns nor mirrors, such as a fire brick, stands behind every place the beam may "
        "reach. No interlock is defeated.",
        "Eyewear on, room clear",
        "before the beam",
    ),
    Gate(
        "firing",
        "One person only",
        "One person alone fires, and calls it out before each pulse; nobody else touches the panel. Before the call: "
        "hands out, tools and callipers out of the beam's way, lid and covers shut wherever the mark can be made "
        "that way. You know where the emergency stop is, and that it works.",
        "Agreed who fires; I can reach the stop",
        "before the beam",
    ),
    Gate(
        "fire",
        "Extinguisher at hand",
        "A CO2 extinguisher and a damp cloth are within reach, and you will watch the tape during and after each "
        "pulse. The pulse is short, at the lowest power that marks; the button is never held. If it burns: let go, "
        "stop, air assist and extraction off, lid shut.",
        "Both here, I watch the tape",
        "before the beam",
    ),
    Gate(
        "air",
        "Water and air on",
        "Plugged in again, water first: it flows; extraction is on. The bed is clear. You know what the target is "
        "made of; never PVC.",
        "Cooling and extraction on",
        "before the beam",
    ),
)

SAFETY = Stage("Safety", (gate_step("safety", "Before the beam is on", (EYEWEAR, COVERS), _GATES),))
