"""Cut checks: the likelihood against scipy's, intervals against made-up machines, patterns against the hidden."""

import math

import numpy as np
import pytest
from ladder import cut, hidden
from machines import make_machine
from scipy.stats import CensoredData, norm

from coach import Session
from coach.cutting.check import CutCheck, Surroundings, compared, read
from coach.cutting.cuts import Cuts
from coach.cutting.likelihood import between, log_likelihood
from coach.cutting.limits import Limit, checked_limit
from coach.cutting.limits import ladder as ladder_of
from coach.cutting.posterior import draws, interval
from coach.cutting.sheet import checked_sheet, told_apart
from coach.errors import InputError, UnknownName
from coach.optics.focus import depth_of_focus, peak_left
from coach.optics.gaussian import beam_radius, centred_fraction
from coach.optics.legs import leg_lengths
from coach.steps.stages.cut_words import headline, told
from coach.triage.evidence import of_cuts
from coach.tuning import TUNING

CUTTING = TUNING.cutting
PLY = checked_sheet("ply 6 mm, lot 3")
MACHINE = make_machine()
NAMES = tuple(station.name for station in MACHINE.stations)
LEGS = np.array([sum(leg_lengths(MACHINE, s.x, s.y)) for s in MACHINE.stations])
KINDS = ("nearly alike", "legs", "one place", "bed")


def checked(limits, baseline=None, **around):
    """What these limits say of the demo machine."""
    return read(Cuts(PLY, tuple(limits)), Surroundings(MACHINE, **around), baseline, CUTTING)


def ladder(**speeds: float) -> list[Limit]:
    """Each station's limit on a ladder of 10 %, the fastest line that fell through being the one named."""
    return [Limit(name.replace("_", "-"), speed, 1.1 * speed) for name, speed in speeds.items()]


EVEN = ladder(back_left=18, back_right=18, middle=18, front_right=18, front_left=18)


# -- the likelihood -------------------------------------------------------------------------------

LOW = np.log([16.0, 18.0, 19.8, 14.0, 18.0])
HIGH = np.log([17.6, 19.8, 21.8, 15.4, 19.8])


def test_the_likelihood_is_scipy_s_of_interval_censored_data() -> None:
    """scipy.stats.norm.fit on CensoredData finds the maximum of ours: μ and s agree to five digits, closed and open
    intervals together."""
    low, high = np.append(LOW, [-math.inf, math.log(20.0)]), np.append(HIGH, [math.log(15.0), math.inf])
    data = CensoredData(interval=np.stack([LOW, HIGH], axis=1), left=[math.log(15.0)], right=[math.log(20.0)])
    mean, sd = norm.fit(data)
    around = np.linspace(-0.02, 0.02, 401)
    over_mean = log_likelihood(low, high, (mean + around)[:, None], np.array(sd))
    over_sd = log_likelihood(low, high, np.array(mean), (sd + around)[:, None])
    assert abs(around[over_mean.argmax()]) < 2e-4
    assert abs(around[over_sd.argmax()]) < 2e-4
    by_scipy = np.log(norm.cdf((high - mean) / sd) - norm.cdf((low - mean) / sd)).sum()
    assert log_likelihood(low, high, np.array(mean), np.array(sd)) == pytest.approx(by_scipy, rel=1e-12)


def test_far_tails_keep_their_digits() -> None:
    """Ten deviations out on either side: scipy's survival function (1 − Φ would be 0)."""
    for low, high in ((10.0, 11.0), (-11.0, -10.0)):
        want = norm.sf(10.0) - norm.sf(11.0)
        assert float(between(np.array(low), np.array(high))) == pytest.approx(want, rel=1e-9, abs=0.0)


# -- intervals ------------------------------------------------------------------------------------


