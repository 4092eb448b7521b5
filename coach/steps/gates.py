"""Gates: what a person acknowledges before the coach goes on, once for every time the program is opened."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Gate:
    """One thing to be true before going on."""

    name: str
    step: str
    """Key of the step to which it belongs."""
    title: str
    """Large, a few words."""
    text: str
    confirm: str
    """What the person says with one key."""
    every_time: bool = True
    """Asked again after a resume."""


GATES = (
    Gate(
        "rules",
        "safety",
        "RULES FIRST",
        "Your local rules, the machine's manual and licensed practice come before anything this program says. "
        "With the beam path open, treat the machine as Class 4: direct and scattered beam hurt eyes and skin "
        "and ignite things.",
        "I know them and I am allowed to do this",
    ),
    Gate(
        "eyewear",
        "safety",
        "EYES AND HANDS",
        "Eyewear marked for 10 600 nm on everyone in the room, and only those who are needed. Watches and rings "
        "off. A stop stands behind every place the beam may reach. Covers stay closed wherever the mark can be "
        "made that way; no interlock is defeated.",
        "Eyewear on, room clear",
    ),
    Gate(
        "fire",
        "safety",
        "FIRE",
        "A fire extinguisher is within reach and you will watch the tape during and after each pulse. The pulse is "
        "short, at the lowest power that marks; the button is never held.",
        "Extinguisher here, I watch the tape",
    ),
    Gate(
        "air",
        "safety",
        "WATER AND AIR",
        "Cooling water runs and extraction is on. The bed is clear. You know what the target is made of; never PVC.",
        "Cooling and extraction on",
    ),
    Gate(
        "question",
        "question",
        "IS IT ALIGNMENT?",
        "Cuts that stopped going through are more often a dirty lens, a wrong focus height, warm or low water, or "
        "a tired tube. If the cut is weak everywhere alike, look at those first. If it is weak at some places "
        "of the bed and good at others, alignment is the likely cause.",
        "Checked: alignment is worth a look",
        every_time=False,
    ),
    Gate(
        "clean",
        "clean",
        "CLEAN FIRST",
        "Machine off and cool. Wipe mirrors 1, 2, 3 and the lens with isopropanol (99 % or more) on a fresh "
        "lens tissue, one stroke each, no rubbing. Let them dry. A dirty mirror heats, and a crooked mark may only "
        "be a dirty one.",
        "Clean and dry",
        every_time=False,
    ),
    Gate(
        "tape",
        "tape",
        "TAPE ON",
        "Press masking tape over the head's entrance opening so that its rim leaves an imprint in it. Note "
        "which way is up. Have a fresh piece ready for each mark.",
        "Tape on, rim pressed in",
    ),
)

FLAME_OUT = Gate(
    "flame-out",
    "flare",
    "FLAME? STOP",
    "Let go of the button. Keep the lid closed if that smothers it; extinguisher if it does not. Extraction on, "
    "wait until it is cool, look for smouldering. Then fresh tape, and one small step less power or time.",
    "Out, cool, fresh tape on",
)


def missing_gate(done_ever: set[str], done_since_opening: set[str]) -> Gate | None:
    """The first gate still to be acknowledged, or None."""
    for gate in GATES:
        if gate.name not in (done_since_opening if gate.every_time else done_ever):
            return gate
    return None
