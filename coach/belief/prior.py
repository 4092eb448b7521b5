"""What is believed before the first mark: sizes from the trade's experience, answers from the geometry.

The standard deviations below are common practice (no published source): a machine that has drifted or
been moved is out by a few mrad and a millimetre or two; owners measure a mount's points with a ruler.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

import numpy as np

from coach.belief.gaussian import Array
from coach.belief.layout import A1_U, C_U, M_U, PER_SCREW, Layout
from coach.machine import Learned, Machine, Mount, Side
from coach.optics.legs import leg_lengths
from coach.optics.mounts import answers

SD_OFFSET = 2.0
"""mm, each axis, at the head."""
SD_OFFSET_MIRROR2 = 3.0
"""mm, each axis, at mirror 2's own opening."""
SD_SLOPE = 5.0
"""mrad, each axis of each leg."""
SD_SCALE_COMMON, SD_SCALE_OWN = 0.15, 0.12
"""Relative doubt about the answers' size: shared by a mount's screws, and each screw's own."""
SD_ANGLE_COMMON, SD_ANGLE_OWN = 0.17, 0.12
"""rad, doubt about the answers' direction, likewise."""
SD_RISE = 0.25
"""Of the screw's advance: doubt about the sideways shift that comes with a turn."""
WRONG_DRIVE = 0.03
"""Chance that a profile that says push or pull has it the wrong way round."""
FORGET_PER_YEAR = 0.10
"""Relative doubt added to learned answers for every year since."""
FORGET_FLOOR = 0.02
GUESSED_GAP = 50.0
"""mm, doubt about a gap that nobody measured: so much longer or shorter is the leg."""
GUESSED_POINTS_SCALE, GUESSED_POINTS_ANGLE = 0.3, 0.35
"""Relative doubt about the answers' size, and rad about their direction, where nobody measured a mount's points."""
GUESSED_THREAD = 0.3
"""Relative doubt about the answers' size where nobody knows the thread: M3 to M6 lie this far around M4."""


@dataclass(frozen=True)
class MountPrior:
    """One mount's screw answers for a pushing drive, and the chance that it pushes."""

    mean: Array
    cov: Array
    push: float


def state_prior(layout: Layout) -> tuple[Array, Array]:
    """Mean and covariance without the screws' block, shapes (size,) and (size, size)."""
    mean = np.zeros(layout.size)
    sd = np.zeros(layout.size)
    sd[A1_U : A1_U + 4] = SD_SLOPE
    first, second = _guessed_gaps(layout.machine.guessed)
    sd[C_U : C_U + 2] = np.hypot(SD_OFFSET, SD_SLOPE * np.hypot(first, second))
    sd[M_U : M_U + 2] = np.hypot(SD_OFFSET_MIRROR2, SD_SLOPE * first)
    return mean, np.diag(sd**2)


def _guessed_gaps(guessed: Iterable[str]) -> tuple[float, float]:
    """Doubt about the length of leg 1 and of leg 2, in m: mrad times m are mm."""
    first, second = (GUESSED_GAP * (f"path.mirror{k}_gap" in guessed) / 1000 for k in (1, 2))
    return first, second


def extra_doubt(machine: Machine, mirror: int) -> tuple[float, float]:
    """What guessing adds, in quadrature, to the doubt about a mount's answers: relative size, and direction in rad.

    A turn acts over the legs behind its mirror: a leg that is longer by δ of its length L makes the answer larger
    by δ/L, taken with the head in the middle of its travel.  0 and 0 where nothing of it is guessed.
    """
    first, second = _guessed_gaps(machine.guessed)
    leg1, leg2 = leg_lengths(machine, machine.bed.width / 2, machine.bed.depth / 2)
    legs = np.hypot(first, second) / (leg1 + leg2) if mirror == 1 else second / leg2
    points = f"mounts.{mirror}.points" in machine.guessed
    thread = f"mounts.{mirror}.thread" in machine.guessed
    scale = np.sqrt(legs**2 + (GUESSED_POINTS_SCALE * points) ** 2 + (GUESSED_THREAD * thread) ** 2)
    return float(scale), GUESSED_POINTS_ANGLE * points


def mount_prior(mount: Mount, side: Side, today: date, extra: tuple[float, float] = (0.0, 0.0)) -> MountPrior:
    """From what was learned in earlier sessions, or else from the mount's geometry, with `extra_doubt`."""
    push = {"push": 1 - WRONG_DRIVE, "pull": WRONG_DRIVE, "unknown": 0.5}[mount.drive]
    if mount.learned is not None:
        return _from_learned(mount.learned, today)
    nominal = answers(mount, side)
    return MountPrior(nominal.ravel(), _geometry_doubt(nominal, mount, extra), push)


def _from_learned(learned: Learned, today: date) -> MountPrior:
    mean, cov = np.array(learned.mean), np.array(learned.cov)
    years = max(0.0, (today - date.fromisoformat(learned.on)).days / 365.25)
    doubt = FORGET_FLOOR + FORGET_PER_YEAR * years
    aged = cov + np.diag((doubt * np.abs(mean)) ** 2)
    sign = 1.0 if learned.push >= 0.5 else -1.0
    return MountPrior(sign * mean, aged, learned.push)


def _geometry_doubt(nominal: Array, mount: Mount, extra: tuple[float, float]) -> Array:
    """Covariance of the answers (rows: screws × (u, v, shift)) when the points are known roughly.

    A scale error s multiplies an answer; an angle error φ turns the plate's gradient (g_x, g_y) into
    (−φ·g_y, φ·g_x), seen by the beam through the factors 2 and √2 of the mirror.
    """
    count = len(nominal)
    fold = -np.sqrt(2.0) if mount.mirror == 1 else np.sqrt(2.0)  # u-factor over v-factor of the mirror
    turned = np.stack([-fold * nominal[:, 1], nominal[:, 0] / fold, np.zeros(count)], axis=1)
    scaled = nominal * np.array([1.0, 1.0, 0.0])
    cov = np.zeros((count * PER_SCREW, count * PER_SCREW))
    for effect, common, own in (
        (scaled, np.hypot(SD_SCALE_COMMON, extra[0]), SD_SCALE_OWN),
        (turned, np.hypot(SD_ANGLE_COMMON, extra[1]), SD_ANGLE_OWN),
    ):
        flat = effect.ravel()
        cov += common**2 * np.outer(flat, flat)
        for k in range(count):
            part = slice(PER_SCREW * k, PER_SCREW * (k + 1))
            cov[part, part] += own**2 * np.outer(effect[k], effect[k])
    rise = np.arange(count) * PER_SCREW + 2
    cov[rise, rise] += (SD_RISE * np.sqrt(2.0) * mount.pitch) ** 2
    return cov


def place_mounts(
    layout: Layout, mean: Array, cov: Array, priors: dict[int, MountPrior], signs: dict[int, int]
) -> None:
    """Write the mounts' blocks into a state prior, in place; `signs` is +1 for push and −1 for pull."""
    for mirror, prior in priors.items():
        screws = layout.of_mirror(mirror)
        block = slice(screws[0].start, screws[-1].start + PER_SCREW)
        mean[block] = signs[mirror] * prior.mean
        cov[block, block] = prior.cov
