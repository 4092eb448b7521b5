"""Practice years: their truth is what they say, and a small share of the table of docs/benchmark.md."""

import numpy as np
import pytest

from coach.practice.year_visits import live
from coach.practice.year_world import DAYS, Turned, draw_year
from coach.practice.year_zoo import play_year, row
from coach.practice.zoo import zoo_machine


def test_a_year_is_what_it_says() -> None:
    """What creeps tilts its own plate, by a thing that only grows; nothing creeps in a year without; it replays."""
    years = (draw_year(zoo_machine(), seed, "mirror 2") for seed in range(99))
    year = next(each for each in years if each.bump is None and all(day > DAYS for day, _ in each.taken_out))
    assert np.all(np.diff(year.creep) >= 0)
    assert year.creep[DAYS] > 0.3
    gone = np.linalg.norm(year.tilts[DAYS, 1] - year.tilts[0, 1])  # a year later it leans with the season as before
    assert gone == pytest.approx(year.creep[DAYS] - year.creep[0], abs=0.02)
    assert np.linalg.norm(year.tilts[DAYS, 0] - year.tilts[0, 0]) < 0.02
    assert not draw_year(zoo_machine(), 5, "none").creep.any()
    again = draw_year(zoo_machine(), year.seed, "mirror 2")
    assert np.array_equal(year.tilts, again.tilts)
    assert live(year).documents == live(again).documents


def test_the_day_on_which_the_tolerance_is_left_is_the_first_one() -> None:
    """The day before, every station is within it."""
    year = draw_year(zoo_machine(), 5, "mirror 2")
    nothing, lived = Turned.nothing(), live(year)
    assert year.leaves(0, nothing) == 0.0
    since = lived.days[-1]
    days = year.leaves(since, lived.turned)
    assert 0 < days < 730
    worst = [
        float(np.hypot(*year.offsets(year.state(since + int(day), lived.turned)).T).max()) for day in (days - 1, days)
    ]
    assert worst[0] <= year.machine.tolerance < worst[1]


@pytest.mark.sweep
@pytest.mark.parametrize(("creeper", "seed"), [("mirror 1", 21), ("none", 0)])
def test_a_year_that_was_played(creeper: str, seed: int) -> None:
    """One year in which a mirror creeps by more than two doubts, and one in which nothing does: named right, nothing
    else named at any visit; both make a row of the table."""
    played = play_year(creeper, seed)  # type: ignore[arg-type]
    assert played.named == (() if creeper == "none" else (creeper,))
    assert not played.wrongly
    assert played.ahead
    assert row(creeper, [played]).count("|") == 13
