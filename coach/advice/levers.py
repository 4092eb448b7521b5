"""What hands can do to the stations' offsets, and draws of how that may turn out.

Screws, parts that can be moved along one of their directions, and the tilts that come with such a move are *levers*:
each adds its amount times its effect to the offsets.  What is believed of the beam and of the screws, and how roughly
hands work, is drawn once for all adjustments that are compared, so that the comparison is not left to luck.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from coach.advice.moves import movable
from coach.belief.bank import Bank
from coach.belief.belief import Belief
from coach.belief.kalman import Array
from coach.belief.transitions import shifted
from coach.parts import DIRECTIONS, PARTS, Direction, Part

DRAWS = 192
"""Ways in which things may turn out: a chance is then known to 0.03 at worst, enough to rank adjustments by."""
TILTS = 2
"""A part that is moved tilts in each axis by itself."""
LIGHT = 5e-3
"""Hypotheses lighter than this are not drawn."""

Way = tuple[Part, Direction]


@dataclass(frozen=True, eq=False)
class Levers:
    """Draws of the offsets and of what one turn of each screw does to them; mm, stations as u₁, v₁, u₂ …"""

    offsets: Array
    """(draws, 2·stations), as things stand."""
    screws: Array
    """(draws, screws, 2·stations), for one turn clockwise."""
    ways: tuple[Way, ...]
    """The parts that can be moved, and along which directions."""
    reach: Array
    """(ways,), mm each way."""
    moved: Array
    """(ways, 2·stations), for one mm."""
    tilted: Array
    """(parts, tilts, 2·stations): what one deviation of each tilt does that comes with moving a part."""
    parts: tuple[Part, ...]

    @property
    def part_of(self) -> Array:
        """(ways, parts): 1 where the way moves that part."""
        return np.array([[float(part == way[0]) for part in self.parts] for way in self.ways])


def levers(belief: Belief, bank: Bank) -> Levers:
    """All that can be done from a bank, drawn `DRAWS` times."""
    layout = belief.layout
    stations = layout.station_matrices.reshape(-1, layout.size)
    states = _states(bank, layout.size)
    reach = {(part, way): movable(belief, part, way) for part in PARTS for way in DIRECTIONS[part]}
    ways = tuple(way for way, mm in reach.items() if mm >= belief.tuning.adjusting.least_move)
    parts = tuple(dict.fromkeys(part for part, _ in ways))
    moved = [shifted(layout, part, {way: 1.0}, belief.tuning.hands).step @ stations.T for part, way in ways]
    by_turn = layout.moved_stations.reshape(len(layout.screws), -1, layout.size)
    return Levers(
        states @ stations.T,
        np.einsum("kin,dn->dki", by_turn, states),
        ways,
        np.array([reach[way] for way in ways]),
        np.array(moved).reshape(len(ways), len(stations)),
        np.array([_tilts(belief, part, stations) for part in parts]).reshape(len(parts), TILTS, len(stations)),
        parts,
    )


def _tilts(belief: Belief, part: Part, stations: Array) -> Array:
    """(2, 2·stations): what the tilt in each axis does that comes with moving a part; nothing for the head."""
    done = shifted(belief.layout, part, {DIRECTIONS[part][0]: 1.0}, belief.tuning.hands)
    tilts = done.spread[:, 1:].T @ stations.T  # the first cause is how far it went
    return tilts if len(tilts) else np.zeros((TILTS, len(stations)))


def _states(bank: Bank, size: int) -> Array:
    """(DRAWS, size): states drawn from the mixture, each hypothesis as often as it is likely, in pairs."""
    mixture = bank.mixture.subset(bank.weights > LIGHT)
    root = np.linalg.cholesky(mixture.cov + 1e-12 * np.eye(size))
    half = DRAWS // 2
    of = np.searchsorted(np.cumsum(mixture.weights), (np.arange(half) + 0.5) / half).clip(max=len(root) - 1)
    apart = np.einsum("dij,dj->di", root[of], normals(size)[:half])
    return np.concatenate([mixture.mean[of] + apart, mixture.mean[of] - apart])


@lru_cache(maxsize=8)
def normals(size: int, stream: int = 0) -> Array:
    """(DRAWS, size) normal numbers, the same in every call."""
    return np.asarray(np.random.default_rng([7, stream, size]).standard_normal((DRAWS, size)))
