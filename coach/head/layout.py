"""Where each hidden number of the head stands in its state, and which of them a mark or a turn touches.

State, each with x (to the right) and y (to the back), machine axes seen from above: SLOPE of the beam below mirror 3
(mrad, positive where it lands farther to the right or back the lower one looks), OFFSET of the beam from the lens's
middle at the lens (mm), NOZZLE's middle minus the lens's (mm), BED, what the bed's own way down adds to every slope
(mrad), PLACE_OUT and PLACE_IN, where the marks of this round lie on the card at the bed's usual height, lens out and
lens in (mm).  Then for every screw of mirror 3 four numbers for one clockwise turn: slope x, y (mrad), offset
x, y (mm).
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from coach.belief.kalman import Array
from coach.machine import Lens, Machine
from coach.optics.below import lens_to_nozzle, slope_of
from coach.optics.lens import thin_lens
from coach.optics.mounts import MRAD
from coach.tuning import Head

SLOPE, OFFSET, NOZZLE, BED, PLACE_OUT, PLACE_IN = range(0, 12, 2)
FIRST_SCREW = 12
PER_SCREW = 4


@dataclass(frozen=True)
class HeadLayout:
    """The state's layout for one machine, and what is read from it."""

    machine: Machine
    tuning: Head

    @cached_property
    def lens(self) -> Lens:
        """The lens as described, or a usual one."""
        usual = self.tuning
        known = self.machine.lens
        return known or Lens(focal=usual.focal, nozzle_distance=usual.nozzle_distance, nozzle=usual.hole)

    @cached_property
    def screws(self) -> tuple[str, ...]:
        """The screws of mirror 3, in the order of the profile; none where its mount is not described."""
        mount = next((mount for mount in self.machine.mounts if mount.mirror == 3), None)
        return tuple(screw.name for screw in mount.screws) if mount else ()

    @property
    def lens_reach(self) -> float:
        """How far each way the lens tube is taken to go, mm; 0 where it is known to be fixed."""
        known = self.lens.reach
        return self.tuning.lens_reach if known is None else known

    @property
    def size(self) -> int:
        """Length of the state."""
        return FIRST_SCREW + PER_SCREW * len(self.screws)

    def _rows(self, numbers: dict[int, float]) -> Array:
        """(2, size): the same combination of numbers on either axis."""
        rows = np.zeros((2, self.size))
        for number, factor in numbers.items():
            rows[[0, 1], [number, number + 1]] = factor
        return rows

    def own(self, number: int) -> Array:
        """(2, size): that number alone."""
        return self._rows({number: 1.0})

    @cached_property
    def slope(self) -> Array:
        """(2, size): slope of the beam without the lens, mrad."""
        return self._rows({SLOPE: 1.0})

    @cached_property
    def lean(self) -> Array:
        """(2, size): slope of the focused beam, mrad: slope − 1000·d/f."""
        per_offset, per_slope = thin_lens(self.lens.focal)[1]
        return self._rows({SLOPE: float(per_slope), OFFSET: float(MRAD * per_offset)})

    @cached_property
    def nozzle(self) -> Array:
        """(2, size): beam minus the nozzle's middle, mm: d·s/f + (f − s)·slope − e."""
        per_offset, per_slope = lens_to_nozzle(self.lens.focal, self.lens.nozzle_distance)[0]
        return self._rows({OFFSET: float(per_offset), SLOPE: float(per_slope) / MRAD, NOZZLE: -1.0})

    @cached_property
    def wanted(self) -> Array:
        """(4, size): lean and nozzle offset, each as a share of what is good."""
        return np.concatenate([self.lean / slope_of(self.tuning.lean), self.nozzle / self.tuning.nozzle])

    def card(self, lowered: float, *, lens: bool) -> Array:
        """(2, size): where a mark lies on the card with the bed `lowered` by so many mm: place + slope·h."""
        place, slope = (PLACE_IN, self.lean) if lens else (PLACE_OUT, self.slope)
        return self._rows({place: 1.0}) + (slope + self._rows({BED: 1.0})) * lowered / MRAD

    @cached_property
    def screw_maps(self) -> Array:
        """(screws, size, size): one turn of screw k adds B_k·x to the state."""
        maps = np.zeros((len(self.screws), self.size, self.size))
        for k in range(len(self.screws)):
            start = FIRST_SCREW + PER_SCREW * k
            for axis in range(2):
                maps[k, SLOPE + axis, start + axis] = 1.0
                maps[k, OFFSET + axis, start + 2 + axis] = 1.0
        return maps

    def column(self, number: int, axis: int, value: float) -> Array:
        """A change of the state in one number."""
        column = np.zeros(self.size)
        column[number + axis] = value
        return column
