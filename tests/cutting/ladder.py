"""Made-up sheets cut on a ladder of speeds: what a person would enter, with the truth known."""

import numpy as np

from coach.cutting.limits import Limit

STEP = float(np.log(1.1))


def cut(logs: dict[str, float], rng: np.random.Generator, noise: float = 0.04, even: bool = False) -> list[Limit]:
    """Lines at speeds that rise by 10 %, from anywhere; the sheet differs from place to place by `noise`.

    `even`: as likely as far to either side, in place of a normal law.
    """
    begin = rng.random() * STEP
    found = []
    for name, log in logs.items():
        here = log + (rng.uniform(-1.73, 1.73) if even else rng.standard_normal()) * noise
        step = np.floor((here - begin) / STEP)
        low, high = (float(np.exp(begin + (step + k) * STEP)) for k in (0, 1))
        found.append(Limit(name, low, high))
    return found


def hidden(kind: str, rng: np.random.Generator, names: tuple[str, ...], legs: np.ndarray) -> dict[str, float]:
    """Logarithms of the speeds that just cut through, for one kind of machine."""
    logs = np.log(18.0) + 0.3 * rng.standard_normal() + np.zeros(len(names))
    share = (legs - legs.min()) / np.ptp(legs)
    match kind:
        case "alike":
            pass
        case "nearly alike":
            logs = logs + 0.03 * rng.standard_normal(len(names))
        case "legs":
            logs = logs - rng.uniform(0.25, 0.8) * share ** rng.choice([1.0, 1.5, 3.0])
        case "one place":
            logs[rng.integers(len(names))] -= rng.uniform(0.25, 0.8)
        case "bed":
            logs = logs - np.log1p((0.6 * rng.standard_normal(len(names))) ** 2)
        case _:
            raise ValueError(kind)
    return dict(zip(names, (float(log) for log in logs), strict=True))
