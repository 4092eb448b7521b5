"""How roughly hands turn screws: what is believed to be made of a turn that was said."""

import numpy as np

from coach.belief.kalman import Array, Moments
from coach.tuning import Hands


def executed(turns: Array, last_direction: Array, hands: Hands) -> Moments:
    """Mean and variance of the turns really made when `turns` were meant, per screw.

    `last_direction` is +1 or −1 for the way a screw went last and 0 where nobody knows.  Backlash that is lost with
    probability p, of mean b and variance s², has the mean p·b and the variance p·s² + p·(1 − p)·b².
    """
    p = reversal_probability(turns, last_direction, hands)
    lost = np.minimum(hands.backlash_mean * p, np.abs(turns))
    backlash = p * hands.backlash_sd**2 + p * (1 - p) * hands.backlash_mean**2
    variance = (hands.turn_share * turns) ** 2 + hands.turn_floor**2 + backlash
    return Moments(turns - np.sign(turns) * lost, np.where(turns == 0, 0.0, variance))


def reversal_probability(turns: Array, last_direction: Array, hands: Hands) -> Array:
    """Per screw: the probability that the turn reverses the last one; 0 where nothing is turned."""
    known = np.where(last_direction == 0, hands.first_turn_reverses, turns * last_direction < 0)
    return np.asarray(np.where(turns == 0, 0.0, known))
