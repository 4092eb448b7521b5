"""The bank of filters: order, turns, drives and missed marks."""

from datetime import date

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from machines import ExactMachine, make_machine
from strategies import between, machines, marks
from sweeps import sampled

from coach.belief import belief as beliefs
from coach.belief import measurements
from coach.belief.belief import Belief, Sighting
from coach.belief.hands import executed
from coach.belief.layout import YAW
from coach.belief.learned import learned_machine
from coach.belief.measurements import seen
from coach.belief.transitions import Turned
from coach.optics.legs import leg_lengths
from coach.optics.mounts import PlateMotion, screw_responses
from coach.tuning import TUNING

DAY = date(2024, 3, 1)


def _fresh(machine) -> Belief:
    return Belief.initial(machine, DAY)


def _sighting(entry) -> Sighting:
    given_ = dict(entry[1])
    sd = given_.pop("sd") or TUNING.readings.sd
    given_.pop("typed")
    return Sighting(sd=sd, **given_)


def _at_stations(machine, entry):
    """The entry with the station's place filled in."""
    name, what = entry
    if "x" in what:
        return entry
    station = machine.station(what["station"])
    return name, what | {"x": station.x, "y": station.y}


@given(st.data())
@settings(max_examples=30)
@pytest.mark.sweep
def test_the_order_of_a_rounds_marks_does_not_matter(data) -> None:
    """Any order of the same marks gives the same means, covariances, weights and suspicions."""
    machine = data.draw(machines())
    drawn = data.draw(st.lists(marks(machine), min_size=2, max_size=8))
    sightings = [_sighting(_at_stations(machine, entry)) for entry in drawn]
    order = data.draw(st.permutations(range(len(sightings))))
    first = second = _fresh(machine)
    for sighting in sightings:
        first = beliefs.update(first, sighting)
    for index in order:
        second = beliefs.update(second, sightings[index])
    scale = np.abs(first.bank.mixture.cov).max()
    assert second.bank.mixture.mean == pytest.approx(first.bank.mixture.mean, abs=1e-8)
    assert second.bank.mixture.cov == pytest.approx(first.bank.mixture.cov, abs=1e-12 * scale)
    assert second.bank.mixture.log_weight == pytest.approx(first.bank.mixture.log_weight, abs=1e-7)
    assert second.outliers == pytest.approx(first.outliers[list(order)], abs=1e-6)


def _moved_reading(machine, x, y, state, mirror, moved):
    """Marks at the head and at mirror 2 after slopes and shift changed by `moved`, from docs/model.md alone."""
    c_u, c_v, m_u, m_v, a1_u, a1_v, a2_u, a2_v, yaw = state[:9]
    l1, l2 = leg_lengths(machine, x, y)
    d_u, d_v, rise = moved
    a2_u, a2_v, c_u = a2_u + d_u, a2_v + d_v, c_u + rise
    if mirror == 1:
        a1_u, a1_v, m_u = a1_u + d_u, a1_v + d_v, m_u - rise
    head = c_u + a1_u * l1 + a2_u * l2 + yaw * l1 * l2, c_v + a1_v * l1 + a2_v * l2
    return np.array(head), np.array([m_u - a1_u * l1, m_v + a1_v * l1])


@given(st.data())
@settings(max_examples=30)
def test_a_turn_is_linear_in_the_state(data) -> None:
    """Without execution doubt, belief after a turn is the belief about the moved machine: H·F·x says the same
    as the leg equations of the moved slopes, and mean, covariance and weights are carried over exactly."""
    machine = data.draw(machines())
    belief = _fresh(machine)
    layout = belief.layout
    mirror = data.draw(st.sampled_from((1, 2)))
    screws = {s.name: data.draw(between(-1, 1)) for s in layout.of_mirror(mirror)}
    turns = layout.turn_vector(mirror, screws)
    rng = np.random.default_rng(data.draw(st.integers(0, 9999)))
    state = rng.normal(0, 3, layout.size)
    after = Turned(layout.screw_maps, turns, np.zeros_like(turns)).after(belief.bank.mixture)
    transition = np.eye(layout.size) + np.tensordot(turns, layout.screw_maps, axes=1)
    assert after.mean == pytest.approx(belief.bank.mixture.mean @ transition.T, abs=1e-12)
    assert after.cov == pytest.approx(transition @ belief.bank.mixture.cov @ transition.T, abs=1e-9)
    assert (after.log_weight == belief.bank.mixture.log_weight).all()
    moved = sum(n * state[s.start : s.start + 3] for s, n in zip(layout.screws, turns, strict=True))
    for station in machine.stations:
        head, mirror2 = _moved_reading(machine, station.x, station.y, state, mirror, moved)
        moved_state = transition @ state
        assert layout.measurement_matrix(station.x, station.y) @ moved_state == pytest.approx(head, abs=1e-9)
        rows = layout.measurement_matrix(station.x, station.y, "mirror 2")
        assert rows @ moved_state == pytest.approx(mirror2, abs=1e-9)


