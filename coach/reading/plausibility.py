"""Asks before something unlikely is believed.  Nothing is swallowed: the person decides, and may keep it.

Each function returns a `Question` or None.  A reading that is kept in spite of one carries a wider doubt.
"""

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from coach.errors import OutOfReach
from coach.reading.model import Question, Reading
from coach.shown import Unit, show_inches, show_length, show_millimetres, show_mm
from coach.threads import MM_PER_INCH

SMALLEST_APERTURE = 3.0
LARGEST_APERTURE = 60.0
"""Openings of this trade lie between these diameters, mm (common practice)."""
CHI_SQUARE_99 = 9.210
"""Upper 0.99 point for two degrees of freedom (NIST/SEMATECH handbook §1.3.6.7.4, from memory)."""
LARGEST_SD = 100.0
"""No doubt wider than this is carried on, mm."""


def question_aperture(diameter_mm: float, unit: Unit) -> Question | None:
    """Asks about an opening below 3 or above 60 mm; `unit` is the one in which it was typed.

    Offers the value in the other unit when that one is likely.  Raises OutOfReach for what is no size.
    """
    if not 0 < diameter_mm < math.inf:
        raise OutOfReach(
            "The opening's diameter must be more than nothing", expected="a length", example="18 mm or 3/4 in"
        )
    if SMALLEST_APERTURE <= diameter_mm <= LARGEST_APERTURE:
        return None
    other: Unit = "in" if unit == "mm" else "mm"
    meant = diameter_mm * MM_PER_INCH if other == "in" else diameter_mm / MM_PER_INCH
    likely = SMALLEST_APERTURE <= meant <= LARGEST_APERTURE
    typed = show_millimetres(diameter_mm, 2) if unit == "mm" else show_inches(diameter_mm)
    text = f"{show_inches(meant)}, that is {show_millimetres(meant)}" if other == "in" else show_millimetres(meant)
    size = "small" if diameter_mm < SMALLEST_APERTURE else "large"
    sentence = f"An opening of {typed} across is unusually {size}."
    if likely:
        sentence += f" Did you mean {text}?"
    return Question("aperture", sentence, meant if likely else None, text if likely else "")


def question_outside(u: float, v: float, aperture_diameter: float | None, tape_radius: float) -> Question | None:
    """Asks about a mark whose centre lies outside the imprint, or where the tape cannot be read any more.

    `aperture_diameter` None: the opening is not known, only the tape is looked at.  All in mm.
    """
    distance = math.hypot(u, v)
    if distance > tape_radius:
        return Question(
            "beyond-tape",
            f"This mark would lie {show_length(distance)} from the centre, but marks can be read only up to "
            f"{show_length(tape_radius)}. Measure again, or keep it with a wider doubt.",
            out_by=distance - tape_radius,
        )
    if aperture_diameter is not None and distance > aperture_diameter / 2:
        return Question(
            "outside-imprint",
            f"This mark's centre would lie {show_length(distance)} from the centre, outside the imprint, "
            f"whose rim is at {show_length(aperture_diameter / 2)}. Keep it if that is what you see.",
            out_by=distance - aperture_diameter / 2,
        )
    return None


def question_far(
    u: float,
    v: float,
    expected_u: float,
    expected_v: float,
    cov: NDArray[np.float64] | Sequence[Sequence[float]],
    sd: float,
) -> Question | None:
    """Asks about a reading far from what the belief expected.

    Far: δᵀ(C + sd²·I)⁻¹δ above the 0.99 point of χ² with two degrees of freedom; C is the belief's
    covariance of the expected offset, sd the reading's own doubt (above 0).  When the mirrored reading
    would fit, the other face of the tape is suggested: `suggestion` is then the mirrored u.  All in mm.
    """
    spread = np.asarray(cov, dtype=np.float64) + sd**2 * np.eye(2)
    seen, expected = np.array([u, v]), np.array([expected_u, expected_v])
    if _distance_squared(seen - expected, spread) <= CHI_SQUARE_99:
        return None
    out_by = float(np.linalg.norm(seen - expected))
    doubt = math.sqrt(float(np.linalg.eigvalsh(spread)[-1]))
    mirror_fits = _distance_squared(np.array([-u, v]) - expected, spread) <= CHI_SQUARE_99
    sentence = (
        f"Expected right {show_mm(expected_u)}, up {show_mm(expected_v)} (doubt {show_length(doubt)}), "
        f"but seen right {show_mm(u)}, up {show_mm(v)}: {show_length(out_by)} away."
    )
    if mirror_fits:
        sentence += " Was the tape looked at from its sticky side?"
    sentence += " Measure again, or keep it with a wider doubt."
    text = f"right {show_mm(-u)}, as seen from the other face" if mirror_fits else ""
    return Question("far", sentence, -u if mirror_fits else None, text, out_by)


def doubtful_sd(reading: Reading) -> float:
    """The doubt to carry on when a questioned reading is kept: at least half of how far it was out, mm."""
    worst = max((question.out_by for question in reading.questions), default=0.0)
    return min(max(reading.sd, worst / 2), LARGEST_SD)


def _distance_squared(gap: NDArray[np.float64], spread: NDArray[np.float64]) -> float:
    return float(gap @ np.linalg.solve(spread, gap))
