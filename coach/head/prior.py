"""What is believed of the head before its first mark: usual sizes, and mirror 3's screws from what earlier sessions
taught, or else from their geometry."""

from datetime import date

import numpy as np

from coach.belief import kalman
from coach.belief.kalman import Array, Mask
from coach.belief.mixture import GaussianMixture, normalised
from coach.belief.prior import MountPrior, from_learned
from coach.head.layout import BED, FIRST_SCREW, NOZZLE, OFFSET, PER_SCREW, PLACE_IN, PLACE_OUT, SLOPE, HeadLayout
from coach.optics.below import mirror3_responses
from coach.tuning import Prior, Tuning

ANYWHERE = 100.0
"""mm: where a card lies under the head is nobody's business."""
ROOT2 = 2.0**0.5


def initial(layout: HeadLayout, today: date, tuning: Tuning) -> tuple[Mask, GaussianMixture]:
    """Whether each hypothesis has the screws push, (hypotheses,), and what is believed under each of them."""
    head = tuning.head
    sds = {
        SLOPE: head.slope,
        OFFSET: head.offset,
        NOZZLE: head.nozzle_off,
        BED: head.bed_lean,
        PLACE_OUT: ANYWHERE,
        PLACE_IN: ANYWHERE,
    }
    cov = np.zeros((layout.size, layout.size))
    for number, sd in sds.items():
        cov[[number, number + 1], [number, number + 1]] = sd**2
    if not layout.screws:
        push, mixture = np.ones(1, dtype=bool), GaussianMixture.single(np.zeros(layout.size), cov)
        return _perhaps_good(layout, push, mixture)
    screws = mirror3_prior(layout, today, tuning)
    cov[FIRST_SCREW:, FIRST_SCREW:] = screws.cov
    mean = np.zeros(layout.size)
    mean[FIRST_SCREW:] = screws.mean
    sign = np.where(np.arange(layout.size) >= FIRST_SCREW, -1.0, 1.0)
    weights = normalised(np.log(np.array([screws.push, 1 - screws.push])))
    mixture = GaussianMixture(weights, np.stack([mean, sign * mean]), np.stack([cov, cov]))
    return _perhaps_good(layout, np.array([True, False]), mixture)


def _perhaps_good(layout: HeadLayout, push: Mask, mixture: GaussianMixture) -> tuple[Mask, GaussianMixture]:
    """The same beside the story that lean and nozzle are still as somebody once set them, whatever makes them so."""
    head = layout.tuning
    set_to = np.repeat([head.as_set, head.as_set], 2)  # shares of what is good
    kept, _ = kalman.update(mixture.components, layout.wanted, np.diag(set_to**2), np.zeros(4))
    weights = [mixture.log_weight + np.log(share) for share in (1 - head.still_good, head.still_good)]
    means, covs = np.concatenate([mixture.mean, kept.mean]), np.concatenate([mixture.cov, kept.cov])
    return np.concatenate([push, push]), GaussianMixture(np.concatenate(weights), means, covs)


def mirror3_prior(layout: HeadLayout, today: date, tuning: Tuning) -> MountPrior:
    """Answers of mirror 3's screws, (4·screws,), for a pushing drive: learned, or from the mount's geometry."""
    mount, prior = layout.machine.mount(3), tuning.prior
    if mount.learned is not None and len(mount.learned.mean) == PER_SCREW * len(mount.screws):
        return from_learned(mount.learned, today, prior)
    push = {"push": 1 - prior.wrong_drive, "pull": prior.wrong_drive, "unknown": 0.5}[mount.drive]
    return MountPrior(*screw_prior(layout, tuning), push)


def way_down(layout: HeadLayout) -> tuple[float, float]:
    """From mirror 3 down to the lens, and its doubt, in METRES: mrad times m are mm."""
    head, known = layout.tuning, layout.lens.mirror_distance
    if known is None:
        return head.mirror_distance / 1000.0, head.mirror_distance_sd / 1000.0
    return known / 1000.0, head.measured_sd / 1000.0


def screw_prior(layout: HeadLayout, tuning: Tuning) -> tuple[Array, Array]:
    """Mean (4·screws,) and covariance of the answers to one turn of each screw, drive "push".

    A scale error multiplies the slopes, an angle error turns the plate's gradient; the shift at the lens is the
    rise's at the mirror plus slope times the way down, whose length is doubted as one number for all screws.
    """
    prior, mount = tuning.prior, layout.machine.mount(3)
    answers = mirror3_responses(mount, layout.machine.path.side)
    down, down_sd = way_down(layout)
    slopes = answers[:, :2]
    to_lens = np.concatenate([slopes, down * slopes], axis=1)
    mean = to_lens + np.concatenate([np.zeros_like(slopes), answers[:, 2:]], axis=1)
    turned = np.stack([ROOT2 * slopes[:, 1], -slopes[:, 0] / ROOT2], axis=1)  # the fold answers 2 and √2
    turned = np.concatenate([turned, down * turned], axis=1)
    longer = np.concatenate([np.zeros_like(slopes), down_sd * slopes], axis=1)
    cov = np.outer(longer.ravel(), longer.ravel())
    scale, angle = _guessed(layout, prior)
    for effect, common, own in ((to_lens, scale, prior.scale_own), (turned, angle, prior.angle_own)):
        cov += common**2 * np.outer(effect.ravel(), effect.ravel())
        for k in range(len(mount.screws)):
            part = slice(PER_SCREW * k, PER_SCREW * (k + 1))
            cov[part, part] += own**2 * np.outer(effect[k], effect[k])
    rise = PER_SCREW * np.arange(len(mount.screws)) + 2
    cov[rise, rise] += (prior.rise * ROOT2 * mount.pitch) ** 2
    return mean.ravel(), cov + 1e-9 * np.eye(len(cov))


def _guessed(layout: HeadLayout, prior: Prior) -> tuple[float, float]:
    """Relative doubt about the size of the answers, and rad about their direction, with what nobody measured."""
    guessed = layout.machine.guessed
    points, thread = "mounts.3.points" in guessed, "mounts.3.thread" in guessed
    scale = np.sqrt(
        prior.scale_common**2 + (prior.guessed_points_scale * points) ** 2 + (prior.guessed_thread * thread) ** 2
    )
    return float(scale), float(np.hypot(prior.angle_common, prior.guessed_points_angle * points))
