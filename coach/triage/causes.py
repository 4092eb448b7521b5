"""What may be wrong, the cheapest test of each, and what is done where it is found.  Minutes: common practice."""

from dataclasses import dataclass
from typing import Literal, get_args

Cause = Literal[
    "cooling", "focus", "bed", "lens", "mirrors", "extraction", "material", "supply", "tube", "rail", "alignment"
]
CAUSES: tuple[Cause, ...] = get_args(Cause)
"""In the order in which one would mend what was found: what harms the machine first, the beam last."""
CheckName = Literal["focus", "bed", "lens", "water", "tube", "extraction", "material", "mirrors", "rail", "supply"]
CHECKS: tuple[CheckName, ...] = get_args(CheckName)


@dataclass(frozen=True)
class About:
    """One cause: how it is tested, how long that takes, and what ends it."""

    test: str
    minutes: float
    check: CheckName | None
    """Where the test's result is entered; None: marks on tape tell."""
    remedy: str
    service: bool = False
    """Left to licensed service, not to its owner."""


ABOUT: dict[Cause, About] = {
    "cooling": About(
        "Read the water's temperature, watch it flow, look for bubbles in the tube.",
        2,
        "water",
        "Let the water cool, clean its filter, see that it flows; a pump or chiller that fails is the service's.",
    ),
    "focus": About(
        "Cut lines along a ramp board and see whether the thinnest one is where the gauge says.",
        3,
        "focus",
        "Set the focus by the thinnest line, and mend or mark the gauge.",
    ),
    "bed": About(
        "Laser off: measure the gap from head to bed at the corners with one block.",
        3,
        "bed",
        "Level the bed, then cut again.",
    ),
    "lens": About(
        "Off, unplugged and cool: look at the lens by a torch for haze, spot or crack, and that it sits firm "
        "and the right way round.",
        4,
        "lens",
        "Clean the lens, or replace it where it is scratched, burnt or cracked; then the focus anew.",
    ),
    "mirrors": About(
        "Off, unplugged and cool: look at each mirror by a torch for haze, scratches and burnt spots.",
        5,
        "mirrors",
        "Clean the mirrors, or replace what stays dull; one that was out is marked again.",
    ),
    "extraction": About(
        "Hold a tissue to the grate, and see whether smoke stands over the cut.",
        1,
        "extraction",
        "Clear filter, hose and grate until a tissue holds by itself.",
    ),
    "material": About(
        "Make the same cut in a piece of the old sheet, or of one that is known to cut.",
        3,
        "material",
        "Cut this material slower, or another batch; the machine is as it was.",
    ),
    "supply": About(
        "Lid shut: watch the panel's needle during a cut: steady, and where it used to be.",
        2,
        "supply",
        "Leave the supply and its setting to the service.",
        service=True,
    ),
    "tube": About(
        "Read the panel's current at the usual setting against what it used to be, and the tube's hours.",
        2,
        "tube",
        "Leave the tube to the service.",
        service=True,
    ),
    "rail": About(
        "Off: slide head and gantry along their whole ways by hand; feel for dirt, a dent, play.",
        5,
        "rail",
        "Clean the rails and take the play out of wheels and belts; then mark again.",
    ),
    "alignment": About("Marks on tape at every station.", 15, None, "On to the beam: mark by mark."),
}
