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

    F = P[χ'²(df 2, nc 4d²/w²) ≤ 4a²/w²] = Σⱼ Poisson(j; 2d²/w²) · P[Poisson(2a²/w²) > j]

    (Marcum 1950: 1 − Q₁(2d/w, 2a/w)).  Good to 1e-11.  Raises OutOfReach unless w > 0 and a ≥ 0.
    """
    centred = centred_fraction(a, w)
    d = abs(d)
    if d == 0.0 or a == 0.0:
        return centred
    if a - d > _CERTAIN * w:
        return 1.0
    if d - a > _CERTAIN * w:
        return 0.0
    decentre, opening = 2.0 * (d / w) ** 2, 2.0 * (a / w) ** 2
    largest = max(decentre, opening)
    count = int(largest + 12.0 * math.sqrt(largest)) + 60
    weight = _poisson(decentre, count)
    # Summed from the far end, so that the small tail probabilities keep their digits.
    at_least = np.cumsum(_poisson(opening, count)[::-1])[::-1]
    return min(1.0, float(np.dot(weight[:-1], at_least[1:])))


def _poisson(mean: float, count: int) -> NDArray[np.float64]:
    """Poisson probabilities of 0 … count − 1, where count lies so far out that nothing is beyond it.

    Built up from the likeliest number by p(j) = p(j − 1)·mean/j in logarithms and then normalised:
    nothing overflows or vanishes early, and rounding does not grow with the mean.
    """
    steps = np.log(mean / np.arange(1, count, dtype=np.float64))
    likeliest = min(int(mean), count - 1)
    above = np.cumsum(steps[likeliest:])
    below = -np.cumsum(steps[:likeliest][::-1])[::-1]
    relative = np.exp(np.concatenate((below, [0.0], above)))
    return np.asarray(relative / relative.sum(), dtype=np.float64)
