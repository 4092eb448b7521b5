"""The world as rough as a workshop: every size by a statistic with its bound, every sign against the exact trace.

The bounds: the rms of n normal draws is good to 1/√(2n) of itself, a share p of n to √(p(1 − p)/n); each is allowed
four of these, so that a right bench fails once in ten thousand such tests.
"""

import ast
import inspect
import math
from dataclasses import replace

import numpy as np
import pytest

from coach.machine import Machine
from coach.optics.trace import TrueState, at_head, at_mirror2, off_mirror_centres
from coach.practice import answers, bench, hidden, kinds
from coach.practice.bench import Bench
from coach.practice.kinds import KINDS, Trouble
from coach.practice.zoo import zoo_machine

SEEDS = range(300)
BIG = zoo_machine("L", "left", width=600.0, depth=400.0)
SIDES = {side: zoo_machine("L", side) for side in ("left", "right")}
CALM = Trouble(reading=0.0, rounding=1e-6, shift_fraction=0.0, shift_absolute=0.0, faces=True)
"""Hands and eyes that do what they mean, and mirrors that can be missed."""


def _rms(values: list[float]) -> float:
    return float(np.sqrt(np.mean(np.square(values))))


def _of_rms(draws: list[float]) -> float:
    """What the rms of so many draws may be off by, relative."""
    return 4.0 / math.sqrt(2 * len(draws))


def _slopes(state: TrueState) -> np.ndarray:
    """Slopes of leg 1 and of leg 2, (u, v) each, in mrad, from where the exact trace meets the head."""
    layout = state.layout
    near, far = (0.0, layout.width) if layout.side == "left" else (layout.width, 0.0)
    back, front, across = (np.array(at_head(state, *at)) for at in ((near, 400), (near, 0), (far, 400)))
    return np.concatenate([(front - back) / (layout.depth / 1000), (across - back) / (layout.width / 1000)])


def _bench(trouble: Trouble, machine: Machine = BIG, seed: int = 1, **state: float) -> Bench:
    """A bench of that trouble where nothing stands off but what is given."""
    made = Bench(machine, seed, "standard")
    made.trouble = trouble
    made._state = replace(TrueState(made.state.layout), **state)  # type: ignore[arg-type]
    return made


def _wide_tape(side: str = "left") -> Machine:
    machine = SIDES[side]
    return machine.model_copy(
        update={"tape": machine.tape.model_copy(update={"radius": 30.0, "mirror2_radius": 30.0})}
    )


@pytest.mark.parametrize("side", ["left", "right"])
def test_every_part_moves_the_mark_as_the_map_says(side: str) -> None:
    """1 mm of each part at the bench, in mm at the head: mirror 1 right → u +1, mirror 2 right → u −1 on both sides,
    tube and head back → u +1 on the left and −1 on the right, tube up → v +1, head up → v −1 (derived from the law of
    reflection: a face at 45° that moves by 1 across it moves the beam by √2·cos 45°)."""
    sign = 1.0 if side == "left" else -1.0
    table = {
        ("mirror 1", "right"): (1.0, 0.0),
        ("mirror 2", "right"): (-1.0, 0.0),
        ("tube", "back"): (sign, 0.0),
        ("head", "back"): (sign, 0.0),
        ("tube", "up"): (0.0, 1.0),
        ("head", "up"): (0.0, -1.0),
    }
    for (part, way), want in table.items():
        made = _bench(CALM, SIDES[side])
        made.shift(part, key=1, **{way: 1.0})
        for offset in made.true_offsets().values():
            assert offset == pytest.approx(want, abs=1e-6), (part, way)


@pytest.mark.parametrize(
    ("part", "way", "size", "legs"),
    [("tube", "up", 0.4, (0, 1)), ("mirror 1", "right", 1.5, (0, 1)), ("mirror 2", "right", 1.5, (1,))],
)
def test_a_moved_part_tilts(part: str, way: str, size: float, legs: tuple[int, ...]) -> None:
    """mrad rms in each axis: the tube 0.4 and mirror 1's plate 1.5, on both legs alike; mirror 2's 1.5 on leg 2."""
    changes = []
    for seed in SEEDS:
        made = _bench(KINDS["standard"], SIDES["right" if seed % 2 else "left"], seed)
        before = _slopes(made.state)
        made.shift(part, key=1, **{way: 1.0})
        changes.append((_slopes(made.state) - before).reshape(2, 2))
    for leg in (0, 1):
        for axis in (0, 1):
            draws = [float(change[leg, axis]) for change in changes]
            if leg in legs:
                assert _rms(draws) == pytest.approx(size, rel=_of_rms(draws))
            else:
                assert _rms(draws) < 0.01
    if len(legs) == 2:
        assert all(change[0] == pytest.approx(change[1], abs=0.02) for change in changes)


