"""Amounts and where to go, as steps and entries say them."""

from coach.advice.advice import Shot
from coach.parts import Direction
from coach.shown import Wording, show_degrees
from coach.steps.about import ShiftTask

BOTH_SENSES: dict[Direction, tuple[str, str]] = {
    "up": ("up", "down"),
    "right": ("to the right", "to the left"),
    "back": ("to the back", "to the front"),
}
"""What moving a part by a positive and by a negative amount is called."""


def where_words(shot: Shot, wording: Wording) -> str:
    """Where the head goes, in words."""
    if shot.target == "mirror 2":
        return "tape over mirror 2's own opening, gantry at the very back"
    return f"head at {wording.head(shot.x, shot.y)}"


def clock_face_words(turns: float) -> str:
    """A turn as something to picture: "22.5°, or 4 minutes on a clock's face"."""
    minutes = abs(turns) * 60
    shown = f"{minutes:.0f}" if minutes >= 1 else f"{minutes:.1f}"
    return f"{show_degrees(turns)}, or {shown} minute{'' if shown == '1' else 's'} on a clock's face"


def named(part: str) -> str:
    """A part with its article, where it has one: "mirror 2", "the tube"."""
    return part if part[-1].isdigit() else f"the {part}"


def shift_words(task: ShiftTask, wording: Wording) -> str:
    """A shift's amounts in words: "1.2 mm up and 0.4 mm to the front"."""
    amounts: dict[Direction, float] = {"up": task.up, "right": task.right, "back": task.back}
    moved = [moved_words(direction, amount, wording) for direction, amount in amounts.items() if amount]
    return " and ".join(moved) or "not at all"


def moved_words(direction: Direction, amount: float, wording: Wording, places: int = 1) -> str:
    """One direction of a shift that is not nothing: "1.2 mm up"; mm."""
    plus, minus = BOTH_SENSES[direction]
    return f"{wording.length(abs(amount), places)} {plus if amount > 0 else minus}"


def turn_words(turns: float, wording: Wording) -> str:
    """A turn in words: "⅛ turn clockwise"."""
    words = wording.turns(turns)
    return f"{words.fraction} {words.direction.lower()}".strip()
