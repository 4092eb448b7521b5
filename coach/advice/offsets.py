"""Offsets in words, as every sentence about a mark says them."""

from coach.belief.gaussian import Array
from coach.units import MINUS


def mark_words(offset: Array) -> str:
    """ "right 1.2, up −0.4 mm"."""
    right, up = (f"{float(value):.1f}".replace("-", MINUS) for value in offset)
    return f"right {right}, up {up} mm"
