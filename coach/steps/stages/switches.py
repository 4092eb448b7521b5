"""From where it pulses or cuts to where hands go in or near, and back: what is done at switch, key and plug."""

from coach.steps.cautions import EYEWEAR, HANDS, NOT_FIRING, SMOULDER, SUPPLY
from coach.steps.kind import Gate, Stage
from coach.steps.stages.gated import gate_step

ISOLATED = Gate(
    "isolated",
    "Key out, plug out",
    "Machine off, key out and with you, mains plug pulled and in sight. Wait as long as the machine's manual says "
    "before hands go in, and until mirrors and lens are cool. The covers of the tube and its supply stay shut.",
    "Off, unplugged, waited, cool",
    "at a switch",
)
POWERED = Gate(
    "powered",
    "Hands out, then plug in",
    "Hands, tools and bottle out, solvent dry, optics in, covers back. Plug in; see the cooling water flow before "
    "anything else; then switch on and home the axes with nothing in their way. "
    "The key goes in last, and only where the next step asks for it.",
    "Plugged in, water flows, axes homed",
    "at a switch",
)
KEY_OUT = Gate(
    "key-out",
    "Key out first",
    "Hands go in next, or near. What was cut or pulsed is cold, the smoke is gone. The laser's supply is isolated as "
    "the manual says, the key out and with you, until a step asks for it. Axes and extraction may stay on.",
    "Key out and with me",
    "at a switch",
)

SWITCH = Stage(
    "Switch",
    (
        gate_step("switch-off", "Laser off", (NOT_FIRING, SUPPLY), (ISOLATED,)),
        gate_step("key-out", "Nothing fires", (NOT_FIRING, SMOULDER, SUPPLY), (KEY_OUT,)),
        gate_step("switch-on", "Laser on again", (EYEWEAR, SUPPLY, HANDS), (POWERED,)),
    ),
)