@pytest.mark.sweep
def test_rough_execution_widens_exactly_as_much_as_drawn_turns_do() -> None:
    """Mean and covariance after a turn of 0.3 ± 0.05 are those of 400 000 drawn states and turns."""
    layout = _fresh(make_machine()).layout
    start = _fresh(layout.machine).bank.mixture
    turns, variance = layout.turn_vector(1, {"B": 0.3, "C": -0.2}), np.array([0.05**2, 0.03**2, 0, 0])
    after = Turned(layout.screw_maps, turns, variance).after(start)
    rng = np.random.default_rng(1)
    draws = rng.multivariate_normal(start.mean[0], start.cov[0], 400_000, method="cholesky")
    done = turns + rng.normal(size=(len(draws), 4)) * np.sqrt(variance)
    moved = draws + np.einsum("dk,kij,dj->di", done, layout.screw_maps, draws, optimize=True)
    sd = np.sqrt(np.diag(after.cov[0]))
    assert (moved.mean(axis=0) - after.mean[0]) / sd == pytest.approx(0, abs=5 / np.sqrt(len(draws)))
    apart = np.cov(moved.T) - after.cov[0]
    assert apart / np.outer(sd, sd) == pytest.approx(0, abs=0.01)


def test_execution_is_as_rough_as_hands_are() -> None:
    """About 10 % of the turn plus 0.012 turn (docs/model.md), some lash on a reversal, and none of it unturned."""
    turns, last = np.array([0.5, 0.5, -0.5, 0.0]), np.array([1.0, -1.0, -1.0, 1.0])
    done, variance = executed(turns, last, TUNING.hands)
    assert done[[0, 2, 3]] == pytest.approx([0.5, -0.5, 0.0])
    assert variance[[0, 2]] == pytest.approx((0.1 * 0.5) ** 2 + 0.012**2)
    assert variance[3] == 0
    assert done[1] < 0.5
    assert variance[1] > variance[0]


@pytest.mark.parametrize("mirror", [1, 2])
@pytest.mark.parametrize("really", ["push", "pull"])
@pytest.mark.parametrize("said", ["push", "pull", "unknown"])
def test_the_first_turn_settles_the_drive(said, really, mirror) -> None:
    """Five marks, a turn of 0.15, five marks, ray-traced: what the profile said or did not say, the belief
    then is 99 % sure of the truth for that mirror, and no wiser about the other."""
    machine = make_machine(drives=(said, said))
    truth = ExactMachine(machine, {1: really, 2: really}, {"mirror1": PlateMotion(0.5, -0.4), "head_up": 0.6})
    belief = _round(_fresh(machine), truth)
    assert belief.drive_push(mirror) == pytest.approx({"push": 0.97, "pull": 0.03, "unknown": 0.5}[said], abs=1e-6)
    truth.turn(mirror, {"B": 0.15})
    belief = _round(beliefs.turn(belief, mirror, {"B": 0.15}), truth)
    assert (belief.drive_push(mirror) if really == "push" else 1 - belief.drive_push(mirror)) > 0.99
    other = 3 - mirror
    assert belief.drive_push(other) == pytest.approx({"push": 0.97, "pull": 0.03, "unknown": 0.5}[said], abs=0.01)


def _round(belief, truth) -> Belief:
    """A mark at every station, read without error."""
    for station in truth.machine.stations:
        u, v = truth.mark(station.x, station.y)
        belief = beliefs.update(belief, Sighting(station.name, station.x, station.y, "head", u, v))
    return belief


@pytest.mark.parametrize("side", ["left", "right"])
@pytest.mark.parametrize("mirror", [1, 2])
def test_the_belief_learns_each_screws_real_answer(side, mirror) -> None:
    """A mount whose arms are 15 % shorter than its profile says answers 18 % more: four turns and retests teach
    half of that difference and more, and the learned machine starts the next session with it."""
    machine = make_machine(side)
    longer = [p.model_copy(update={"x": p.x * 0.85, "y": p.y * 0.85}) for p in machine.mount(mirror).points]
    real = machine.mount(mirror).model_copy(update={"points": tuple(longer)})
    really = machine.model_copy(update={"mounts": (real,)})
    truth = ExactMachine(really, {mirror: "push"})
    belief = _round(_fresh(machine), ExactMachine(machine, {}))
    for turn in ({"B": 0.25}, {"C": 0.25}, {"B": -0.25}, {"C": -0.25}) * 2:
        truth.turn(mirror, turn)
        belief = beliefs.turn(belief, mirror, turn)
        for station in machine.stations:
            u, v = truth.mark(station.x, station.y)
            belief = beliefs.update(belief, Sighting(station.name, station.x, station.y, "head", u, v))
    said, is_ = screw_responses(machine.mount(mirror), side), screw_responses(real, side)
    taught = np.array(learned_machine(belief, DAY).mount(mirror).learned.mean).reshape(-1, 3)
    assert (np.abs(taught - is_)[:, :2] <= np.abs(said - is_)[:, :2] / 2 + 0.5).all()


