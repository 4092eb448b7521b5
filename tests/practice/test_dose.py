"""The practice machines' own threshold: it follows the dose, by Liu's law."""

import math
from statistics import NormalDist

import pytest
from machines import make_machine

from coach.optics.gaussian import beam_radius
from coach.practice.bench import Bench
from coach.practice.dose import M2, USUAL_MS, USUAL_POWER, WAIST, mark_width, threshold
from coach.tuning import TUNING


def test_one_machine_in_ten_is_left_unmarked_by_the_usual_first_dose() -> None:
    """At the tube; where a kind has no weak pulses, none.  Whoever was too weak marks with enough more."""
    luck = [(k + 0.5) / 4000 for k in range(4000)]
    drawn = [threshold(NormalDist().inv_cdf(p), 0.1) for p in luck]
    assert sum(one > 1.0 for one in drawn) / 4000 == pytest.approx(0.1, abs=0.001)
    assert max(threshold(NormalDist().inv_cdf(p), 0.0) for p in luck) < 1.0
    machine = make_machine()
    for just in (1.05, 2.0):
        assert mark_width(machine, 20, 380, "mirror 1", just, USUAL_MS, USUAL_POWER) is None
        assert mark_width(machine, 20, 380, "mirror 1", just, 3 * USUAL_MS, USUAL_POWER) is not None


def test_two_doses_give_the_bench_s_beam_back() -> None:
    """By Liu's law (Opt. Lett. 7, 196 (1982), from memory) two widths at one place give the radius there."""
    machine = make_machine()
    one, two = (mark_width(machine, 580, 20, "head", 0.3, ms, 13.0) for ms in (100.0, 200.0))
    along = (150 + 380 + 120 + 580) / 1000
    radius = math.sqrt((two**2 - one**2) / (2 * math.log(200.0 / 100.0)))
    assert radius == pytest.approx(beam_radius(along, WAIST, m2=M2))


def test_a_weak_pulse_marks_once_the_dose_is_raised() -> None:
    """Of machines whose mark is on the tape, every one marks somewhere on the coach's ladder, the weaker ones later;
    and the same dose always does the same."""
    ladder = [60.0 * 1.4**k for k in range(6)]
    steps = []
    for seed in range(60):
        bench = Bench(make_machine(tape={"radius": 100.0}), seed, "plain")
        seen = [bench.pulse(20, 380, key=k + 1, ms=ms, power=12.0) is not None for k, ms in enumerate(ladder)]
        assert seen == sorted(seen)
        steps.append(seen.index(True))
    assert min(steps) == 0
    assert bench.pulse(20, 380, key=9, ms=60, power=12) == bench.pulse(20, 380, key=9, ms=60, power=12)


def test_the_bench_shares_no_number_with_the_adviser() -> None:
    """Neither the first dose, nor the threshold, nor the beam."""
    doses = TUNING.doses
    assert not {USUAL_MS, USUAL_POWER, WAIST, M2} & {doses.ms, doses.power, TUNING.beam.waist, TUNING.beam.m2}
    believed = 0.5 * math.erfc(-doses.threshold / math.hypot(doses.threshold_sd, doses.places_sd) / math.sqrt(2))
    assert abs((1 - believed) - 0.1) != pytest.approx(0.0, abs=1e-6)
