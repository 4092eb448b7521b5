"""Two wrong readings in one round: told from a loose part, by every story weighed."""

from datetime import date
from itertools import combinations

import numpy as np
import pytest
from machines import ExactMachine, make_machine
from scipy.special import logsumexp
from scipy.stats import multivariate_normal

from coach.belief import belief as beliefs
from coach.belief.belief import Belief, Sighting
from coach.belief.consistency import Evidence
from coach.belief.stories import stories
from coach.optics.mounts import PlateMotion
from coach.tuning import TUNING

READINGS = TUNING.readings
MACHINE = make_machine()
TRUTH = ExactMachine(MACHINE, {}, {"mirror1": PlateMotion(1.0, 0.5), "head_up": 0.5})
STATIONS = MACHINE.stations


def _sightings(wrong: dict[int, tuple[float, float]], order: list[int]) -> list[Sighting]:
    """The true marks at those stations in turn, the n-th reading off by `wrong[n]` mm."""
    found = []
    for number, index in enumerate(order):
        place = STATIONS[index]
        u, v = TRUTH.mark(place.x, place.y)
        du, dv = wrong.get(number, (0.0, 0.0))
        found.append(Sighting(place.name, place.x, place.y, "head", u + du, v + dv))
    return found


def _after(sightings: list[Sighting]) -> Belief:
    belief = Belief.initial(MACHINE, date(2024, 3, 1))
    for sighting in sightings:
        belief = beliefs.update(belief, sighting)
    return belief


def test_the_stories_are_weighed_as_by_brute_force() -> None:
    """Each story is one Gaussian for all readings under each hypothesis: summed up one by one with scipy."""
    sightings = _sightings({1: (2.5, -1.0)}, [0, 1, 2, 3, 4])
    start = Belief.initial(MACHINE, date(2024, 3, 1)).bank
    evidence = Evidence.of(_after([]).layout, start, sightings)
    told = [story for size in range(3) for story in combinations(range(5), size)]
    rows = np.concatenate([evidence.matrices[k] for k in range(5)])
    read = np.concatenate([evidence.readings[k] for k in range(5)])
    log = np.zeros((len(told), len(start.weights)))
    for s, story in enumerate(told):
        for h, (mean, cov) in enumerate(zip(start.mixture.mean, start.mixture.cov, strict=True)):
            spread = rows @ cov @ rows.T
            for k in range(5):
                more = READINGS.outlier_sd**2 * (k in story)
                spread[2 * k : 2 * k + 2, 2 * k : 2 * k + 2] += evidence.noises[k, h] + more * np.eye(2)
            log[s, h] = multivariate_normal(rows @ mean, spread).logpdf(read) + np.log(start.weights[h])
        log[s] += len(story) * np.log(READINGS.outlier_probability)
    weight = np.exp(log - logsumexp(log))
    found = stories(evidence, READINGS)
    wanted = [sum(weight[s].sum() for s, story in enumerate(told) if k in story) for k in range(5)]
    assert found.wrong == pytest.approx(np.array(wanted), abs=1e-9)
    assert found.bank.weights == pytest.approx(weight.sum(axis=0), abs=1e-9)


@pytest.mark.parametrize(("first", "second"), [((-2.3, 1.0), (2.0, -2.0)), ((0.5, 2.8), (2.5, 1.0))])
def test_two_slips_do_not_make_a_part_loose(first: tuple[float, float], second: tuple[float, float]) -> None:
    """Seven marks, two stations made again as they had seemed odd, two readings 2.5 to 3 mm out: the machine is not
    blamed, the two are named and left out.  The same marks wandering all over are a loose part (tests/advice)."""
    belief = _after(_sightings({1: first, 3: second}, [0, 1, 2, 3, 4, 1, 3]))
    assert belief.cause("loose") < 0.3
    assert set(np.argsort(-belief.outliers)[:2]) == {1, 3}
    assert (belief.outliers[[1, 3]] > READINGS.left_out_from).all()
    assert belief.settled.mixture.moments.mean[:8] == pytest.approx(
        _after(_sightings({}, [0, 2, 4, 1, 3])).settled.mixture.moments.mean[:8], abs=0.05
    )


def test_two_marks_that_agree_are_no_two_slips() -> None:
    """A place marked twice, 3 mm off both times: that is said of the place, not of the readings."""
    belief = _after(_sightings({2: (3.0, 0.0), 5: (3.1, 0.0)}, [0, 1, 2, 3, 4, 2]))
    assert belief.odd_station[0] == STATIONS[2].name
    assert belief.odd_station[1] > 0.5
    assert (belief.outliers < READINGS.left_out_from).all()
