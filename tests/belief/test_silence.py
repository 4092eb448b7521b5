"""A pulse that left nothing: not firing, too weak or missed, against samples; and what it must not teach."""

import math

import numpy as np
import pytest
from machines import make_machine

from coach import Session
from coach.belief.firing import rivals
from coach.tuning import TUNING

PULSE = {"timed": True, "percent": True}
DOSES = TUNING.doses
SAMPLES = 400_000


def _on_small_tape(**other: object) -> Session:
    """So small a tape that the first mark may well miss it."""
    return Session.start(make_machine(pulse=PULSE, tape={"radius": 7.0}, **other))


def _first_offsets(session: Session, x: float, y: float, rng: np.random.Generator) -> np.ndarray:
    """Distances from the middle at which a first mark at (x, y) may be read, drawn from the belief's prior."""
    belief = session.belief
    matrix = belief.layout.measurement_matrix(x, y, "head")
    which = rng.choice(len(belief.bank.hypotheses), SAMPLES, p=belief.bank.weights)
    far = np.empty(SAMPLES)
    for k, hypothesis in enumerate(belief.bank.hypotheses):
        mine = which == k
        mixture, story = belief.bank.mixture, hypothesis.explanation
        leg2 = (session.machine.path.mirror2_gap + x) / 1000
        noise = (story.reading * TUNING.readings.sd) ** 2 + (story.wander * leg2) ** 2
        cov = matrix @ mixture.cov[k] @ matrix.T + noise * np.eye(2)
        far[mine] = np.hypot(*rng.multivariate_normal(matrix @ mixture.mean[k], cov, int(mine.sum())).T)
    return far


@pytest.mark.parametrize("doses", [(60.0,), (60.0, 84.0, 118.0)])
def test_three_rivals_of_nothing_are_weighed_as_they_fall_out(doses: tuple[float, ...]) -> None:
    """Monte Carlo: machines drawn with their thresholds, beams and dead lasers; of those at which every pulse left
    nothing, the shares that did not fire, were too weak, and missed."""
    session, rng = _on_small_tape(), np.random.default_rng(5)
    missed = _first_offsets(session, 580.0, 20.0, rng) > 7.0
    threshold = rng.normal(DOSES.threshold, math.hypot(DOSES.threshold_sd, DOSES.places_sd), SAMPLES)
    dead = rng.random(SAMPLES) < DOSES.not_firing_first
    weak = threshold > math.log(max(doses) / DOSES.ms)
    nothing = missed | dead | weak
    for ms in doses:
        session.nothing("front-right", ms=ms, power=DOSES.power)
    found = rivals(session.belief)
    shares = [(nothing & ~missed & dead), (nothing & ~missed & ~dead), (nothing & missed)]
    expected = [float(which.sum() / nothing.sum()) for which in shares]
    assert [found.not_firing, found.weak, found.missed] == pytest.approx(expected, abs=0.012)
    assert 0.1 < found.missed < 0.97


def test_what_marked_elsewhere_makes_weak_less_likely() -> None:
    """Monte Carlo: of the machines that marked at back-left with 60 ms, so many are too weak at another place."""
    rng = np.random.default_rng(7)
    machine = rng.normal(DOSES.threshold, DOSES.threshold_sd, SAMPLES)
    there, here = (machine + rng.normal(0, DOSES.places_sd, SAMPLES) for _ in range(2))
    weak = float(np.mean(here[there < 0.0] > 0.0)) * (1 - DOSES.not_firing)
    session = Session.start(make_machine(pulse=PULSE))
    session.mark("back-left", u=0.0, v=0.0, ms=60, power=12)
    session.nothing("middle", ms=60, power=12)
    silence = session.belief.round_sightings[-1].silence
    assert silence.weak == pytest.approx(weak, abs=0.004)
    assert silence.not_firing == DOSES.not_firing  # it did fire: no longer what it is before the first mark


