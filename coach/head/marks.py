"""What one mark under the head shows, and the hypotheses after it: right readings weighed beside wrong ones."""

from dataclasses import dataclass
from typing import Literal

import numpy as np

from coach.belief import kalman
from coach.belief.chances import beyond
from coach.belief.kalman import Array, Mask
from coach.belief.mixture import GaussianMixture, normalised
from coach.head.layout import HeadLayout
from coach.tuning import Readings

HeadTarget = Literal["bed", "nozzle"]
NEGLIGIBLE = -9.2
"""Log-weight below which a story about wrong readings is dropped: one in ten thousand."""
MOST_STORIES = 40
NOT_FIRED = 0.02
"""Probability that nothing was seen for another reason than a nozzle that is not hit."""


@dataclass(frozen=True)
class HeadMark:
    """A mark on the card on the bed, or on the tape under the nozzle."""

    target: HeadTarget
    right: float | None
    """mm; None: nothing came through the nozzle."""
    back: float | None
    sd: float
    """mm, each axis."""
    lowered: float = 0.0
    """bed: mm below its usual height."""
    lens: bool = True

    @property
    def seen(self) -> bool:
        """Whether there is a mark."""
        return self.right is not None and self.back is not None

    @property
    def place(self) -> Array:
        """(right, back) in mm.  Only where there is one."""
        assert self.right is not None
        assert self.back is not None
        return np.array([self.right, self.back])


@dataclass(frozen=True, eq=False)
class HeadBank:
    """Hypotheses: which way mirror 3's screws drive, and which readings are wrong."""

    push: Mask
    """(hypotheses,): whether a clockwise turn pushes the plate."""
    mixture: GaussianMixture

    @property
    def pushes(self) -> float:
        """Probability that a clockwise turn pushes the plate."""
        return float(self.mixture.weights @ self.push)

    def likelier_drive(self) -> "HeadBank":
        """Under the likelier drive alone."""
        keep = self.push == (self.pushes >= 0.5)
        return HeadBank(self.push[keep], self.mixture.subset(keep))

    def likeliest(self) -> "HeadBank":
        """The likeliest story alone."""
        keep = self.mixture.log_weight >= self.mixture.log_weight.max()
        return HeadBank(self.push[keep], self.mixture.subset(keep))

    def heaviest(self) -> "HeadBank":
        """No more than `MOST_STORIES`: what was read wrongly before an adjustment may show after it."""
        if len(self.push) <= MOST_STORIES:
            return self
        keep = np.zeros(len(self.push), dtype=bool)
        keep[np.argsort(self.mixture.log_weight)[-MOST_STORIES:]] = True
        return HeadBank(self.push[keep], self.mixture.subset(keep))


def matrix_of(layout: HeadLayout, mark: HeadMark) -> Array:
    """H of a mark, (2, size)."""
    return layout.nozzle if mark.target == "nozzle" else layout.card(mark.lowered, lens=mark.lens)


def seen(layout: HeadLayout, bank: HeadBank, mark: HeadMark, readings: Readings) -> HeadBank:
    """The bank after one mark: every hypothesis parts into one where it was read rightly and one where it was not.

    A wrong reading is one with more noise, R + outlier²; of a nozzle's mark never more than the hole's radius.
    """
    matrix, wrong = matrix_of(layout, mark), readings.outlier_sd
    if mark.target == "nozzle":
        wrong = min(wrong, layout.lens.nozzle / 2)
    parts = []
    for chance, sd in ((1 - readings.outlier_probability, mark.sd), (readings.outlier_probability, wrong)):
        spread = mark.sd if sd == mark.sd else float(np.hypot(mark.sd, sd))
        after, told = kalman.update(bank.mixture.components, matrix, spread**2 * np.eye(2), mark.place)
        parts.append((bank.mixture.log_weight + np.log(chance) + told, after))
    log_weight = normalised(np.concatenate([weight for weight, _ in parts]))
    mixture = GaussianMixture(
        log_weight,
        np.concatenate([after.mean for _, after in parts]),
        np.concatenate([after.cov for _, after in parts]),
    )
    keep = log_weight > NEGLIGIBLE
    return HeadBank(np.concatenate([bank.push, bank.push])[keep], mixture.subset(keep)).heaviest()


def not_through(layout: HeadLayout, bank: HeadBank) -> HeadBank:
    """The bank after nothing came through: stories that hit the nozzle weigh less, w ∝ w·P(beyond its hole)."""
    at = bank.mixture.project(layout.nozzle)
    missed = beyond(at.mean, at.cov, layout.lens.nozzle / 2)
    log_weight = normalised(bank.mixture.log_weight + np.log(missed + NOT_FIRED))
    return HeadBank(bank.push, GaussianMixture(log_weight, bank.mixture.mean, bank.mixture.cov))
