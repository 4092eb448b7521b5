"""Probabilities of lying within or beyond a circle, and within several circles at once, for Gaussians.

One circle: exact, by quadrature.  Several at once have no closed form; they are summed over directions with the
distance along each direction exact, which leaves an error of 0.002 above a chance of 0.9 and of 0.01 at worst, and
is the same in every call.
"""

import math
from functools import lru_cache
from itertools import combinations, product
from statistics import NormalDist

import numpy as np

from coach.belief.kalman import Array

NODES = 64
"""Chords of the disc: exact to 1e-7 for deviations down to a hundredth of the radius, to 2e-5 far below it."""
FAR = 8.0
"""Standard deviations beyond which a normal distribution holds nothing that matters (1e-15)."""
FREE = 8
"""Dimensions in which several circles are looked at: seven numbers decide where all marks lie, and an even number of
dimensions has a short formula."""
ROTATIONS = 4
"""Sets of lines along which several circles are looked at."""

_erf = np.frompyfunc(math.erf, 1, 1)


def normal_below(z: Array) -> Array:
    """Φ(z)."""
    return np.asarray(0.5 + 0.5 * np.asarray(_erf(z / math.sqrt(2.0)), dtype=float))


@lru_cache(maxsize=1)
def _gauss_legendre() -> tuple[Array, Array]:
    nodes, weights = np.polynomial.legendre.leggauss(NODES)
    return nodes, weights


def beyond(means: Array, covs: Array, radius: float) -> Array:
    """P(|z| > radius) for each z ~ N(mean, cov) in the plane; means (k, 2), covs (k, 2, 2).."""
    values, vectors = np.linalg.eigh(covs)
    narrow, wide = np.sqrt(np.maximum(values, 1e-12)).T
    out = np.hypot(means[:, 0], means[:, 1])
    chances = np.where(out > radius, 1.0, 0.0)
    open_ = np.abs(out - radius) < FAR * wide
    if open_.any():
        across, along = np.einsum("kij,ki->jk", vectors[open_], means[open_])
        chances[open_] = 1.0 - _inside(across, along, narrow[open_], wide[open_], radius)
    return np.clip(chances, 0.0, 1.0)


def _inside(across: Array, along: Array, narrow: Array, wide: Array, radius: float) -> Array:
    """P(|z| ≤ R), the ellipse's centre and deviations given across and along its wider axis.

    With t across the axis and s along it, ∫ φ(t)·[Φ(s₊) − Φ(s₋)] dt over the disc's chords s = ±√(R² − t²), by
    Gauss-Legendre over the angle t = R·sin θ (smooth at the rim), as far as the normal distribution reaches.
    Summed in the narrow direction, so that what is summed never changes faster than the nodes lie.
    """
    low = np.arcsin(np.clip((across - FAR * narrow) / radius, -1.0, 1.0))
    high = np.arcsin(np.clip((across + FAR * narrow) / radius, -1.0, 1.0))
    nodes, weights = _gauss_legendre()
    angle = low[:, None] + (high - low)[:, None] * (nodes + 1.0) / 2.0
    t, half = radius * np.sin(angle), radius * np.cos(angle)
    upper, lower = (half - along[:, None]) / wide[:, None], (-half - along[:, None]) / wide[:, None]
    chord = normal_below(upper) - normal_below(lower)
    scale = math.sqrt(2 * math.pi) * narrow[:, None]
    height = np.exp(-0.5 * ((t - across[:, None]) / narrow[:, None]) ** 2) / scale
    return np.asarray((high - low) / 2.0 * ((height * chord * half) @ weights))


def quasi_normals(count: int, size: int) -> Array:
    """`count` points spread like `size` (at most 8) independent normal numbers, more evenly than random ones.

    A Kronecker sequence of square roots of primes (Niederreiter 1978: memory), through the normal quantile.
    """
    roots = np.sqrt([2.0, 3.0, 5.0, 7.0, 11.0, 13.0, 17.0, 19.0][:size])
    uniform = (0.5 + np.outer(np.arange(1, count + 1), roots)) % 1.0
    quantile = NormalDist().inv_cdf
    return np.array([[quantile(min(max(u, 1e-12), 1 - 1e-12)) for u in row] for row in uniform])


