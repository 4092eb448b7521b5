"""Whom the coach is measured against: the technician's estimate against plain least squares, and what it comes to."""

import math
from dataclasses import replace

import numpy as np
import pytest

from coach.optics.legs import leg_lengths
from coach.practice.bench import Bench
from coach.practice.kinds import KINDS, Trouble
from coach.practice.knowledge import SAMPLES, Estimate, Seen, suspected
from coach.practice.peers import technician
from coach.practice.play import play, play_case
from coach.practice.score import ended_well
from coach.practice.table import plays
from coach.practice.zoo import STANDARD_CASES, case_named, zoo_machine
from coach.session.session import Session

MACHINE = zoo_machine()
STANDARD = KINDS["standard"]


def _marks(rng: np.random.Generator, state: np.ndarray, noise: float = 0.0, times: int = 1) -> tuple[Seen, ...]:
    """Marks at every station of a machine with these six numbers."""
    marks = []
    for number, station in enumerate(MACHINE.stations * times):
        legs = np.array([1.0, *leg_lengths(MACHINE, station.x, station.y)])
        u, v = legs @ state[:3] + rng.normal(0, noise), legs @ state[3:] + rng.normal(0, noise)
        marks.append(Seen(number % len(MACHINE.stations), float(u), float(v)))
    return tuple(marks)


def test_the_estimate_is_least_squares_where_nothing_was_known() -> None:
    """numpy's least squares of five marks is what a technician without expectations believes, doubts included."""
    rng = np.random.default_rng(3)
    marks = _marks(rng, np.array([1.0, -2.0, 3.0, 0.5, 1.5, -2.5]), 0.25)
    blank = Estimate.beforehand(MACHINE, replace(STANDARD, slope=1e4, offset=1e4))
    told = blank.told(marks, 0.25)
    legs = np.array([[1.0, *leg_lengths(MACHINE, s.x, s.y)] for s in MACHINE.stations])
    for axis, read in enumerate((np.array([m.u for m in marks]), np.array([m.v for m in marks]))):
        want = np.linalg.lstsq(legs, read, rcond=None)[0]
        assert told.mean[3 * axis : 3 * axis + 3] == pytest.approx(want, abs=1e-4)
        cov = told.cov[3 * axis : 3 * axis + 3, 3 * axis : 3 * axis + 3]
        assert cov == pytest.approx(0.25**2 * np.linalg.inv(legs.T @ legs), rel=1e-4, abs=1e-7)


def test_what_is_expected_beforehand_is_what_the_world_draws() -> None:
    """Offsets at the middle of 400 machines over their doubt: a mean square of 1, good to four of its √(2/n)."""
    estimate, squares = Estimate.beforehand(MACHINE, STANDARD), []
    middle = [s.name for s in MACHINE.stations].index("middle")
    for seed in range(400):
        offset = np.array(Bench(MACHINE, seed, "standard").true_offsets()["middle"])
        squares += list(offset**2 / np.diag(estimate.doubts()[middle]))
    assert np.mean(squares) == pytest.approx(1.0, abs=4 * math.sqrt(2 / len(squares)))


def test_the_chance_is_that_of_a_known_law() -> None:
    """With the offset alone in doubt all stations move as one: P(within r) = 1 − exp(−r²/2s²) (Rayleigh)."""
    draws = np.random.default_rng(1).normal(size=(SAMPLES, 6))
    estimate = Estimate.beforehand(MACHINE, replace(STANDARD, slope=0.0, offset=0.7))
    want = 1 - math.exp(-1 / (2 * 0.7**2))
    assert estimate.chance(1.0, draws) == pytest.approx(want, abs=4 * math.sqrt(want * (1 - want) / SAMPLES))


def test_the_misread_mark_is_suspected_and_no_other() -> None:
    """A mark 3 mm out among ten is found wherever it stands; of twenty clean rounds none is suspected."""
    before = Estimate.beforehand(MACHINE, STANDARD)
    for seed in range(20):
        rng = np.random.default_rng(seed)
        marks = _marks(rng, rng.normal(0, 2.0, 6), 0.2, times=2)
        assert suspected(before, marks, STANDARD) is None
        wrong = seed % 10
        bad = replace(marks[wrong], u=marks[wrong].u + 3.0)
        assert suspected(before, (*marks[:wrong], bad, *marks[wrong + 1 :]), STANDARD) == wrong


@pytest.mark.parametrize("seed", range(6))
def test_with_exact_hands_and_eyes_one_adjustment_is_enough(seed: int) -> None:
    """L mount, pivot and triangle, either side: what the technician foresees is what the traced machine does."""
    case = case_named("standard")
    machine = case.machine(seed)
    bench = Bench(machine, seed, case.kind, travel=case.travel)
    bench.trouble = Trouble(
        carried=True,
        reading=0.01,
        rounding=0.01,
        turn_fraction=0.0,
        turn_absolute=1e-4,
        backlash=0.0,
        shift_fraction=0.0,
        shift_absolute=0.0,
    )
    profile, adviser = technician(machine, bench)
    played = play(Session.start(profile), bench, adviser)
    assert played.end == "done"
    assert played.worst < 1.0
    assert (played.rounds, played.early_moves) == (1, 0)
    assert played.pulses == 10


@pytest.mark.sweep
def test_the_technician_ends_well_and_spares_the_tube() -> None:
    """Ten standard machines: all within tolerance + 0.25 mm, no tube moved, nothing moved before every mark."""
    case = case_named("standard")
    played = [play_case(case, seed, technician) for seed in range(10)]
    assert all(ended_well(case, p, 1.0) for p in played)
    assert not any(p.tube_moves or p.early_moves or p.refused for p in played)
    assert min(p.smallest_move for p in played) >= 0.5


def test_each_plays_what_it_can() -> None:
    """The habit and the technician are left out where they would have to name a cause or know of a yaw."""
    rows = {
        case.name: {who for who in ("coach", "habit", "technician") if plays(who, case)} for case in STANDARD_CASES
    }
    assert rows["standard"] == {"coach", "habit", "technician"}
    assert rows["yaw-inside"] == {"coach", "habit"}
    assert plays("coach", case_named("yaw"))
    assert not plays("technician", case_named("yaw"))
