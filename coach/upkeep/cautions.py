"""The cautions of upkeep alone; those that it shares with the job are `coach.steps.cautions`."""

from coach.steps.cautions import Caution

COOL = Caution(
    "cool",
    "CAUTION",
    "Cool where hands go in",
    "Grate, nozzle, lens and tube stay hot after a cut: let them cool before hands go in.",
    "common practice",
)
RESIDUE = Caution(
    "residue",
    "WARNING",
    "Residue burns and harms",
    "Dust and residue of cuts catch fire and harm lungs and skin: mask and gloves, no sparks, carry them outdoors.",
    "common practice",
)
LOW_AIR = Caution(
    "low-air",
    "WARNING",
    "About 1.5 bar, goggles, away from boards",
    "Blow with about 1.5 bar, goggles and mask on, outdoors, away from boards, mirrors and lens.",
    "29 CFR 1910.242(b), below 2.1 bar (from memory); 1.5 bar: common practice",
)
WATER = Caution(
    "water",
    "DANGER",
    "Unplugged before hands go into water",
    "Laser, pump and chiller unplugged before hands go into the water; wipe up what was spilled before they are "
    "plugged in again.",
    "common practice",
)
CUTTING = Caution(
    "cutting",
    "WARNING",
    "Lid shut, stay beside the cut",
    "Cut with the lid shut, air and extraction on; stay beside it all the time, extinguisher at hand; never PVC.",
    "common practice; NIOSH-funded work on fumes",
)
