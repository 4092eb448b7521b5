"""What marks are worth beside an adjustment, in minutes to a proven end.

An adjustment costs hands, the marks that prove it, and, where it was not enough, another round.  Marks cost their
minutes; then lean and nozzle are known to be good, or not to be, and the adjustment starts from less doubt.  With
y = (lean, nozzle), each over what is good, y ~ N(m, C), marks that leave C' bring m' ~ N(m, C − C'): so what they may
tell is weighed before they are made.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from coach.belief.chances import normal_below, spread_points
from coach.belief.kalman import Array
from coach.head.belief import HeadBelief
from coach.head.layout import BED, PLACE_IN, PLACE_OUT, HeadLayout
from coach.head.marks import HeadMark, matrix_of
from coach.head.prior import ANYWHERE
from coach.optics.below import least_lowered

POINTS = 48
"""Outcomes of marks that are looked at."""
KEPT = slice(0, BED)
"""What an adjustment may change of the state, mirror 3's answers apart."""


@dataclass(frozen=True)
class Look:
    """So many more marks of each kind: on the card high and low, and under the nozzle."""

    high: int
    low: int
    nozzle: int

    @property
    def count(self) -> int:
        """Pulses."""
        return self.high + self.low + self.nozzle


LOOKS = tuple(
    Look(*counts)
    for counts in (
        (0, 0, 1), (0, 0, 2), (0, 0, 4), (1, 0, 0), (0, 1, 0), (1, 1, 0), (2, 2, 0), (3, 3, 0),
        (1, 1, 1), (1, 1, 2), (2, 2, 1), (2, 2, 2), (3, 3, 2), (4, 4, 2), (4, 4, 4),
    )
)  # fmt: skip
PROOF = Look(4, 4, 3)
"""What an adjustment is proven by at most …"""
USUALLY = 6
"""… and the marks that it usually takes."""


def two_heights(belief: HeadBelief) -> tuple[float, float]:
    """mm below the usual height for a pair of marks, lens in: off the focus, and as low as the bed went yet."""
    head = belief.tuning.head
    least = least_lowered(head.card_sd, head.lean)
    low = belief.deepest if belief.deepest > least else head.lowered
    return max(0.0, min(head.off_focus, low - math.ceil(least))), low


def shots(belief: HeadBelief, look: Look) -> list[HeadMark]:
    """The marks of a look, as they would be read."""
    head, (high, low) = belief.tuning.head, two_heights(belief)
    card = math.hypot(head.card_sd, head.bed_play)
    return [
        *[HeadMark("bed", 0.0, 0.0, card, high)] * look.high,
        *[HeadMark("bed", 0.0, 0.0, card, low)] * look.low,
        *[HeadMark("nozzle", 0.0, 0.0, head.nozzle_sd)] * look.nozzle,
    ]


def left_by(layout: HeadLayout, cov: Array, marks: Sequence[HeadMark]) -> Array:
    """The state's covariance once these marks are read: P − P·Hᵀ·(H·P·Hᵀ + R)⁻¹·H·P."""
    matrix = np.concatenate([matrix_of(layout, mark) for mark in marks])
    noise = np.diag(np.repeat([mark.sd**2 for mark in marks], 2))
    crossed = cov @ matrix.T
    return np.asarray(cov - crossed @ np.linalg.solve(matrix @ crossed + noise, crossed.T))


def nearly_good(means: Array, covs: Array) -> Array:
    """P(both within 1) for means (n, 4) and their covariances, to 0.02, as only forecasts are made of it: (n,)."""
    lean, nozzle = slice(0, 2), slice(2, 4)
    return _within(means[:, lean], covs[:, lean, lean]) * _within(means[:, nozzle], covs[:, nozzle, nozzle])


def _within(means: Array, covs: Array) -> Array:
    """P(|z| ≤ 1): as if √(|m|² + s²) off, s the deviation across, and as doubtful as it is along its direction."""
    far = np.hypot(*means.T) + 1e-9
    way = means / far[:, None]
    along = np.maximum(np.einsum("ni,nij,nj->n", way, covs, way), 1e-12)
    across = np.maximum(np.trace(covs, axis1=1, axis2=2) - along, 0.0)
    return normal_below((1.0 - np.sqrt(far**2 + across)) / np.sqrt(along))


