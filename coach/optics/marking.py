"""How wide a mark a pulse leaves: Liu's law for a Gaussian beam over a sharp threshold.

    D² = 2·w²·ln(E / E_th)        D the mark's diameter, w the 1/e² radius, E the pulse's energy

J. M. Liu, Opt. Lett. 7, 196 (1982).  Only ratios of energies are asked for, so any measure of the dose will do
that is proportional to the energy: of pulses at one power, their time.
"""

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def threshold(dose: Array, width: Array, radius: Array) -> Array:
    """The dose that just marks, in the dose's own measure: E·exp(−D² / (2·w²)); shapes are broadcast."""
    return np.asarray(dose * np.exp(-(width**2) / (2 * radius**2)), dtype=np.float64)