def test_a_moved_head_only_carries_its_opening_along() -> None:
    """No slope changes when the head moves in its bracket."""
    made = _bench(KINDS["standard"])
    made.shift("head", up=2.0, back=1.0, key=1)
    assert _slopes(made.state) == pytest.approx(np.zeros(4), abs=1e-9)


def test_shifts_and_turns_are_executed_as_roughly_as_told() -> None:
    """A shift of 3 mm to 10 % and 0.25 mm rms; a turn of 0.2 to 10 % and 0.012 turn rms."""
    moved, turned = [], []
    for seed in range(600):
        made = _bench(KINDS["standard"], seed=seed)
        made.shift("head", up=3.0, key=1)
        moved.append(made.state.head_up - 3.0)
        answer = made.true_responses(1)[0, 0] / 2
        before = made.state.mirror1.gradient_x
        made.turn(1, {"B": 0.2}, key=2)
        turned.append((made.state.mirror1.gradient_x - before) / answer - 0.2)
    assert _rms(moved) == pytest.approx(math.hypot(0.3, 0.25), rel=_of_rms(moved))
    assert _rms(turned) == pytest.approx(math.hypot(0.02, 0.012), rel=_of_rms(turned))


OWN = {"standard": 3.0, "standard-plates": 5.196, "standard-steep": 4.0, "standard-far": 6.0}
"""mrad rms; plates 3 mrad off turn the beam by 2·3 across and √2·3 in height, 5.196 rms of both (the map, §4)."""


@pytest.mark.parametrize(("kind", "own"), OWN.items())
def test_leg_2_carries_what_mirror_1_does_to_leg_1(kind: str, own: float) -> None:
    """Each mirror's own error is `own` mrad rms in each axis; leg 2 has both, √2 as large, and they go together."""
    first, second = [], []
    for seed in SEEDS:
        slopes = _slopes(Bench(SIDES["left" if seed % 2 else "right"], seed, kind).state)
        first += list(slopes[:2])
        second += list(slopes[2:])
    assert _rms(first) == pytest.approx(own, rel=_of_rms(first))
    assert _rms(second) == pytest.approx(own * math.sqrt(2), rel=_of_rms(second))
    assert np.corrcoef(first, second)[0, 1] == pytest.approx(math.sqrt(0.5), abs=4 * 0.5 / math.sqrt(len(first)))


@pytest.mark.sweep
def test_one_reading_in_thirty_is_wrong_by_a_millimetre_or_more_in_any_direction() -> None:
    """3 % of 6000 readings, 1 mm and on average 2 mm out; none of the others is out at all with exact eyes."""
    made = _bench(replace(CALM, tails=KINDS["standard"].tails))
    errors = [complex(s.u - s.true_u, s.v - s.true_v) for k in range(6000) if (s := made.pulse(300, 200, key=k))]
    wrong = [error for error in errors if abs(error) > 1e-4]
    assert len(errors) == 6000
    assert len(wrong) / 6000 == pytest.approx(0.03, abs=4 * math.sqrt(0.03 * 0.97 / 6000))
    assert min(map(abs, wrong)) >= 1.0 - 1e-5
    assert np.mean(np.abs(wrong)) == pytest.approx(2.0, abs=4 * 1.0 / math.sqrt(len(wrong)))
    mean_way = abs(np.mean([error / abs(error) for error in wrong]))
    assert mean_way < 3.1 / math.sqrt(len(wrong))  # Rayleigh: P(R̄ > z/√n) = exp(−z²)


def test_a_first_pulse_may_be_too_weak_and_more_dose_marks() -> None:
    """One in ten when nobody knows the dose yet, none once it is known; where the beam goes has no part in it."""
    made = [_bench(KINDS["standard"], seed=seed) for seed in range(2000)]
    weak = [one for one in made if one.pulse(300, 200, key=1, first=True) is None]
    assert len(weak) / 2000 == pytest.approx(0.1, abs=4 * math.sqrt(0.09 / 2000))
    assert all(one.pulse(300, 200, key=1) is not None for one in made)


@pytest.mark.parametrize("side", ["left", "right"])
@pytest.mark.parametrize(("place", "edge"), [("tube_back", 12.5 * math.sqrt(0.5)), ("tube_up", 12.5)])
def test_a_beam_beside_mirror_1_makes_no_mark(side: str, place: str, edge: float) -> None:
    """A mirror of 25 mm is (D/2)·cos 45° = 8.84 mm wide to either side and 12.5 high: a disc seen at 45°."""
    for off, marks in ((edge - 0.05, True), (edge + 0.05, False), (-edge + 0.05, True), (-edge - 0.05, False)):
        made = _bench(CALM, _wide_tape(side), **{place: off})
        for target in ("head", "mirror 2"):
            assert (made.pulse(300, 200, target, key=1) is not None) == marks, (off, target)
        made.trouble = replace(CALM, faces=False)
        assert made.pulse(300, 200, key=1) is not None


