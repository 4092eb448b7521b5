"""Where each hidden number stands in the belief's state, and which of them a mark or a turn touches.

State, in this order: c_u, c_v (mm, constant offset at the head), m_u, m_v (mm, the same at mirror 2's own
opening), a1_u, a1_v, a2_u, a2_v (mrad, slopes of legs 1 and 2), yaw (mrad per m: the term in L1·L2), n_u, n_v (mm,
offset at mirror 1's own opening), then for every screw of mirrors 1 and 2 three numbers for one clockwise turn: the
change of slope in u and v (mrad) and the sideways shift in u at the head (mm).
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import assert_never

import numpy as np

from coach.belief.kalman import Array
from coach.errors import UnknownName
from coach.machine import Machine, Target
from coach.mount import checked_screws
from coach.optics.legs import leg_lengths

C_U, C_V, M_U, M_V, A1_U, A1_V, A2_U, A2_V, YAW, N_U, N_V = range(11)
FIRST_SCREW = 11
PER_SCREW = 3


@dataclass(frozen=True)
class Screw:
    """One screw that can be turned: its mirror, its name, and where its three numbers start."""

    mirror: int
    name: str
    start: int


@dataclass(frozen=True)
class Layout:
    """The state's layout for one machine."""

    machine: Machine

    @cached_property
    def screws(self) -> tuple[Screw, ...]:
        """The screws of mirrors 1 and 2, mirror 1 first, in the order of the profile."""
        found = [
            (mount.mirror, point.name)
            for mount in sorted(self.machine.mounts, key=lambda mount: mount.mirror)
            if mount.mirror in (1, 2)
            for point in mount.screws
        ]
        return tuple(
            Screw(mirror, name, FIRST_SCREW + PER_SCREW * index) for index, (mirror, name) in enumerate(found)
        )

    @cached_property
    def size(self) -> int:
        """Length of the state."""
        return FIRST_SCREW + PER_SCREW * len(self.screws)

    def of_mirror(self, mirror: int) -> tuple[Screw, ...]:
        """The screws of one mirror."""
        return tuple(screw for screw in self.screws if screw.mirror == mirror)

    def measurement_matrix(self, x: float, y: float, target: Target = "head") -> Array:
        """H, shape (2, size): the offset (u, v) in mm of a mark at head position (x, y) in mm.

        Head: u = c_u + a1_u·L1 + a2_u·L2 + yaw·L1·L2, v = c_v + a1_v·L1 + a2_v·L2.
        Mirror 2: u = m_u − a1_u·L1, v = m_v + a1_v·L1 (the fold reverses the horizontal).
        Mirror 1: u = n_u, v = n_v wherever the head stands.
        """
        leg1, leg2 = leg_lengths(self.machine, x, y)
        rows = np.zeros((2, self.size))
        match target:
            case "mirror 1":
                rows[[0, 1], [N_U, N_V]] = 1.0
            case "mirror 2":
                rows[0, [M_U, A1_U]] = 1.0, -leg1
                rows[1, [M_V, A1_V]] = 1.0, leg1
            case "head":
                rows[0, [C_U, A1_U, A2_U, YAW]] = 1.0, leg1, leg2, leg1 * leg2
                rows[1, [C_V, A1_V, A2_V]] = 1.0, leg1, leg2
            case _:
                assert_never(target)
        return rows

    @cached_property
    def station_matrices(self) -> Array:
        """H of all the machine's stations at the head, shape (stations, 2, size)."""
        return np.stack([self.measurement_matrix(s.x, s.y) for s in self.machine.stations])

    @cached_property
    def screw_maps(self) -> Array:
        """B, shape (screws, size, size): one turn of screw k adds B_k·x to the state."""
        maps = np.zeros((len(self.screws), self.size, self.size))
        for index, screw in enumerate(self.screws):
            u, v, shift = screw.start, screw.start + 1, screw.start + 2
            maps[index, A2_U, u] = maps[index, A2_V, v] = 1.0
            maps[index, C_U, shift] = 1.0
            if screw.mirror == 1:
                maps[index, A1_U, u] = maps[index, A1_V, v] = 1.0
                maps[index, M_U, shift] = -1.0
        return maps

    @cached_property
    def moved_stations(self) -> Array:
        """H·B, shape (screws, stations, 2, size): what one turn of each screw does to the stations' offsets."""
        return np.asarray(np.einsum("sin,knm->ksim", self.station_matrices, self.screw_maps))

    def turn_vector(self, mirror: int, screws: Mapping[str, float]) -> Array:
        """Turns per screw, shape (screws,).  Raises UnknownName, InputError or OutOfReach."""
        mount = self.machine.mount(mirror)
        if mirror not in (1, 2):
            raise UnknownName(f"Mirror {mirror} steers nothing before the head", expected="mirror 1 or 2")
        turns = np.zeros(len(self.screws))
        index = {screw.name: k for k, screw in enumerate(self.screws) if screw.mirror == mirror}
        for name, amount in checked_screws(mount, screws).items():
            turns[index[name]] = amount
        return turns