@lru_cache(maxsize=1)
def _directions() -> Array:
    """Unit vectors along `ROTATIONS` · 120 lines in FREE = 8 dimensions, shape (lines, FREE).

    The 240 shortest vectors of the lattice E8 lie on 120 lines and average every polynomial up to degree 7 over the
    sphere exactly (a spherical 7-design: Delsarte, Goethals & Seidel 1977, memory); turned at random, no direction
    of the problem is special.
    """
    pairs = [
        np.eye(FREE)[i] + sign * np.eye(FREE)[j] for i, j in combinations(range(FREE), 2) for sign in (1.0, -1.0)
    ]
    signs = [np.array((1.0, *rest)) for rest in product((1.0, -1.0), repeat=FREE - 1) if np.prod(rest) > 0]
    lines = np.array([*pairs, *(0.5 * sign for sign in signs)]) / math.sqrt(2.0)
    rng = np.random.default_rng(20)
    return np.concatenate([lines @ np.linalg.qr(rng.standard_normal((FREE, FREE)))[0] for _ in range(ROTATIONS)])


def root_of(cov: Array) -> Array:
    """A (n, at most FREE) with A·Aᵀ = cov: the directions in which the numbers vary, widest first."""
    values, vectors = np.linalg.eigh(cov)
    return np.asarray((vectors * np.sqrt(np.maximum(values, 0.0)))[:, : -FREE - 1 : -1])


@lru_cache(maxsize=4)
def _even_normals(count: int) -> Array:
    """Points and their opposites, (FREE, count)."""
    half = quasi_normals(count // 2, FREE).T
    return np.concatenate([half, -half], axis=1)


def spread_points(mean: Array, cov: Array, count: int) -> Array:
    """`count` points spread like N(mean, cov), shape (n, count), the same in every call; cov of rank FREE at most."""
    root = root_of(cov)
    return np.asarray(mean[:, None] + root @ _even_normals(count)[: root.shape[1]])


def all_within(mean: Array, cov: Array, radius: float) -> float:
    """P(every |zᵢ| ≤ radius) for points zᵢ in the plane, jointly normal; mean (2m,) as u₁, v₁, u₂ …, cov (2m, 2m).

    z = mean + A·x with x normal in at most `FREE` dimensions.  Along a line x = t·d every circle leaves one
    interval of t, so all leave one (t₁, t₂), and its probability is that of a signed χ with `FREE` degrees of
    freedom.  Averaged over the directions d.
    """
    root = root_of(cov)
    step = root @ _directions()[:, : root.shape[1]].T  # with fewer numbers the rest of a direction moves nothing
    step_u, step_v = step[0::2], step[1::2]  # (points, directions)
    u, v = mean[0::2, None], mean[1::2, None]
    a = step_u * step_u + step_v * step_v + 1e-30
    b = step_u * u + step_v * v
    under_root = b * b - a * (u * u + v * v - radius**2)
    half = np.sqrt(np.maximum(under_root, 0.0))
    low, high = ((-b - half) / a).max(axis=0), ((-b + half) / a).min(axis=0)
    crosses = (under_root.min(axis=0) > 0) & (high > low)
    return float((_signed_chi(high[crosses]) - _signed_chi(low[crosses])).sum() / len(crosses))


def _signed_chi(t: Array) -> Array:
    """P(±χ ≤ t) with `FREE` degrees of freedom, either sign as likely: ½ + ½·sign(t)·P(χ ≤ |t|).

    For an even number 2m of degrees of freedom P(χ ≤ r) = 1 − e^(−r²/2)·Σ_{j<m} (r²/2)^j / j!.
    """
    x = np.minimum(0.5 * t**2, 700.0)
    series = 1.0 + x * (1.0 + x / 2.0 * (1.0 + x / 3.0))  # FREE // 2 = 4 terms
    tail = np.exp(-x) * series
    return np.asarray(0.5 + 0.5 * np.sign(t) * (1.0 - tail))