@dataclass(frozen=True, eq=False)
class Prospect:
    """What hands would make of lean and nozzle, before the marks that prove it."""

    hands: float
    """Minutes."""
    mean: Array
    """Of the whole state, (size,)."""
    added: Array
    """What rough hands and doubtful answers add to its covariance, (size, size)."""

    @classmethod
    def of(cls, before: HeadBelief, after: HeadBelief, hands: float) -> "Prospect":
        """From the belief before and after what is done."""
        mean, cov = after.moments
        added = np.zeros_like(cov)
        added[KEPT, KEPT] = (cov - before.moments.cov)[KEPT, KEPT]
        return cls(hands, mean, added)

    def minutes(self, belief: HeadBelief, covs: Sequence[Array]) -> Array:
        """From each of these covariances of the state: minutes to a proven end."""
        costs, head, wanted = belief.tuning.costs, belief.tuning.head, belief.layout.wanted
        starts = [_card_anew(cov) + self.added for cov in covs]
        marks = shots(belief, PROOF)
        likely = _proven(belief, self.mean, starts, [left_by(belief.layout, start, marks) for start in starts])
        at, spread = wanted @ self.mean, [np.trace(wanted @ start @ wanted.T) for start in starts]
        off = np.sqrt(at @ at + np.maximum(spread, 1e-6))  # a turn that tells stories apart may take doubt away
        again = head.another_round + costs.farther * np.maximum(0.0, np.log(off / costs.close))
        return np.asarray(self.hands + USUALLY * costs.pulse + (1 - likely) * again)


def best_look(belief: HeadBelief, otherwise: Prospect | None) -> tuple[HeadMark, float]:
    """The mark to make first, and the minutes, of the look from which the end comes soonest.

    `otherwise`: what is adjusted if it proves nothing; None: nothing can be.
    """
    (mean, cov), minute = belief.moments, belief.tuning.costs.pulse
    after = [left_by(belief.layout, cov, shots(belief, look)) for look in LOOKS]
    likely = _proven(belief, mean, [cov] * len(LOOKS), after)
    then = otherwise.minutes(belief, after) if otherwise else belief.tuning.head.another_round
    minutes = np.array([look.count for look in LOOKS]) * minute + (1 - likely) * then
    best = int(np.argmin(minutes))
    return _most_telling(belief, shots(belief, LOOKS[best])), float(minutes[best])


def _proven(belief: HeadBelief, mean: Array, before: Sequence[Array], after: Sequence[Array]) -> Array:
    """How likely marks that bring the state's covariance from each `before` to its `after` prove it good."""
    wanted = belief.layout.wanted
    left = [wanted @ less @ wanted.T for less in after]
    told = [wanted @ cov @ wanted.T - each for cov, each in zip(before, left, strict=True)]
    means = np.concatenate([spread_points(wanted @ mean, cov, POINTS).T for cov in told])
    good = nearly_good(means, np.repeat(left, POINTS, axis=0)) >= belief.tuning.head.done
    return np.asarray(good.reshape(len(left), POINTS).mean(axis=1))


def _most_telling(belief: HeadBelief, marks: Sequence[HeadMark]) -> HeadMark:
    """The mark that leaves least open of lean and nozzle, each over what is good: trace of the covariance."""
    wanted, cov = belief.layout.wanted, belief.moments.cov
    return min(marks, key=lambda mark: float(np.trace(wanted @ left_by(belief.layout, cov, [mark]) @ wanted.T)))


def _card_anew(cov: Array) -> Array:
    """Where marks lie on a card tells nothing after an adjustment."""
    places = slice(PLACE_OUT, PLACE_IN + 2)
    anew = cov.copy()
    anew[places, :] = anew[:, places] = 0.0
    anew[places, places] = ANYWHERE**2 * np.eye(4)
    return anew
