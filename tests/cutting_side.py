"""Somebody who cuts at each station what the coach proposes, on a machine whose true limits are known."""

import math
from collections.abc import Callable, Mapping

import numpy as np
from visiting import at, through_the_gates

from coach.session.session import Session
from coach.steps.cut_deeds import OPEN
from coach.steps.perform import perform
from coach.steps.step import Step

SHEET = {"material": "ply 6 mm, lot 3", "power": 60.0, "speed": 18.0}


def lay(session: Session, part: str, **sheet: object) -> None:
    """Go to that part and lay the sheet in, the usual one or another."""
    session.begin(part)
    through_the_gates(session)
    perform(session, at(session), "sheet-other", figures=SHEET | sheet)
    through_the_gates(session)


def seen(step: Step, speed: float) -> str:
    """What somebody sees of the proposed lines where the sheet is just cut through at that speed, mm/s."""
    for option in (choice.option for choice in step.choices if choice.key == "cut-through"):
        low, high = option.split()
        if (low == OPEN or float(low) <= speed) and (high == OPEN or speed < float(high)):
            return option
    raise AssertionError("no line is above or below that")


def cut_stations(session: Session, truth: Mapping[str, float], noise: Callable[[], float] = lambda: 0.0) -> None:
    """Cut at every station as proposed, until the result; `noise` of the sheet from place to place, logarithmic."""
    there = {name: speed * math.exp(noise()) for name, speed in truth.items()}
    for _ in range(60):
        step = at(session)
        if step.key != "cut-station":
            return
        perform(session, step, "cut-through", option=seen(step, there[step.item or ""]))
    raise AssertionError("the cut check does not end")


def sheet_noise(rng: np.random.Generator) -> Callable[[], float]:
    """4 % from place to place."""
    return lambda: float(0.04 * rng.standard_normal())
