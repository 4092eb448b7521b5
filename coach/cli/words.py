"""What the shell says back: spots, offsets, turns, shifts, and what was typed.  Entries: `coach.steps.entries`.

The shell says lengths in mm whatever the person's settings are: scripts read it.
"""

from collections.abc import Mapping

from coach.advice.advice import Shot
from coach.frame import Frame
from coach.shown import IN_MM
from coach.steps.words import turn_words


def spot_words(shot: Shot, frame: Frame) -> str:
    """A spot with its place in the controller's numbers: "middle (X 300.0 mm, Y 200.0 mm)"."""
    tape = "" if shot.target == "head" else f" on {shot.target}'s own tape"
    x, y = frame.counted(shot.x, shot.y)
    return f"{shot.name} (X {IN_MM.length(x)}, Y {IN_MM.length(y)}){tape}"


def offset_words(u: float, v: float, places: int = 2) -> str:
    """A mark's offset: "right +1.20 mm, up −0.40 mm"."""
    return f"right {IN_MM.signed(u, places)}, up {IN_MM.signed(v, places)}"


def screw_words(screws: Mapping[str, float]) -> str:
    """Turns of several screws: "B 7 ticks (42°) clockwise, C no turn"."""
    return ", ".join(f"{name} {turn_words(amount, IN_MM)}" for name, amount in screws.items())


def moved_words(up: float, right: float, back: float) -> str:
    """How far a part was moved, mm in the machine's frame: "up +1.20 mm, back −0.40 mm"."""
    amounts = {"up": up, "right": right, "back": back}
    return ", ".join(f"{way} {IN_MM.signed(amount, 2)}" for way, amount in amounts.items() if amount)


def typed_words(typed: Mapping[str, str]) -> str:
    """What was typed, for an echo: " (typed right 1,2; up -0,4)"."""
    said = "; ".join(f"{key} {value}" for key, value in typed.items())
    return f" (typed {said})" if said else ""
