"""What a lens that takes up light does to the focus: it warms, and is a weak lens of its own.

    f_th = π·κ·w² / (P·A·dn/dT)        Innocenzi and others, Appl. Phys. Lett. 56, 1831 (1990) (memory)
    Δf = f² / f_th                     to first order, toward the lens where dn/dT is above zero

κ the conductivity and dn/dT the index's change, both of zinc selenide (Klocek: memory); an order of magnitude.
"""

import math

from coach.errors import OutOfReach

CONDUCTIVITY = 18.0
"""W/(m·K), zinc selenide."""
INDEX_PER_KELVIN = 6.1e-5
"""1/K, zinc selenide at 10.6 µm."""
MM_PER_M = 1000.0


def thermal_focal_length(absorbed: float, power: float, beam_radius: float) -> float:
    """f_th in METRES of a lens that takes up that share of `power` W; the beam's 1/e² radius there in mm.

    Raises OutOfReach unless all are above zero and the share at most 1.
    """
    if not (0 < absorbed <= 1 and power > 0 and beam_radius > 0):
        raise OutOfReach(
            f"A lens that takes up {absorbed:g} of {power:g} W in a beam of {beam_radius:g} mm",
            expected="a share from 0 to 1, and W and mm above zero",
            example="0.02 of 60 W in 4 mm",
        )
    return math.pi * CONDUCTIVITY * (beam_radius / MM_PER_M) ** 2 / (power * absorbed * INDEX_PER_KELVIN)


def focus_moves(focal_length: float, absorbed: float, power: float, beam_radius: float) -> float:
    """mm by which the focus of a lens of `focal_length` mm moves toward it as it warms: f² / f_th."""
    return focal_length**2 / (thermal_focal_length(absorbed, power, beam_radius) * MM_PER_M)


def absorbed_for(focal_length: float, moved: float, power: float, beam_radius: float) -> float:
    """The share of the power that a lens takes up whose focus moved by `moved` mm as it warmed; 1 at the most."""
    return min(1.0, moved / focus_moves(focal_length, 1.0, power, beam_radius))
