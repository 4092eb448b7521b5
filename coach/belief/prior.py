"""What is believed before the first mark: sizes from the trade's experience (`coach.tuning.Prior`), screw
responses from the mounts' geometry or from what earlier sessions taught."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

import numpy as np

from coach.belief.kalman import Array, Moments
from coach.belief.layout import A1_U, A2_U, C_U, M_U, N_U, PER_SCREW, YAW, Layout
from coach.machine import Learned, Machine, Mount
from coach.optics.legs import leg_lengths
from coach.optics.mounts import screw_responses, side_sign
from coach.tuning import Explanation, Prior


@dataclass(frozen=True)
class MountPrior:
    """One mount's screw responses for a pushing drive, and the chance that it pushes."""

    mean: Array
    cov: Array
    push: float


def state_prior(layout: Layout, prior: Prior, explanation: Explanation) -> Moments:
    """Mean and covariance without the screws' block, shapes (size,) and (size, size).

    The beam from the tube is felt at every opening (turned over at mirror 2's), and leg 2 carries leg 1's slope:
    a2 = a1 + what mirror 2 adds.
    """
    first, second = _guessed_gaps(layout.machine.guessed, prior)
    sign = side_sign(layout.machine.path.side)
    columns = []
    for axis in range(2):
        everywhere = np.zeros(layout.size)
        openings = [C_U + axis, M_U + axis, N_U + axis]
        everywhere[openings] = (sign, -sign, sign) if axis == 0 else (1.0, 1.0, 1.0)
        columns.append(prior.sd_beam * everywhere)
        slope = np.zeros(layout.size)
        slope[[A1_U + axis, A2_U + axis]] = prior.sd_slope1
        columns.append(slope)
        for number, sd in (
            (A2_U + axis, prior.sd_slope2),
            (C_U + axis, np.hypot(prior.sd_head, prior.sd_slope1 * np.hypot(first, second))),
            (M_U + axis, np.hypot(prior.sd_mirror2, prior.sd_slope1 * first)),
            (N_U + axis, prior.sd_mirror1),
        ):
            columns.append(sd * np.eye(layout.size)[number])
    root = explanation.beam * np.stack(columns, axis=1)
    cov = root @ root.T
    cov[YAW, YAW] = explanation.sd_yaw**2
    return Moments(np.zeros(layout.size), cov)


def _guessed_gaps(guessed: Iterable[str], prior: Prior) -> tuple[float, float]:
    """Doubt about the length of leg 1 and of leg 2, in m: mrad times m are mm."""
    first, second = (prior.guessed_gap * (f"path.mirror{k}_gap" in guessed) / 1000 for k in (1, 2))
    return first, second


def extra_doubt(machine: Machine, mirror: int, prior: Prior) -> tuple[float, float]:
    """What guessing adds, in quadrature, to the doubt about a mount's responses: relative size, and direction in rad.

    A turn acts over the legs behind its mirror: a leg that is longer by δ of its length L makes the response larger
    by δ/L, taken with the head in the middle of its travel.  0 and 0 where nothing of it is guessed.
    """
    first, second = _guessed_gaps(machine.guessed, prior)
    leg1, leg2 = leg_lengths(machine, machine.bed.width / 2, machine.bed.depth / 2)
    legs = np.hypot(first, second) / (leg1 + leg2) if mirror == 1 else second / leg2
    points = f"mounts.{mirror}.points" in machine.guessed
    thread = f"mounts.{mirror}.thread" in machine.guessed
    scale = np.sqrt(legs**2 + (prior.guessed_points_scale * points) ** 2 + (prior.guessed_thread * thread) ** 2)
    return float(scale), prior.guessed_points_angle * points


def mount_prior(machine: Machine, mirror: int, today: date, prior: Prior, size_doubt: float = 1.0) -> MountPrior:
    """From what was learned in earlier sessions, or else from the mount's geometry, with `extra_doubt`.

    `size_doubt` multiplies the doubt about the size of the responses.
    """
    mount = machine.mount(mirror)
    if mount.learned is not None:
        return from_learned(mount.learned, today, prior)
    push = {"push": 1 - prior.wrong_drive, "pull": prior.wrong_drive, "unknown": 0.5}[mount.drive]
    nominal = screw_responses(mount, machine.path.side)
    doubt = _geometry_doubt(nominal, mount, extra_doubt(machine, mirror, prior), prior, size_doubt)
    return MountPrior(nominal.ravel(), doubt, push)


def from_learned(learned: Learned, today: date, prior: Prior) -> MountPrior:
    """Lessons age: responses by a share of themselves, the drive toward "who knows"."""
    mean, cov = np.array(learned.mean), np.array(learned.cov)
    years = max(0.0, (today - date.fromisoformat(learned.on)).days / 365.25)
    doubt = prior.forget_floor + prior.forget_per_year * years
    aged = cov + np.diag((doubt * np.abs(mean)) ** 2)
    sign = 1.0 if learned.push >= 0.5 else -1.0
    changed = min(0.5, prior.rewired + prior.rewired_per_year * years)
    push = learned.push * (1 - changed) + (1 - learned.push) * changed
    return MountPrior(sign * mean, aged, push)


def _geometry_doubt(
    nominal: Array, mount: Mount, extra: tuple[float, float], prior: Prior, size_doubt: float
) -> Array:
    """Covariance of the responses (rows: screws × (u, v, shift)) when the points are known roughly.

    A scale error s multiplies a response; an angle error φ turns the plate's gradient (g_x, g_y) into
    (−φ·g_y, φ·g_x), seen by the beam through the factors 2 and √2 of the mirror.
    """
    count = len(nominal)
    fold = -np.sqrt(2.0) if mount.mirror == 1 else np.sqrt(2.0)  # u-factor over v-factor of the mirror
    turned = np.stack([-fold * nominal[:, 1], nominal[:, 0] / fold, np.zeros(count)], axis=1)
    scaled = nominal * np.array([1.0, 1.0, 0.0])
    cov = np.zeros((count * PER_SCREW, count * PER_SCREW))
    for effect, common, own in (
        (scaled, size_doubt * np.hypot(prior.scale_common, extra[0]), prior.scale_own),
        (turned, np.hypot(prior.angle_common, extra[1]), prior.angle_own),
    ):
        flat = effect.ravel()
        cov += common**2 * np.outer(flat, flat)
        for k in range(count):
            part = slice(PER_SCREW * k, PER_SCREW * (k + 1))
            cov[part, part] += own**2 * np.outer(effect[k], effect[k])
    rise = np.arange(count) * PER_SCREW + 2
    cov[rise, rise] += (prior.rise * np.sqrt(2.0) * mount.pitch) ** 2
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
