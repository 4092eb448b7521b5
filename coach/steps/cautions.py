"""Cautions, in our own words, each with its source; which of them a step adds stands in the table of steps.

"common practice" marks a trade fact without a published source.  docs/safety.md tells more.

The signal words are those of ANSI Z535.6 and ISO 3864-2 (from memory): danger where it will kill or maim, warning
where it can, caution where it may hurt a little or break something, notice where nobody is hurt.
"""

from dataclasses import dataclass
from typing import Literal

Signal = Literal["DANGER", "WARNING", "CAUTION", "NOTICE"]
"""How bad it is, the worst first."""


@dataclass(frozen=True)
class Caution:
    """One caution: `text` for the screen, `source` for whoever asks why."""

    key: str
    signal: Signal
    brief: str
    """A few words, for large letters and for where the whole sentence stood a moment ago."""
    text: str
    source: str


PULSE = Caution(
    "pulse",
    "WARNING",
    "Pulse briefly, never hold the fire button",
    "Pulse briefly and let go: never hold the fire button.",
    "common practice",
)
TAPE_FIRE = Caution(
    "tape-fire",
    "WARNING",
    "Keep watch for tape fire",
    "Watch the tape during and after each pulse: masking tape catches fire. Extinguisher within reach.",
    "NFPA 115 (university laser-fire pages)",
)
RULES = Caution(
    "rules",
    "NOTICE",
    "Local rules first",
    "Local rules, the machine's manual and licensed practice come first.",
    "always shown",
)
HANDS = Caution(
    "hands",
    "CAUTION",
    "Hands out before the head moves",
    "Hands out of the machine before the head or gantry moves.",
    "common practice",
)
BEAM = Caution(
    "beam",
    "DANGER",
    "Hands clear, eyes off the path",
    "The beam is invisible: call out, then fire; hands, tools and callipers clear; nobody looks along the path; "
    "covers closed where possible.",
    "common practice",
)
EYEWEAR = Caution(
    "eyewear",
    "DANGER",
    "Eyewear on, watches off",
    "Eyewear rated for 10 600 nm and this laser's power; only those needed in the room; watches and rings off.",
    "ANSI Z136.1 practice; EN 207 / ISO 19818",
)
AIR = Caution(
    "air",
    "CAUTION",
    "Cooling and extraction on",
    "Cooling and extraction on before any pulse; wait before opening.",
    "common practice",
)
FACES = Caution(
    "faces",
    "CAUTION",
    "No tape, no finger on a mirror's face",
    "Tape on the holder's rim alone: neither tape nor a finger on a mirror's face, what sticks there burns in.",
    "common practice",
)
WAIT = Caution(
    "wait",
    "WARNING",
    "Wait: smoke, smouldering",
    "Wait for the smoke to clear and look for smouldering before you touch the tape.",
    "NFPA 51B",
)
NOT_FIRING = Caution(
    "not-firing",
    "DANGER",
    "Hands in: isolated, key out",
    "Before hands go in: supply isolated, key out and with you; an open interlock or lid alone is not enough.",
    "ANSI Z136.1; 29 CFR 1910.147 (control circuits do not isolate)",
)
SUPPLY = Caution(
    "supply",
    "DANGER",
    "Tube supply kills, also when off",
    "Tube supply and tube ends are lethal, also after switch-off: never open or touch them.",
    "university laser-safety pages",
)
TUBE = Caution(
    "tube",
    "DANGER",
    "Unplugged, waited, qualified, not alone",
    "The tube is glass beside a lethal supply: unplugged, the manual's wait over, somebody qualified, never alone.",
    "university laser-safety pages; common practice",
)
SOLVENT = Caution(
    "solvent",
    "WARNING",
    "Off and cool before any solvent",
    "Solvent only on a machine that is off and cool; let it dry before firing; put the bottle away.",
    "NIOSH Pocket Guide 0359",
)
LENS = Caution(
    "lens",
    "WARNING",
    "A broken lens is poison: stop",
    "A cracked or burnt zinc selenide lens is poisonous dust: stop, gloves, wipe damp, bag it.",
    "NIOSH/OSHA selenium limits",
)
SPLIT = Caution(
    "split",
    "WARNING",
    "A double or strayed mark: stop",
    "A mark that is double, on a mount or beside its target: stop, the beam goes elsewhere.",
    "common practice",
)
SMOULDER = Caution(
    "smoulder",
    "WARNING",
    "Look again for smouldering",
    "Before you leave: look again for smouldering; hot-work practice is to watch 30 to 60 minutes.",
    "NFPA 51B / 29 CFR 1910.252 (by analogy)",
)
COVERS = Caution(
    "covers",
    "WARNING",
    "Never defeat an interlock",
    "Never defeat an interlock to work faster; covers and interlocks back before cutting.",
    "common practice",
)

ATTENDED = Caution(
    "attended",
    "WARNING",
    "Never leave it while it cuts",
    "Lid shut, somebody beside it for the whole cut, extinguisher within reach; a flame: stop, air off, lid shut.",
    "NFPA 115 (university laser-fire pages)",
)
MATERIAL = Caution(
    "material",
    "WARNING",
    "Known sheet only, never PVC",
    "Cut only a sheet that you know; never PVC or anything with chlorine: its smoke is poison and eats the machine.",
    "university laser-cutter pages",
)
UNDER_HEAD = Caution(
    "under-head",
    "WARNING",
    "Steel or tile under the head",
    "Under the head: steel or tile, on it the card alone; nothing else that burns, no foil, never PVC.",
    "common practice",
)
UNDER_BED = Caution(
    "under-bed",
    "CAUTION",
    "A slackened bed drops: hold it",
    "A bed whose screws are slack drops: nothing on it, hold it, no hand under it or between it and the nozzle.",
    "common practice",
)
POINTER = Caution(
    "pointer",
    "WARNING",
    "Pointer: never into eyes",
    "The pointer is a laser too, mostly class 2: never look into it or its reflection; matt card under its spot.",
    "IEC 60825-1 (from memory)",
)

ALWAYS = (PULSE, TAPE_FIRE, RULES)
"""Shown at every step: in whole sentences wherever a danger begins, else in brief."""


def with_always(own: tuple[Caution, ...]) -> tuple[Caution, ...]:
    """A step's own cautions, then the ones that are always shown: the one place that adds them."""
    return own + ALWAYS


WHILE_DESCRIBING = with_always((NOT_FIRING, SUPPLY))
"""While a machine is described, with a tape measure in it."""
AT_THE_TUBE = with_always((SUPPLY, NOT_FIRING))
"""The same where the tube is asked about: what kills there comes first, wherever there is room for one only."""
AT_THE_LENS = with_always((NOT_FIRING, LENS, SUPPLY))
"""The same where lens and nozzle are."""


def while_describing(at: Literal["tube", "lens", ""]) -> tuple[Caution, ...]:
    """The cautions while a machine is described, at that part of it; the one that matters most first."""
    return {"tube": AT_THE_TUBE, "lens": AT_THE_LENS, "": WHILE_DESCRIBING}[at]
