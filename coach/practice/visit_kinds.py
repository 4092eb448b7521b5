"""Visits that can be rehearsed: what is wrong with the practice machine of each.

None of the numbers is taken from what the coach believes or goes by.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from coach.errors import UnknownName
from coach.practice.kinds import KINDS

Wrong = Literal[
    "alignment", "bed", "focus", "lens", "mirrors", "tube", "cooling", "supply", "material", "extraction", "rail"
]
_CHOSEN = 301
"""The stream that chooses a scenario where none was chosen."""


@dataclass(frozen=True)
class PointerOff:
    """How the pointer stands, rms in each axis: mm beside the mark, and mrad across the beam."""

    beside: float = 0.1
    across: float = 0.6


@dataclass(frozen=True)
class Scenario:
    """One practice machine for a whole visit."""

    about: str
    """What is wrong with it, in a few words, for lists."""
    wrong: tuple[Wrong, ...] = ()
    beam: str = "standard-aligned"
    """Its beam's path, a name of `coach.practice.kinds.KINDS` …"""
    head: str = "head-aligned"
    """… and its head, one of `coach.practice.head_kinds.HEAD_KINDS`."""
    pointer: PointerOff = PointerOff()


_OUT = "standard-out"
_OFF = PointerOff(1.2, 9.0)
SCENARIOS: Mapping[str, Scenario] = {
    "visit-bed": Scenario("a bed out of level", ("bed",)),
    "visit-focus": Scenario("a focus gauge that is off", ("focus",)),
    "visit-lens": Scenario("a dirty lens", ("lens",)),
    "visit-mirrors": Scenario("dirty mirrors", ("mirrors",)),
    "visit-tube": Scenario("a tired tube", ("tube",)),
    "visit-supply": Scenario("a supply that gives less", ("supply",)),
    "visit-cooling": Scenario("warm water", ("cooling",)),
    "visit-extraction": Scenario("a blocked extraction", ("extraction",)),
    "visit-material": Scenario("another batch of material", ("material",)),
    "visit-rail": Scenario("a dent in a rail", ("rail",)),
    "visit-alignment": Scenario("a beam out of its path", ("alignment",), beam=_OUT),
    "visit-head": Scenario("a tilted mirror 3 and a lens off its place", head="head"),
    "visit-pointer": Scenario("a pointer beside the mark", pointer=_OFF),
    "visit-weak": Scenario("first pulses that are too weak", beam="standard-weak"),
    "visit-mixed": Scenario("several things at once", ("alignment", "bed"), _OUT, "head-lens", _OFF),
}
"""Name to what is wrong."""
ANY = "visit"
"""One of them, which one the seed decides."""
VISIT_KINDS: tuple[str, ...] = (ANY, *SCENARIOS)
CAUSES: tuple[str, ...] = tuple(name.removeprefix("visit-") for name in SCENARIOS)
"""What is wrong, in one word."""


def visit_kind(cause: str) -> str:
    """The kind of a visit with that wrong; "": any."""
    return f"visit-{cause}" if cause else ANY


def scenario_of(kind: str, seed: int) -> Scenario:
    """What is wrong with the practice machine of that kind and seed.  Raises UnknownName."""
    if kind == ANY:
        from coach.practice.hidden import generator  # the shell lists kinds, and loads no numpy for it

        return SCENARIOS[list(SCENARIOS)[int(generator(seed, 0, _CHOSEN).integers(len(SCENARIOS)))]]
    if kind not in SCENARIOS:
        raise UnknownName(
            f"There is no visit to practise that is called {kind!r}", expected="one of: " + ", ".join(VISIT_KINDS)
        )
    return SCENARIOS[kind]


def checked_kind(kind: str) -> str:
    """A kind that can be practised, of the beam's path or of the whole visit.  Raises UnknownName."""
    if kind in KINDS or kind in VISIT_KINDS:
        return kind
    raise UnknownName(f"There is no practice kind {kind!r}", expected="one of: " + ", ".join((*KINDS, *VISIT_KINDS)))