def test_a_beam_beside_mirror_2_still_marks_mirror_2s_own_tape() -> None:
    """Mirror 2 stands 8.84 mm aside: no mark at the head beyond that, one on its own tape all the same."""
    edge = 12.5 * math.sqrt(0.5)
    for off, marks in ((edge - 0.05, True), (edge + 0.05, False)):
        made = _bench(CALM, _wide_tape(), mirror2_right=off)
        assert (made.pulse(300, 200, key=1) is not None) == marks
        seen = made.pulse(300, 200, "mirror 2", key=1)
        assert seen is not None
        assert (seen.u, seen.v) == pytest.approx(at_mirror2(made.state, 200), abs=1e-5)


def test_where_the_beam_meets_the_faces_is_what_the_tape_there_shows() -> None:
    """At mirror 2, straight on: across the way u·√2 along the face, in height v; to first order in the slopes."""
    made = _bench(CALM, tube_back=1.0, tube_up=2.0)
    u, v = at_mirror2(made.state, 200)
    assert off_mirror_centres(made.state, 200) == pytest.approx([math.hypot(u * math.sqrt(2), v)] * 2, rel=1e-9)


def test_mounts_answer_two_to_three_times_as_strongly() -> None:
    """What slopes answer on "standard-strong" over "standard" for the same seed: one factor a mount, 2 to 3."""
    factors = []
    for seed in range(100):
        for mirror in (1, 2):
            strong, told = (Bench(BIG, seed, kind).true_responses(mirror) for kind in ("standard-strong", "standard"))
            ratio = np.linalg.norm(strong[:, :2], axis=1) / np.linalg.norm(told[:, :2], axis=1)
            assert ratio[0] == pytest.approx(ratio[1], rel=0.02)
            factors.append(float(ratio[0]))
    assert 1.98 < min(factors) < 2.1
    assert 2.9 < max(factors) < 3.03
    assert np.mean(factors) == pytest.approx(2.5, abs=4 * 0.29 / math.sqrt(len(factors)))


def test_the_yaw_of_a_workshop_machine_leaves_less_than_the_tolerance() -> None:
    """What no tilt and no shift cures of 10 mrad a metre at the usual stations: about half a millimetre."""
    for seed in range(20):
        state = Bench(BIG, seed, "standard-yaw").state
        rows = [(1.0, 0.4 - s.y / 1000, s.x / 1000) for s in BIG.stations]
        across = np.array([at_head(state, s.x, s.y)[0] for s in BIG.stations])
        left = across - np.array(rows) @ np.linalg.lstsq(np.array(rows), across, rcond=None)[0]
        assert 0.4 < np.abs(left).max() < 0.7


def test_parts_go_as_far_as_their_slots_and_no_further() -> None:
    """4 mm each way from where the part stood at first; what is not named does not move at all."""
    made = Bench(BIG, 1, "standard", travel={("head", "up"): 4.0})
    made.trouble = CALM
    start = made.state
    for part, way in (("tube", "up"), ("head", "back"), ("mirror 1", "right")):
        assert made.room(part, way, 1.0) == 0.0
        made.shift(part, key=1, **{way: 1.0})
    assert made.state == start
    made.shift("head", up=3.0, key=2)
    assert made.room("head", "up", 3.0) == pytest.approx(1.0)
    assert made.room("head", "up", -9.0) == pytest.approx(-7.0)
    made.shift("head", up=3.0, key=3)
    assert made.state.head_up - start.head_up == pytest.approx(4.0)
    assert Bench(BIG, 1, "standard").room("tube", "up", -30.0) == -30.0


def test_a_wide_card_is_read_half_a_millimetre_wrong() -> None:
    """Within 30 mm of the opening, u and v to 0.5 mm rms beside the rounding."""
    made = _bench(replace(KINDS["standard"], tails=0.0), tube_back=3.0, tube_up=11.5)
    assert made.pulse(300, 200, key=1) is None
    shots = [s for key in range(500) if (s := made.pulse(300, 200, key=key, wide=True)) is not None]
    errors = [e for s in shots for e in (s.u - s.true_u, s.v - s.true_v)]
    assert _rms(errors) == pytest.approx(math.hypot(0.5, 0.1 / math.sqrt(12)), rel=_of_rms(errors))


@pytest.mark.parametrize("module", [kinds, hidden, bench, answers])
def test_the_world_shares_no_number_with_who_advises(module: object) -> None:
    """What is believed and what decides stay unseen by the files that make the world, and kinds knows nobody."""
    tree = ast.parse(inspect.getsource(module))  # type: ignore[arg-type]
    seen = {node.module or "" for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)}
    seen |= {name.name for node in ast.walk(tree) if isinstance(node, ast.Import) for name in node.names}
    assert not [name for name in seen if name.startswith(("coach.tuning", "coach.belief", "coach.advice"))]
    if module is kinds:
        assert not [name for name in seen if name.startswith("coach")]
