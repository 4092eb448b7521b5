"""How far off its focus a beam still cuts: the waist behind the lens, its depth, and what is left beside it.

Kogelnik & Li, Appl. Opt. 5, 1550 (1966); M² multiplies the wavelength (ISO 11146-1).
"""

from coach.errors import OutOfReach
from coach.optics.gaussian import CO2_WAVELENGTH_UM, rayleigh_range
from coach.optics.lens import focus_diameter

UM_PER_MM = 1000.0


def focus_radius(focal_length: float, beam_radius: float, m2: float = 1.0) -> float:
    """1/e² radius of the focus in µm: w0 = M²·λ·f / (π·w), f and the beam's radius w at the lens in mm.

    Raises OutOfReach unless w is above zero.
    """
    return focus_diameter(focal_length, 2 * beam_radius, m2, CO2_WAVELENGTH_UM) / 2


def depth_of_focus(focal_length: float, beam_radius: float, m2: float = 1.0) -> float:
    """z_R in mm, to either side: there the spot is √2 wider than at the focus.  z_R = π·w0² / (M²·λ).

    Raises OutOfReach unless f and w are above zero.
    """
    waist = focus_radius(focal_length, beam_radius, m2) / UM_PER_MM
    return rayleigh_range(waist, m2=m2) * UM_PER_MM


def peak_left(off_focus: float, depth: float) -> float:
    """What is left of the peak intensity that many mm off the focus: 1 / (1 + (Δ/z_R)²).

    Raises OutOfReach unless the depth z_R is above zero.
    """
    if not depth > 0:
        raise OutOfReach(f"A depth of focus of {depth:g} mm cannot be", expected="mm above zero", example="0.92")
    return 1.0 / (1.0 + (off_focus / depth) ** 2)