@pytest.mark.sweep
def test_intervals_cover_the_truth() -> None:
    """Made-up machines of four kinds on a sheet that differs from place to place: the slowest over the fastest, and
    the change against a baseline, over all and of the station that lost most, lie within their intervals in 90 to 98
    of 100 (nominal 95)."""
    rng = np.random.default_rng(20261126)
    uniform, change, worst = [], [], []
    for number in range(160):
        truth = hidden(KINDS[number % 4], rng, NAMES, LEGS)
        before = {name: float(np.log(18.0) + 0.03 * rng.standard_normal()) for name in NAMES}
        sheet = 0.03 * rng.standard_normal()
        even = number % 3 == 0
        limits = cut({name: log + sheet for name, log in truth.items()}, rng, even=even)
        drawn = draws(limits, np.zeros(5), CUTTING)
        low, value, high = interval(np.exp(drawn.min(axis=1) - drawn.max(axis=1)))
        assert low <= value <= high <= 1.0
        uniform.append(low <= np.exp(min(truth.values()) - max(truth.values())) <= high)
        beside = compared(Cuts(PLY, tuple(limits)), Cuts(PLY, tuple(cut(before, rng, even=even))), CUTTING)
        (low, _, high), lost = beside.change, [truth[name] - before[name] for name in NAMES]
        change.append(low <= np.exp(np.mean(lost)) <= high)
        worst.append(beside.worst[0] <= np.exp(min(lost)) <= beside.worst[2])
    assert 0.90 <= np.mean(uniform) <= 0.98
    assert 0.90 <= np.mean(change) <= 0.98
    assert 0.90 <= np.mean(worst) <= 0.98


def test_cuts_that_are_alike_may_be_quite_even() -> None:
    """Every station between the same two speeds: nothing stands against 1, and no more is claimed than a step."""
    low, value, high = checked(EVEN).uniformity
    assert high == 1.0
    assert value > 0.95
    assert 0.75 < low < 0.95


def test_a_wider_step_is_a_wider_interval() -> None:
    """Steps of 30 % in place of 10 %: less is known."""
    fine, rough = checked(EVEN), checked([Limit(each.station, 18.0, 23.4) for each in EVEN])
    assert rough.uniformity[0] < fine.uniformity[0] - 0.02


def test_open_ends_are_used_for_what_they_say() -> None:
    """None fell through at the far corner down to 10 mm/s where the others cut at 18: below 10/18, and no number
    beneath; all fell through up to 30 mm/s at the near one: above 30/18 of them."""
    slow = checked([*EVEN[:3], Limit("front-right", 0.0, 10.0), EVEN[4]])
    assert slow.stations["front-right"] == (0.0, 10.0)
    assert slow.uniformity[2] < 0.65
    fast = checked([Limit("back-left", 30.0, math.inf), *EVEN[1:]])
    assert fast.stations["back-left"] == (30.0, math.inf)
    assert fast.uniformity[2] < 0.72


# -- patterns -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("speeds", "shape"),
    [
        ((18.0, 18.0, 18.0, 18.0, 18.0), "alike"),
        ((19.8, 18.0, 18.0, 18.0, 18.0), "alike"),
        ((18.0, 14.8, 16.3, 9.5, 15.5), "legs"),
        ((18.0, 18.0, 10.0, 18.0, 18.0), "one place"),
        ((18.0, 18.0, 18.0, 18.0, 10.0), "one place"),
        ((10.0, 18.0, 13.5, 18.0, 10.0), "bed"),
    ],
)
def test_a_pattern_is_named_for_what_it_looks_like(speeds: tuple[float, ...], shape: str) -> None:
    """back-left is nearest the tube, front-right farthest; a step between neighbours is no pattern; a fall toward
    mirror 2's side is one that no leg makes."""
    found = checked([Limit(name, v, 1.1 * v) for name, v in zip(NAMES, speeds, strict=True)])
    assert found.pattern == shape
    assert found.place == ({10.0: NAMES[speeds.index(10.0)]}[10.0] if shape == "one place" else "")


@pytest.mark.parametrize("sign", [1.0, -1.0])
def test_two_opposite_weak_corners_are_a_twisted_bed_and_no_one_place(sign: float) -> None:
    """A bed that hangs by x·y from its middle, 0.9 mm at its corners, the focus gauged to the higher pair:
    1/(1 + (Δ/z_R)²) of the peak (Kogelnik & Li).  Neither leg makes that, and it is two places, not one."""
    depth = depth_of_focus(50.8, CUTTING.radius, CUTTING.m2)
    bed = MACHINE.bed
    twist = {s.name: sign * (2 * s.x / bed.width - 1) * (2 * s.y / bed.depth - 1) for s in MACHINE.stations}
    limits = [
        Limit(n, v, 1.1 * v) for n, v in ((n, 18 * peak_left(max(0.0, 0.9 * t), depth)) for n, t in twist.items())
    ]
    found = checked(limits)
    assert (found.pattern, found.place) == ("bed", "")
    assert set(found.opposite) == {name for name, t in twist.items() if t > 0.5}
    plus = dict(of_cuts(found)[0])
    assert {"bed", "alignment", "rail"} == set(plus)  # a gantry out of square does the same
    assert all(name in plus["bed"] for name in found.opposite)
    action, _ = headline(found, None)
    assert action == "Opposite corners weak"


