"""The lens in the head and the nozzle under it, as a profile describes them.  Lengths in mm."""

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from coach.mount import Length, ProfilePart
from coach.parts import Reach

LONGEST_FOCAL = 500.0
"""mm; no cutting head has a longer lens."""
WIDEST_NOZZLE = 20.0
"""mm; a wider hole is no nozzle."""


class Lens(ProfilePart):
    """What focuses the beam, and what it passes on its way to the focus."""

    focal: Annotated[float, Field(gt=0, le=LONGEST_FOCAL, allow_inf_nan=False)]
    """Focal length."""
    nozzle_distance: Length = 8.0
    """From the nozzle's opening down to the focus."""
    nozzle: Annotated[float, Field(gt=0, le=WIDEST_NOZZLE, allow_inf_nan=False)] = 2.5
    """Diameter of the nozzle's hole."""
    curved: Literal["up", "down"] = "up"
    """Which way its curved side looks; up is usual, and the machine's manual wins."""
    mirror_distance: Length | None = None
    """From mirror 3's middle down to the lens; None: nobody measured it."""
    reach: Reach | None = None
    """How far the lens tube, with the nozzle, can be moved sideways, each way; 0: it cannot; None: nobody knows."""

    @model_validator(mode="after")
    def _nozzle_above_the_focus(self) -> Self:
        if self.nozzle_distance >= self.focal:
            raise ValueError(
                f"the nozzle lies between lens and focus, so 'nozzle_distance' ({self.nozzle_distance:g} mm) must be "
                f"less than 'focal' ({self.focal:g} mm)"
            )
        return self
