"""What someone who knows a practice machine's screws and hands still has to find out: where the beam is.

A plain linear Gaussian estimate of six numbers, (c, a1, a2) across and in height, kept apart from the coach's belief
so that the coach is measured against somebody else.  A mark reads c + a1·L1 + a2·L2 on its axis.
"""

import math
from dataclasses import dataclass
from typing import Self

import numpy as np
from numpy.typing import NDArray

from coach.machine import Machine
from coach.optics.legs import leg_lengths
from coach.practice.kinds import Trouble

Array = NDArray[np.float64]
SAMPLES = 400


@dataclass(frozen=True)
class Seen:
    """A mark at the station of that number, mm."""

    station: int
    u: float
    v: float


@dataclass(frozen=True)
class Estimate:
    """Mean and covariance of (c_u, a1_u, a2_u, c_v, a1_v, a2_v): mm and mrad."""

    rows: Array
    """Stations × 2 × 6: what a mark at each reads."""
    mean: Array
    cov: Array

    @classmethod
    def beforehand(cls, machine: Machine, trouble: Trouble) -> Self:
        """As the machines of that kind are."""
        legs = np.array([[1.0, *leg_lengths(machine, s.x, s.y)] for s in machine.stations])
        rows = np.zeros((len(legs), 2, 6))
        rows[:, 0, :3] = rows[:, 1, 3:] = legs
        carried = trouble.slope**2 if trouble.carried else 0.0
        slopes = [[trouble.slope**2, carried], [carried, trouble.slope**2 + carried]]
        one = np.block([[np.array([[trouble.offset**2]]), np.zeros((1, 2))], [np.zeros((2, 1)), np.array(slopes)]])
        return cls(rows, np.zeros(6), np.kron(np.eye(2), one))

    def told(self, marks: tuple[Seen, ...], reading: float) -> "Estimate":
        """After these marks, each read to `reading` mm on each axis."""
        if not marks:
            return self
        across = np.concatenate([self.rows[mark.station] for mark in marks])
        read = np.array([value for mark in marks for value in (mark.u, mark.v)])
        gain = np.linalg.solve(across @ self.cov @ across.T + reading**2 * np.eye(len(read)), across @ self.cov).T
        left = np.eye(6) - gain @ across
        cov = left @ self.cov @ left.T + reading**2 * gain @ gain.T
        return Estimate(self.rows, self.mean + gain @ (read - across @ self.mean), cov)

    def moved(self, by: Array, noise: Array) -> "Estimate":
        """After an adjustment that changes the six numbers by `by`, with that covariance of its own."""
        return Estimate(self.rows, self.mean + by, self.cov + noise)

    def offsets(self) -> Array:
        """Stations × 2: where the marks are expected, mm."""
        return np.asarray(self.rows @ self.mean)

    def doubts(self) -> Array:
        """Stations × 2 × 2: how surely, mm²."""
        return np.asarray(self.rows @ self.cov @ self.rows.transpose(0, 2, 1))

    def chance(self, tolerance: float, draws: Array) -> float:
        """Probability that every station is within the tolerance; `draws` are SAMPLES × 6 normal numbers."""
        values, vectors = np.linalg.eigh(self.cov)
        states = self.mean + draws @ (vectors * np.sqrt(np.maximum(values, 0.0))).T
        marks = np.einsum("sik,nk->nsi", self.rows, states)
        return float(np.mean(np.hypot(marks[..., 0], marks[..., 1]).max(axis=1) <= tolerance))


def suspected(before: Estimate, marks: tuple[Seen, ...], trouble: Trouble) -> int | None:
    """Which mark is likelier misread than not by what all others say of it, the worst one; None where none is."""
    worst, found = 0.5, None
    for number, mark in enumerate(marks):
        others = before.told(marks[:number] + marks[number + 1 :], trouble.reading)
        off = np.array([mark.u, mark.v]) - others.offsets()[mark.station]
        doubt = others.doubts()[mark.station] + trouble.reading**2 * np.eye(2)
        wrong = (trouble.tail_from + trouble.tail_more) ** 2 / 2 * np.eye(2)
        tail = trouble.tails * _density(off, doubt + wrong)
        sound = (1.0 - trouble.tails) * _density(off, doubt)
        share = tail / (tail + sound) if tail > 0.0 else 0.0
        if share > worst:
            worst, found = share, number
    return found


def _density(off: Array, cov: Array) -> float:
    return math.exp(-0.5 * float(off @ np.linalg.solve(cov, off))) / math.sqrt(float(np.linalg.det(cov)))