def test_what_an_interval_does_not_exclude_is_not_called_slower() -> None:
    """Likelier three times than no fall, and yet 19 in 20 leave 100 %: headline, sentences and causes say "not known"
    and "may", and name no weak place.  Twice as deep, 100 % is excluded, and it is said."""
    fall = {s.name: 1 - s.x / MACHINE.bed.width for s in MACHINE.stations}
    shallow, deep = (
        checked([Limit(name, v, 1.1 * v) for name, v in ((n, 20 * (1 - depth * f)) for n, f in fall.items())])
        for depth in (0.16, 0.5)
    )
    assert (shallow.pattern, deep.pattern) == ("bed", "bed")
    assert shallow.uniformity[2] >= 0.995 > deep.uniformity[2]
    assert [headline(check, None)[0] for check in (shallow, deep)] == ["Cuts alike: not known", "Cuts follow the bed"]
    assert "to 100 %" in headline(shallow, None)[1]
    session = Session.start(MACHINE)
    for limit in EVEN:
        session.cut(limit.station, fastest=limit.low, next=limit.high, material="ply 6 mm, lot 3")
    said, sure = (" ".join(told(session, check, None, 0)) for check in (shallow, deep))
    assert "cannot be told; if one is" in said
    assert "gets" not in said
    assert "cannot be told" not in sure
    middling = checked([Limit(n, 20 * (1 - 0.28 * f), 22 * (1 - 0.28 * f)) for n, f in fall.items()])
    assert middling.uneven
    assert min(left[1] for left in middling.left.values()) < 1 <= max(left[2] for left in middling.left.values())
    assert "where cannot be told (least at front-left" in " ".join(told(session, middling, None, 0))
    assert [dict(of_cuts(check)[0])["bed"].split(":")[0] for check in (shallow, deep)] == [
        "The cuts may follow the bed",
        "The cuts follow the bed",
    ]


def test_one_weak_corner_stays_one_place() -> None:
    """And a bed that slopes is no twist."""
    one = checked([Limit(name, v, 1.1 * v) for name, v in zip(NAMES, (18.0, 11.0, 18.0, 18.0, 18.0), strict=True)])
    assert (one.pattern, one.place, one.opposite) == ("one place", NAMES[1], ())
    slope = checked([Limit(name, v, 1.1 * v) for name, v in zip(NAMES, (10.0, 18.0, 13.5, 18.0, 10.0), strict=True)])
    assert (slope.pattern, slope.opposite) == ("bed", ())


def test_cuts_that_follow_the_gaps_are_the_bed() -> None:
    """Front right 1.2 mm farther from the head at f 50.8: 1/(1 + (Δ/z_R)²) of the peak (Kogelnik & Li).  With the
    gaps told it is the bed; with the bed known to be level it is not."""
    depth = depth_of_focus(50.8, CUTTING.radius, CUTTING.m2)
    gaps = {"back-left": 5.0, "back-right": 5.8, "middle": 5.5, "front-right": 6.2, "front-left": 5.1}
    limits = [Limit(n, v, 1.1 * v) for n, v in ((n, 18 * peak_left(gap - 5.0, depth)) for n, gap in gaps.items())]
    assert checked(limits, gaps=gaps).pattern == "bed"
    assert checked(limits, gaps=dict.fromkeys(NAMES, 5.0)).pattern == "legs"


def test_what_the_geometry_explains_is_told_apart() -> None:
    """From 0.9 to 2.1 m the beam grows from 3.24 to 4.13 mm (w0 3, M² 1.2); an opening of 6 mm then passes a fifth
    less (1 − exp(−2a²/w²)).  Cuts that fall just so leave nothing; cuts that fall twice as far leave the legs."""
    machine = make_machine(
        bed={"width": 700.0, "depth": 580.0}, path={"side": "left", "mirror1_gap": 430.0, "mirror2_gap": 430.0}
    )
    legs = {s.name: sum(leg_lengths(machine, s.x, s.y)) for s in machine.stations}
    passes = {name: centred_fraction(3.0, beam_radius(leg, 3.0, m2=1.2)) for name, leg in legs.items()}
    assert passes["front-right"] / passes["back-left"] == pytest.approx(0.797, abs=5e-3)

    def seen(power: float) -> CutCheck:
        limits = [Limit(name, 18 * f**power, 19.8 * f**power) for name, f in passes.items()]
        return read(Cuts(PLY, tuple(limits)), Surroundings(machine, passes), None, CUTTING)

    just, twice = seen(1), seen(2)
    assert (just.pattern, just.beyond) == ("legs", "alike")
    assert all(low < 1 < high for low, _, high in just.left.values())
    assert (twice.pattern, twice.beyond) == ("legs", "legs")


