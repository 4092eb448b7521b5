"""The lens in the head: where a decentred or tilted beam is focused, and how small.

Thin lens and paraxial rays (Kogelnik & Li, Appl. Opt. 5, 1550 (1966)); a decentre s turns the ray by s/f
(Burge, Proc. SPIE 6288 (2006)).
"""

import math

import numpy as np
from numpy.typing import NDArray

from coach.errors import OutOfReach
from coach.optics.gaussian import CO2_WAVELENGTH_UM

Matrix = NDArray[np.float64]
"""A 2 × 2 ray matrix for (offset in mm, slope in rad)."""


def free_space(length: float) -> Matrix:
    """Ray matrix of `length` mm of air: [[1, z], [0, 1]]."""
    return np.array([[1.0, length], [0.0, 1.0]])


def thin_lens(focal_length: float) -> Matrix:
    """Ray matrix of a thin lens of `focal_length` mm: [[1, 0], [−1/f, 1]]."""
    if focal_length == 0.0:
        raise OutOfReach("A focal length of zero cannot be", expected="mm, for example 50.8")
    return np.array([[1.0, 0.0], [-1.0 / focal_length, 1.0]])


def focus_tilt(offset: float, focal_length: float) -> float:
    """Tilt in mrad of the focused beam for an offset in mm at the lens: d/f.  The cut leans by as much."""
    return -1000.0 * float(thin_lens(focal_length)[1, 0]) * offset


def focus_diameter(
    focal_length: float, beam_diameter: float, m2: float = 1.0, wavelength_um: float = CO2_WAVELENGTH_UM
) -> float:
    """1/e² diameter of the focus in µm: 4·λ·f·M² / (π·D), f and the beam's diameter D in mm.

    Raises OutOfReach unless the beam's diameter is above zero.
    """
    if not beam_diameter > 0.0:
        raise OutOfReach(f"A beam of diameter {beam_diameter:g} cannot be", expected="mm above zero")
    return 4.0 * wavelength_um * focal_length * m2 / (math.pi * beam_diameter)


_ZNSE_TERMS = ((4.45813734, 0.200859853), (0.467216334, 0.391371166), (2.89566290, 47.1362108))
"""B and C (µm) of each term, Connolly 1979 in the refractiveindex.info database."""


def zinc_selenide_index(wavelength_um: float = CO2_WAVELENGTH_UM) -> float:
    """Refractive index of zinc selenide: n² − 1 = Σ B·λ² / (λ² − C²), fitted for 0.54 to 18.2 µm.

    Raises OutOfReach outside that range.
    """
    if not 0.54 <= wavelength_um <= 18.2:
        raise OutOfReach(f"The index at {wavelength_um:g} µm is not known", expected="0.54 to 18.2 µm")
    squared = wavelength_um**2
    return math.sqrt(1.0 + sum(b * squared / (squared - c**2) for b, c in _ZNSE_TERMS))


def tilted_plate_shift(thickness: float, degrees: float, index: float) -> float:
    """Sideways shift in mm of a beam through a flat plate, such as the combiner of beam and pointer.

        t·sin i·(1 − cos i / √(n² − sin² i))        (Hecht, Optics: memory)

    `degrees`: the angle of incidence.  Raises OutOfReach unless 0 ≤ degrees < 90, thickness ≥ 0 and index ≥ 1.
    """
    if not (0.0 <= degrees < 90.0 and thickness >= 0.0 and index >= 1.0):
        raise OutOfReach(
            f"A plate of {thickness:g} mm and index {index:g} at {degrees:g}° cannot be",
            expected="a thickness from 0 mm, an angle from 0° to below 90°, an index from 1",
        )
    i = math.radians(degrees)
    return thickness * math.sin(i) * (1.0 - math.cos(i) / math.sqrt(index**2 - math.sin(i) ** 2))
