"""How wide the beam is, and how much of it passes a round opening.

The beam's profile is taken as Gaussian, with `w` the 1/e² radius of its intensity.  Sources: Kogelnik & Li,
Appl. Opt. 5, 1550 (1966); Siegman, Lasers, §17.1; M² multiplies the wavelength (ISO 11146-1).
"""

import math

import numpy as np
from numpy.typing import NDArray

from coach.errors import OutOfReach

CO2_WAVELENGTH_UM = 10.6
_CERTAIN = 4.5
"""Beyond this many w inside (or outside) the rim less than 1e-17 of the beam is (or is not) cut off."""
_AT_ONCE = 200_000
"""Numbers that are worked out at once at most."""


def _more_than_zero(**values: float) -> None:
    for name, value in values.items():
        if not (value > 0 and math.isfinite(value)):
            raise OutOfReach(f"{name} = {value:g} cannot be", expected="a number above zero")


def rayleigh_range(waist_mm: float, wavelength_um: float = CO2_WAVELENGTH_UM, m2: float = 1.0) -> float:
    """Distance in METRES from the waist at which the beam is √2 wider: z_R = π·w0² / (λ·M²).

    Raises OutOfReach for values that are not above zero.
    """
    _more_than_zero(waist_mm=waist_mm, wavelength_um=wavelength_um, m2=m2)
    return math.pi * waist_mm**2 / (wavelength_um * m2)  # mm²/µm = m


def beam_radius(z_m: float, waist_mm: float, wavelength_um: float = CO2_WAVELENGTH_UM, m2: float = 1.0) -> float:
    """1/e² radius in mm at `z_m` METRES from the waist: w = w0·√(1 + (z/z_R)²)."""
    return waist_mm * math.hypot(1.0, z_m / rayleigh_range(waist_mm, wavelength_um, m2))


def centred_fraction(a: float, w: float) -> float:
    """Part of the power that passes a round opening of radius a, beam centred: 1 − exp(−2a²/w²)."""
    _more_than_zero(w=w)
    if a < 0:
        raise OutOfReach(f"An opening of radius {a:g} cannot be", expected="zero or more")
    return -math.expm1(-2.0 * (a / w) ** 2)


def passed_fraction(a: float, w: float, d: float) -> float:
    """Part of the power that passes a round opening of radius a with the beam decentred by d (same unit).

    As `passed_fractions`, for one place of the beam.
    """
    return float(passed_fractions(a, w, np.array([d], dtype=np.float64))[0])


def passed_fractions(a: float, w: float, d: NDArray[np.float64]) -> NDArray[np.float64]:
    """The same for each of some places of the beam; d and the result have the shape (n,).

    F = P[χ'²(df 2, nc 4d²/w²) ≤ 4a²/w²] = Σⱼ Poisson(j; 2d²/w²) · P[Poisson(2a²/w²) > j]

    (Marcum 1950: 1 − Q₁(2d/w, 2a/w)).  Good to 1e-11.  Raises OutOfReach unless w > 0 and a ≥ 0.
    """
    centred, d = centred_fraction(a, w), np.abs(d)
    passed = np.where(d < a, 1.0, 0.0)
    passed[(d == 0.0) | (a == 0.0)] = centred
    rim = np.flatnonzero((np.abs(a - d) <= _CERTAIN * w) & (d > 0.0) & (a > 0.0))
    if not len(rim):
        return passed
    decentre, opening = 2.0 * (d[rim] / w) ** 2, 2.0 * (a / w) ** 2
    largest = max(float(decentre.max()), opening)
    count = int(largest + 12.0 * math.sqrt(largest)) + 60
    # Summed from the far end, so that the small tail probabilities keep their digits.
    at_least = np.cumsum(_poisson(np.array([opening]), count)[0, ::-1])[::-1]
    for some in np.array_split(np.arange(len(rim)), -(-len(rim) * count // _AT_ONCE)):
        passed[rim[some]] = np.minimum(1.0, _poisson(decentre[some], count)[:, :-1] @ at_least[1:])
    return passed


def _poisson(means: NDArray[np.float64], count: int) -> NDArray[np.float64]:
    """Poisson probabilities of 0 … count − 1, a row for each mean, count lying so far out that nothing is beyond.

    Built up from the likeliest number by p(j) = p(j − 1)·mean/j in logarithms and then normalised:
    nothing overflows or vanishes early, and rounding does not grow with the mean.
    """
    number = np.arange(1, count, dtype=np.float64)
    steps = np.log(means[:, np.newaxis] / number)
    is_above = number > np.floor(means)[:, np.newaxis]
    none = np.zeros((len(means), 1))
    above = np.cumsum(np.where(is_above, steps, 0.0), axis=1)
    below = np.cumsum(np.where(is_above, 0.0, steps)[:, ::-1], axis=1)[:, ::-1]
    relative = np.exp(np.hstack((none, above)) - np.hstack((below, none)))
    return np.asarray(relative / relative.sum(axis=1, keepdims=True), dtype=np.float64)
