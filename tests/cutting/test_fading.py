"""One station cold and warm: the interval against made truths, and what fading speaks for."""

import math

import numpy as np
import pytest
from machines import make_machine
from scipy import stats

from coach import Session
from coach.cutting.fading import fading
from coach.cutting.limits import Limit
from coach.errors import InputError
from coach.practice.demo import visit_machine
from coach.practice.visit_bench import VisitBench
from coach.triage.evidence import of_fading
from coach.tuning import TUNING

CUTTING = TUNING.cutting
SHEET = {"material": "ply 6 mm, lot 3"}


def found(speed: float, rng: np.random.Generator) -> Limit:
    """The two lines between which that speed falls, a tenth apart, beginning anywhere."""
    begin = rng.random() * math.log(CUTTING.step)
    step = math.floor((math.log(speed) - begin) / math.log(CUTTING.step))
    low, high = (math.exp(begin + (step + k) * math.log(CUTTING.step)) for k in (0, 1))
    return Limit("middle", low, high)


def test_the_interval_covers_the_truth_in_19_of_20() -> None:
    """Machines that keep 55 to 105 % warm, each place of the sheet off by what is believed of it: 90 to 98 %."""
    rng, covered, many = np.random.default_rng(4), 0, 400
    for _ in range(many):
        truth = rng.uniform(0.55, 1.05)
        cold, warm = 18.0 * np.exp(CUTTING.place_sd * rng.standard_normal(2)) * (1.0, truth)
        low, _, high = fading(found(cold, rng), found(warm, rng), CUTTING).ratio
        covered += low <= truth <= high
    assert 0.90 <= covered / many <= 0.98 + 2 * math.sqrt(0.02 * 0.98 / many)
    assert stats.binomtest(covered, many, 0.95).pvalue > 1e-4


@pytest.mark.parametrize(
    ("warm", "fades"), [((9.0, 9.9), "yes"), ((18.0, 19.8), "no"), ((15.2, 16.7), "unsure"), ((0.0, 9.0), "yes")]
)
def test_what_it_is_called(warm: tuple[float, float], fades: str) -> None:
    """Half of it, all of it, one step and a half less; and no line that fell through any more."""
    assert fading(Limit("middle", 18.0, 19.8), Limit("middle", *warm), CUTTING).fades == fades


def cold_then(session: Session, warm: float) -> Session:
    """Three stations cold, the first once more, warm."""
    for name in ("back-left", "middle", "front-right"):
        session.cut(name, fastest=18.0, next=19.8, **SHEET)
    session.cut("back-left", fastest=warm, next=1.1 * warm, warm=True)
    return session


def test_fading_speaks_for_water_lens_and_tube_and_against_what_is_cold_as_warm() -> None:
    """visit.md: fading while warm (lens, water); as cold: not the water.  The cold check itself stands as it was."""
    faded, steady = cold_then(Session.start(make_machine()), 10.0), cold_then(Session.start(make_machine()), 18.0)
    assert faded.cuts().stations == steady.cuts().stations
    assert faded.cuts().fading.station == "back-left"
    plus, minus = of_fading(faded.cuts().fading)
    assert [cause for cause, _ in plus] == ["cooling", "lens", "tube"]
    assert {cause for cause, _ in minus} == {"alignment", "bed", "focus", "material"}
    assert of_fading(steady.cuts().fading) == ((), (("cooling", minus_words(steady)),))
    first = faded.suspects()[0]
    assert first.name == "cooling"
    assert any(why.startswith("Warm, back-left cuts at ") for why in first.speaks_for)


def minus_words(session: Session) -> str:
    return of_fading(session.cuts().fading)[1][0][1]


def test_warm_stands_beside_cold_of_the_same_check_alone() -> None:
    """Not cut cold before, or something touched since: refused in a sentence, nothing entered."""
    session = Session.start(make_machine())
    with pytest.raises(InputError, match="not cut cold"):
        session.cut("middle", fastest=18.0, next=19.8, warm=True, **SHEET)
    session.cut("middle", fastest=18.0, next=19.8, **SHEET)
    session.care("lens", "clean")
    with pytest.raises(InputError, match="not cut cold"):
        session.cut("middle", fastest=18.0, next=19.8, warm=True)
    assert len(session.events) == 2


@pytest.mark.parametrize(("kind", "fades"), [("visit-cooling", True), ("visit-tube", True), ("visit-bed", False)])
def test_the_practice_machine_fades_where_water_or_tube_are_wrong(kind: str, fades: bool) -> None:
    """Beside the first lines, warm: well below 85 % of cold there, and as cold on a machine that has neither."""
    bench = VisitBench(visit_machine(), 3, kind)
    share = bench.just_through("middle", sheet=5, warm=True) / bench.just_through("middle", sheet=5)
    assert (share < 0.85) == fades
