"""Which face of the tape the person looks at: seen from the sticky side, left and right are swapped."""

from dataclasses import replace

from coach.reading.model import Face, Reading

__all__ = ["Face", "mirrored", "seen_on"]


def mirrored(u: float, v: float, face: Face) -> tuple[float, float]:
    """(u, v) between what is seen on `face` and what is seen on the outer face; its own inverse."""
    return (0.0 - u, v) if face == "sticky" else (u, v)


def seen_on(reading: Reading, face: Face) -> Reading:
    """A reading taken while looking at `face`, brought to the outer face."""
    u, v = mirrored(reading.u, reading.v, face)
    return replace(reading, u=u, v=v, face=face, typed={**reading.typed, "face": face})