def _miss_case(first_u: float):
    """A belief after one mark in the corner where both legs are short, and the corner where both are long."""
    machine = make_machine()
    near, far = machine.station("back-left"), machine.station("front-right")
    return beliefs.update(_fresh(machine), Sighting(near.name, near.x, near.y, "head", first_u, 0.5)), far


@pytest.mark.parametrize("first_u", sampled([2.0, 4.0, 6.0]))
def test_a_missed_mark_is_matched_in_mean_and_covariance(first_u, monkeypatch) -> None:
    """Every hypothesis after a miss has the mean, the covariance and the weight that brute force finds among
    drawn states whose reading lies off the tape (within five standard errors and 0.02, on a fine grid); the
    grid in use, with steps of a quarter standard deviation, stays within a tenth of a standard deviation."""
    belief, corner = _miss_case(first_u)
    radius = belief.layout.machine.tape.radius
    rows = belief.layout.measurement_matrix(corner.x, corner.y)
    miss = Sighting(corner.name, corner.x, corner.y)
    in_use = seen(belief.layout, belief.bank, miss)
    monkeypatch.setattr(measurements, "GRID", 201)
    after = seen(belief.layout, belief.bank, miss)
    rng = np.random.default_rng(8)
    chance = {}
    yawing = int(np.argmax(belief.bank.mixture.cov[:, YAW, YAW]))
    for index in (0, yawing):
        mean, cov = belief.bank.mixture.mean[index], belief.bank.mixture.cov[index]
        draws = rng.multivariate_normal(mean, cov, 400_000, method="cholesky")
        reading = draws @ rows.T + TUNING.readings.sd * rng.normal(size=(len(draws), 2))
        out = draws[np.hypot(reading[:, 0], reading[:, 1]) > radius]
        chance[index] = len(out) / len(draws)
        sd = np.sqrt(np.diag(cov))
        for found, close in ((after, 0.02 + 5 / np.sqrt(len(out))), (in_use, 0.1)):
            assert (found.mixture.mean[index] - out.mean(axis=0)) / sd == pytest.approx(0, abs=close)
            apart = (found.mixture.cov[index] - np.cov(out.T)) / np.outer(sd, sd)
            assert apart == pytest.approx(0, abs=close)
    gained = np.exp(after.mixture.log_weight - belief.bank.mixture.log_weight)
    assert gained[yawing] / gained[0] == pytest.approx(chance[yawing] / chance[0], rel=0.03)


@pytest.mark.parametrize("first_u", [0.0, 3.0, 6.0, 9.0])
def test_a_missed_mark_moves_the_belief_outward(first_u) -> None:
    """After a miss the chance of leaving the tape there again has risen, in every hypothesis and together."""
    belief, corner = _miss_case(first_u)
    after_miss = beliefs.update(belief, Sighting(corner.name, corner.x, corner.y))
    before, after = (np.linalg.norm(b.expected(corner.x, corner.y).mean) for b in (belief, after_miss))
    assert after > before
    assert _off_tape(after_miss, corner) > _off_tape(belief, corner) + 0.02


def _off_tape(belief, place) -> float:
    mark = belief.expected(place.x, place.y)
    draws = np.random.default_rng(3).multivariate_normal(mark.mean, mark.cov, 100_000)
    return float((np.hypot(*draws.T) > belief.layout.machine.tape.radius).mean())


def test_a_miss_nobody_foresaw_widens_the_belief_and_breaks_nothing() -> None:
    """Five marks in the centre, then a miss in the middle: no direction is made up, the doubt grows."""
    machine = make_machine()
    truth = ExactMachine(machine, {})
    belief = _round(_fresh(machine), truth)
    middle = machine.station("middle")
    after_miss = beliefs.update(belief, Sighting("middle", middle.x, middle.y))
    mark = after_miss.expected(middle.x, middle.y)
    assert np.hypot(*mark.mean) < 0.1
    assert np.linalg.eigvalsh(mark.cov)[0] > 25 * np.linalg.eigvalsh(belief.expected(middle.x, middle.y).cov)[1]
    assert np.isfinite(after_miss.bank.mixture.log_weight).all()