# -- against a baseline ---------------------------------------------------------------------------


def test_it_cuts_again_where_every_station_does() -> None:
    """The same speeds as then: fine, change about 1.  A fifth slower everywhere: alike, 0.8.  One corner at half: not
    as it was, though most of it is."""
    before = Cuts(PLY, tuple(EVEN))
    same = checked(EVEN, before)
    assert (same.pattern, same.again) == ("fine", "yes")
    assert same.change[0] < 1 < same.change[2]
    slower = checked([Limit(each.station, 14.4, 15.8) for each in EVEN], before)
    assert (slower.pattern, slower.again) == ("alike", "no")
    assert slower.change == pytest.approx((0.73, 0.8, 0.87), abs=0.04)
    corner = checked([*EVEN[:4], Limit("front-left", 9.0, 9.9)], before)
    assert (corner.pattern, corner.again) == ("one place", "no")


def test_the_ladder_rises_by_a_tenth() -> None:
    """Lines at speeds that rise by 10 %: common practice."""
    assert ladder_of(10.0, 4, CUTTING.step) == pytest.approx((10.0, 11.0, 12.1, 13.31))


@pytest.mark.parametrize(
    ("name", "why"),
    [
        ("ply 6 mm, lot 4", "another batch"),
        ("ply 3 mm, lot 3", "another thickness"),
        ("acrylic 6 mm, lot 3", "another material"),
        ("PLY  6 MM, Lot 3", ""),
        ("ply 6,0 mm lot 3", ""),
    ],
)
def test_another_sheet_is_not_compared(name: str, why: str) -> None:
    """The baseline of another sheet says nothing, and why is said; spelling is no difference."""
    then = Cuts(checked_sheet(name), tuple(EVEN))
    found = checked(EVEN, then)
    assert found.not_compared.startswith(why)
    assert (found.change is None, found.again == "") == (bool(why), bool(why))
    assert told_apart(then.sheet, PLY).startswith(why)


def test_without_a_baseline_nothing_is_called_fine() -> None:
    """Even cuts alone do not say that it cuts as it did."""
    found = checked(EVEN)
    assert (found.pattern, found.change, found.again, found.not_compared) == ("alike", None, "", "")


def test_another_power_is_not_compared() -> None:
    """60 % now, 55 % then."""
    now, then = Cuts(PLY, tuple(EVEN), 60.0), Cuts(PLY, tuple(EVEN), 55.0)
    assert "another power" in read(now, Surroundings(MACHINE), then, CUTTING).not_compared


# -- bad input ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        (lambda: checked_limit("middle", 20.0, 18.0), "not above 20"),
        (lambda: checked_limit("middle", 18.0, 18.0), "not above 18"),
        (lambda: checked_limit("middle", None, None), "No speed was given"),
        (lambda: checked_limit("middle", "18", 20.0), "not a number"),
        (lambda: checked_limit("middle", True, 20.0), "not a number"),
        (lambda: checked_limit("middle", -1.0, 20.0), "more than 0"),
        (lambda: checked_limit("middle", 18.0, float("inf")), "more than 0"),
        (lambda: checked_limit("middle", float("nan"), 20.0), "more than 0"),
        (lambda: checked_sheet("  "), "thickness and batch"),
        (lambda: checked_sheet(6), "thickness and batch"),
        (lambda: checked_sheet("PVC 3 mm"), "never cut"),
        (lambda: checked_sheet("black vinyl"), "never cut"),
        (lambda: checked(EVEN[:2]), "Too few stations"),
        (lambda: checked([]), "none yet"),
    ],
)
def test_what_cannot_be_is_said_in_a_sentence(wrong, said: str) -> None:
    """Speeds out of order, none at all, no sheet, too few stations, and what must not be cut."""
    with pytest.raises(InputError, match=said) as caught:
        wrong()
    assert "Expected" in str(caught.value)


def test_a_station_of_another_machine_is_refused() -> None:
    """Cuts are compared with where they were made."""
    with pytest.raises(UnknownName, match="nowhere"):
        checked([*EVEN[:3], Limit("nowhere", 18.0, 19.8)])
