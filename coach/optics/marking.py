"""How wide a mark a pulse leaves: Liu's law for a Gaussian beam over a sharp threshold.

    D² = 2·w²·ln(E / E_th)        D the mark's diameter, w the 1/e² radius, E the pulse's energy

J. M. Liu, Opt. Lett. 7, 196 (1982).  Only ratios of energies are asked for, so any measure of the dose will do
that is proportional to the energy: of pulses at one power, their time.
"""

import math

import numpy as np
from numpy.typing import NDArray

from coach.errors import OutOfReach

Array = NDArray[np.float64]


def radius_from_widths(d1: float, e1: float, d2: float, e2: float) -> float:
    """1/e² radius in mm from two marks, D mm wide at doses E: w = √((D2² − D1²) / (2·ln(E2/E1))).

    Raises OutOfReach unless the larger dose made the wider mark.
    """
    if min(d1, e1, d2, e2) <= 0 or e1 == e2 or (d2 - d1) * (e2 - e1) <= 0:
        raise OutOfReach(
            f"Marks of {d1:g} and {d2:g} mm at doses {e1:g} and {e2:g}", expected="more dose, more width"
        )
    return math.sqrt((d2**2 - d1**2) / (2 * math.log(e2 / e1)))


def threshold(dose: Array, width: Array, radius: Array) -> Array:
    """The dose that just marks, in the dose's own measure: E·exp(−D² / (2·w²)); shapes are broadcast."""
    return np.asarray(dose * np.exp(-(width**2) / (2 * radius**2)), dtype=np.float64)
