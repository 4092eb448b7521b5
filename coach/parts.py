"""The parts that can be moved sideways, in which directions that changes where the beam passes, and how far."""

from collections.abc import Mapping
from typing import Annotated, Literal, Self, get_args

from pydantic import BaseModel, ConfigDict, Field, model_validator

from coach.errors import InputError, UnknownName

Part = Literal["mirror 2", "head", "mirror 1", "tube"]
"""In the order in which one would rather move them."""
Direction = Literal["up", "right", "back"]
WAYS: tuple[Direction, ...] = get_args(Direction)
PARTS: tuple[Part, ...] = get_args(Part)
Moved = Part | Literal["lens"]
"""What can be moved at all: the lens tube, with its nozzle, changes nothing before the head."""

DIRECTIONS: dict[Part, tuple[Direction, ...]] = {
    "mirror 2": ("right",),
    "head": ("up", "back"),
    "mirror 1": ("right",),
    "tube": ("up", "back"),
}
"""Sliding a flat mirror in its own plane moves nothing, so heights are cured at the head or at the tube."""
MOVED_ALONG: Mapping[Moved, tuple[Direction, ...]] = {
    "lens": ("right", "back"),
    **{part: DIRECTIONS[part] for part in PARTS},
}
"""The same with the lens tube, which changes nothing before the head."""

FARTHEST_AT_ONCE = 20.0
"""mm; a part moved farther at once would throw every mark off the tape, so nobody is told to."""
FARTHEST_MOVE = 50.0
"""mm; no part has more room each way."""
Reach = Annotated[float, Field(ge=0, le=FARTHEST_MOVE, allow_inf_nan=False)]
"""mm each way from where a part stands; 0: it cannot be moved."""


class PartMove(BaseModel):
    """How far one part can be moved each way; a direction that is left out is not known."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    part: Part
    up: Reach | None = None
    right: Reach | None = None
    back: Reach | None = None

    @model_validator(mode="after")
    def _useful(self) -> Self:
        for direction in WAYS:
            if getattr(self, direction) is not None and direction not in DIRECTIONS[self.part]:
                useful = " or ".join(DIRECTIONS[self.part])
                raise ValueError(f"moving {self.part} {direction} does not centre the beam; give {useful}")
        return self

    def reach(self, direction: Direction) -> float | None:
        """mm each way in that direction, or None where nobody knows."""
        found: float | None = getattr(self, direction)
        return found


def checked_ways(part: str, up: float, right: float, back: float) -> None:
    """That moving a part so centres the beam, mm in the machine's frame.

    Raises UnknownName for another part, InputError for a direction in which it cannot help.
    """
    if part not in PARTS:
        raise UnknownName(f"There is no part {part!r} to shift", expected="one of: " + ", ".join(PARTS))
    for direction, amount in (("up", up), ("right", right), ("back", back)):
        if amount != 0.0 and direction not in DIRECTIONS[part]:
            raise InputError(
                f"Shifting the {part} {direction} does not centre the beam",
                expected=f"the {part} {' or '.join(DIRECTIONS[part])}",
                example=f"{part} {DIRECTIONS[part][0]} 1.2 mm",
            )
