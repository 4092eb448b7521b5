"""When a machine leaves its tolerance if nobody touches it: paths drawn from every story, each as likely as it is.

    x(t) = left − (e + ω) + ρ·t + q·W(t),    W a random walk;    left at the first t with max_s |H_s·x(t)| > tolerance

The interval holds the middle nine tenths of the first times.  Draws are always the same for the same visits.
"""

from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from coach.belief.kalman import Array
from coach.history.beam import FROM_PARTS, SIZE, BeamState, matrices
from coach.history.drift import Stories
from coach.machine import Machine
from coach.tuning import TUNING, Tuning
from coach.tuning.drifting import Drifting

DRAWS = 600
STEP = 5
"""Days between two looks ahead."""


@dataclass(frozen=True)
class Forecast:
    """When some station lies beyond the tolerance for the first time."""

    made: date
    """From what was left on that day."""
    soonest: date | None
    """Before it only one in twenty; None: not within what is looked ahead."""
    likely: date | None
    latest: date | None
    """After it only one in twenty; None: it may last longer than is looked ahead."""
    until: date
    """So far it is looked ahead."""
    check: date
    """When to look again."""
    out_already: bool
    """Whether it is likelier than not that some station is beyond the tolerance now."""


def forecast(machine: Machine, left: BeamState, made: date, stories: Stories, tuning: Tuning = TUNING) -> Forecast:
    """From the newest visit's end, as these stories go on."""
    drifting = tuning.drifting
    first = first_out(machine, _paths(left, stories, drifting))
    tail = (1 - drifting.interval) / 2
    low, middle, high = (float(np.quantile(first, q, method="higher")) for q in (tail, 0.5, 1 - tail))
    check = float(np.quantile(first, drifting.check_at, method="lower"))
    wait = int(min(max(check, drifting.soonest), drifting.latest))
    return Forecast(
        made=made,
        soonest=_day(made, max(low - STEP, 0.0)),  # it may have been left at any time since the look before
        likely=_day(made, middle),
        latest=_day(made, high),
        until=made + timedelta(days=drifting.horizon),
        check=made + timedelta(days=wait),
        out_already=middle == 0.0,
    )


def _day(made: date, days: float) -> date | None:
    return made + timedelta(days=days) if np.isfinite(days) else None


def _paths(left: BeamState, stories: Stories, drifting: Drifting) -> Array:
    """(draws, times, 8): where slopes and centre are, every `STEP` days from that visit's end."""
    rng = np.random.default_rng(1)
    weights = stories.ahead.weights
    even = (np.arange(DRAWS) + rng.random(DRAWS)) / DRAWS
    chosen = np.searchsorted(np.cumsum(weights) / weights.sum(), even).clip(max=len(weights) - 1)
    times = np.arange(0, drifting.horizon + 1, STEP) / 365.25
    paths = np.empty((DRAWS, len(times), SIZE))
    for story in np.unique(chosen):
        mine = np.flatnonzero(chosen == story)
        values, vectors = np.linalg.eigh(stories.ahead.cov[story])
        root = vectors * np.sqrt(np.maximum(values, 0.0))
        drawn = stories.ahead.mean[story] + rng.standard_normal((len(mine), len(values))) @ root.T
        walk = np.repeat([way.walk for way in stories.stories[story]], 2)
        steps = (
            rng.standard_normal((len(mine), len(times), SIZE)) * walk * np.sqrt(np.diff(times, prepend=0.0))[:, None]
        )
        paths[mine] = drawn[:, None, SIZE:] + drawn[:, None, :SIZE] * times[:, None] + np.cumsum(steps, axis=1)
    return np.asarray(left.mean + paths @ FROM_PARTS.T)


def first_out(machine: Machine, paths: Array) -> Array:
    """Days until the first look at which some station is beyond the tolerance; infinite where there is none."""
    offsets = np.einsum("saj,dtj->dtsa", matrices(machine), paths)
    out = np.hypot(offsets[..., 0], offsets[..., 1]).max(axis=-1) > machine.tolerance
    first = out.argmax(axis=1) * float(STEP)
    return np.where(out.any(axis=1), first, np.inf)
