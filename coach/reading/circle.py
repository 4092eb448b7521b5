"""A circle through points of a mark's rim: for a scorch that is bigger than a point.

The geometric fit: the centre and radius that minimise Σ (distance of a point from the circle)², after
Gander, Golub and Strebel, BIT 34 (1994) 558; the algebraic circle serves only as its start.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from coach.errors import InputError
from coach.reading.face import Face, seen_on
from coach.reading.leastsquares import Vector, fit
from coach.reading.model import EDGE_SD, SMALLEST_SD, SPAN_SD, Question, Reading, within_reach
from coach.shown import IN_MM, Wording

ROUGH = 3.0
"""Points further from their circle than so many doubts are asked about."""


@dataclass(frozen=True)
class Circle:
    """Centre and radius, mm, with standard uncertainties for points of the doubt that was given."""

    u: float
    v: float
    radius: float
    sd_u: float
    sd_v: float
    sd_radius: float
    residuals: tuple[float, ...]
    """Distance of each point from the circle, outside positive, mm."""


def fit_circle(points: Sequence[tuple[float, float]], sd: float = SPAN_SD) -> Circle:
    """The geometric circle through at least three points.  Raises InputError when they lie on one line."""
    rim = np.array(points, dtype=np.float64).reshape(-1, 2)
    if not _enclose(rim):
        raise InputError(
            f"No circle goes through these {len(rim)} points",
            expected="at least three points of the mark's rim, well apart and not on one line",
        )
    middle = rim.mean(axis=0)
    centred = rim - middle

    def model(parameters: Vector) -> tuple[Vector, Vector]:
        across = centred - parameters[:2]
        distance = np.maximum(np.linalg.norm(across, axis=1), 1e-12)
        slopes = np.column_stack([-across / distance[:, None], -np.ones(len(across))])
        return (distance - parameters[2]) / sd, slopes / sd

    best = fit(model, _algebraic(centred))
    u, v, radius = best.parameters
    sd_u, sd_v, sd_radius = np.sqrt(np.diag(best.covariance))
    off = tuple(float(r) for r in best.residuals * sd)
    return Circle(
        float(u + middle[0]),
        float(v + middle[1]),
        abs(float(radius)),
        float(sd_u),
        float(sd_v),
        float(sd_radius),
        off,
    )


def _enclose(rim: Vector) -> bool:
    """Whether the points are numbers, at least three, and spread over both directions."""
    if len(rim) < 3 or not np.all(np.isfinite(rim)):
        return False
    spread = np.linalg.svd(rim - rim.mean(axis=0), compute_uv=False)
    return bool(spread[1] > 1e-6 * spread[0])


def _algebraic(points: Vector) -> Vector:
    """Start: least squares of x² + y² = 2·a·x + 2·b·y + c, linear in a, b, c."""
    design = np.column_stack([2 * points, np.ones(len(points))])
    a, b, c = np.linalg.lstsq(design, np.sum(points**2, axis=1), rcond=None)[0]
    return np.array([a, b, math.sqrt(max(c + a * a + b * b, 0.0))])


def from_rim(points: Sequence[tuple[float, float]], *, face: Face = "outer", wording: Wording = IN_MM) -> Reading:
    """A mark's centre from points of its rim, each (right, up) of the aperture's centre in mm.

    The aperture's centre is judged once for all points, so its doubt does not average out.
    Raises InputError.
    """
    for right, up in points:
        within_reach(right, "a rim point's offset to the right", wording)
        within_reach(up, "a rim point's offset upwards", wording)
    circle = fit_circle(points)
    sd = max(SMALLEST_SD, math.hypot(max(circle.sd_u, circle.sd_v), EDGE_SD))
    typed = {"method": "rim", "points": "; ".join(f"{right:g}, {up:g} mm" for right, up in points)}
    reading = Reading(circle.u, circle.v, sd, "rim", width=2 * circle.radius, typed=typed).asked(
        _question_round(circle)
    )
    return seen_on(reading, face)


@dataclass(frozen=True)
class NotRound(Question):
    """Points that do not lie on one circle."""

    worst: float
    """Distance of the worst point from the circle, mm."""

    @property
    def out_by(self) -> float:
        return self.worst

    def sentence(self, wording: Wording) -> str:
        return (
            f"These points do not lie on one circle: one is {wording.length(self.worst)} off. "
            "Measure again, or keep the reading with a wider doubt."
        )


def _question_round(circle: Circle) -> NotRound | None:
    worst = max(abs(off) for off in circle.residuals)
    return NotRound(worst) if worst > ROUGH * SPAN_SD else None
