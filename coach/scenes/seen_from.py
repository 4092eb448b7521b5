"""From where a mirror's mount is seen, in words that stand above its picture."""

from coach.machine import Side
from coach.pictures.mount import SEEN


def seen_from(mirror: int, side: Side) -> tuple[str, ...]:
    """Shorter and shorter.  Mirror 3's screws are on the side of the head that is away from mirror 2."""
    if mirror != 3:
        return SEEN
    away = "right" if side == "left" else "left"
    return (f"screw heads, seen from the {away}, upper edge up", f"from the {away}, upper edge up", *SEEN)
