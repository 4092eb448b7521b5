"""Which readings of a round are wrong, when it may be two of them: every such story weighed beside every other.

One wrong reading is told by leaving it out (`coach.belief.consistency`).  Two hide each other, and together they look
like a part that is loose: so before that is believed, the stories "all are right", "this one is wrong" and "these two
are wrong" are weighed under every explanation of the machine.  A wrong reading is one with more noise, so that each
story is one Gaussian for all readings together: z ~ N(H·x, H·P·Hᵀ + R + D).
"""

from dataclasses import dataclass
from itertools import combinations

import numpy as np

from coach.belief.bank import Bank
from coach.belief.consistency import Evidence
from coach.belief.kalman import Array, log_density
from coach.belief.mixture import GaussianMixture, normalised
from coach.tuning import Readings

TINY = 1e-300
"""A probability that is none, but has a logarithm."""


@dataclass(frozen=True, eq=False)
class Stories:
    """What the readings say together."""

    wrong: Array
    """(readings,): the probability that each is wrong."""
    bank: Bank
    """The bank before the readings, each hypothesis as likely as it is after them, whichever of them are wrong."""


def stories(before: Evidence, tuning: Readings) -> Stories:
    """All stories with up to two wrong readings; `before` holds the bank that has not absorbed the readings yet."""
    count = len(before.readings)
    told = [story for size in range(3) for story in combinations(range(count), size) if _apart(before, story)]
    flat = before.matrices.reshape(2 * count, -1)
    mixture = before.bank.mixture
    spread = flat @ mixture.cov @ flat.T
    for index in range(count):
        part = slice(2 * index, 2 * index + 2)
        spread[:, part, part] += before.noises[index]
    error = before.readings.reshape(-1) - mixture.mean @ flat.T
    left_out = np.array([[float(index in story) for index in range(count)] for story in told])
    more = tuning.outlier_sd**2 * np.repeat(left_out, 2, axis=1)
    log_weight = np.stack([_log_evidence(error, spread, extra) for extra in more]) + mixture.log_weight
    log_weight += (left_out.sum(axis=1) * np.log(tuning.outlier_probability))[:, None]
    weight = np.exp(log_weight - log_weight.max())
    weight /= weight.sum()
    likely = normalised(np.log(np.maximum(weight.sum(axis=0), TINY)))
    bank = before.bank.with_mixture(GaussianMixture(likely, mixture.mean, mixture.cov))
    return Stories(weight.sum(axis=1) @ left_out, bank)


def _apart(before: Evidence, story: tuple[int, ...]) -> bool:
    """Whether the readings are of different places: two of one place speak for the place, not for two slips."""
    return all(not np.array_equal(before.matrices[i], before.matrices[j]) for i, j in combinations(story, 2))


def _log_evidence(error: Array, spread: Array, extra: Array) -> Array:
    """(hypotheses,): log N(z − H·x; 0, S + diag(extra))."""
    return log_density(error, spread + np.diag(extra))