def test_what_silenced_one_place_silences_the_next() -> None:
    """Monte Carlo: of the machines that left nothing where the beam was, so many do not fire, or are too weak, at the
    next place too."""
    rng = np.random.default_rng(11)
    machine, dead = (
        rng.normal(DOSES.threshold, DOSES.threshold_sd, SAMPLES),
        rng.random(SAMPLES) < DOSES.not_firing_first,
    )
    there, here = (machine + rng.normal(0, DOSES.places_sd, SAMPLES) for _ in range(2))
    silent = dead | (there > 0.0)
    session = Session.start(make_machine(pulse=PULSE))
    for name in ("back-left", "middle"):
        session.nothing(name, ms=60, power=12)
    silence = session.belief.round_sightings[-1].silence
    assert silence.not_firing == pytest.approx(float(np.mean(dead[silent])), abs=0.01)
    assert silence.weak == pytest.approx(float(np.mean((~dead & (here > 0.0))[silent])), abs=0.01)


def test_a_weak_pulse_teaches_no_false_place() -> None:
    """Nothing, and then a mark at the same place: the belief is that of the mark alone, to the last digit; a miss in
    its place is not."""
    plain, weak, missed = (Session.start(make_machine(pulse=PULSE)) for _ in range(3))
    weak.nothing("back-left", ms=60, power=12)
    weak.nothing("back-left", ms=84, power=12)
    missed.miss("back-left")
    for session in (plain, weak, missed):
        session.mark("back-left", u=1.0, v=-0.5, ms=118, power=12)
    assert np.array_equal(plain.belief.bank.mixture.mean, weak.belief.bank.mixture.mean)
    assert np.array_equal(plain.belief.bank.weights, weak.belief.bank.weights)
    assert not np.array_equal(plain.belief.bank.weights, missed.belief.bank.weights)


def test_nothing_where_the_beam_is_known_moves_no_belief() -> None:
    """After four marks on the middle, nothing at the fifth station says weak or dead, and marks are expected where
    they were; a certain miss there throws it open."""
    session = Session.start(make_machine(pulse=PULSE))
    for name in ("back-left", "back-right", "middle", "front-left"):
        session.mark(name, u=0.2, v=0.1, ms=60, power=12)
    before = session.belief.expected(580.0, 20.0).mean
    session.nothing("front-right", ms=60, power=12)
    assert np.trace(session.belief.expected(580.0, 20.0).cov) < 3.0
    assert session.belief.expected(580.0, 20.0).mean == pytest.approx(before, abs=0.01)
    assert rivals(session.belief).missed < 0.01
    session.miss("front-right")
    assert np.trace(session.belief.expected(580.0, 20.0).cov) > 20.0  # mm²


def test_it_had_not_fired_takes_all_of_it_back() -> None:
    """Put right: what was believed before the pulses, and the first dose again."""
    session = Session.start(make_machine(pulse=PULSE))
    before = session.belief.bank.mixture.cov
    for ms in (60.0, 84.0, 118.0, 165.0):
        session.nothing("back-left", ms=ms, power=12)
    assert (session.advice().kind, session.advice().cause) == ("stop", "not firing")
    session.mended("not firing")
    assert np.array_equal(session.belief.bank.mixture.cov, before)
    assert (session.advice().kind, session.advice().ms) == ("shoot", 60.0)


def test_what_is_not_whole_is_read_with_more_doubt() -> None:
    """A crescent's middle is not the beam's: half a disc of radius r has its own 4r/(3π) off (centroid of a
    half-disc; derived), 0.6 mm for a mark of 3 mm; a mark cut so weighs that much less."""
    assert pytest.approx(4 * 1.5 / (3 * math.pi), abs=0.05) == DOSES.cut_sd
    whole, cut = (Session.start(make_machine()) for _ in range(2))
    whole.mark("middle", u=2.0, v=0.0)
    cut.mark("middle", u=2.0, v=0.0, shape="crescent")
    assert cut.belief.round_sightings[0].sd == pytest.approx(math.hypot(TUNING.readings.sd, DOSES.cut_sd))
    assert cut.belief.reading_sd < 0.3  # the person reads no worse for it
    assert abs(cut.belief.expected(300.0, 200.0).u) < abs(whole.belief.expected(300.0, 200.0).u)
    advice = cut.advice()
    assert [(s.name, s.target) for s in advice.stations] == [("mirror 2", "mirror 2")]
    assert "not whole" in advice.why
