"""What an offset costs, against published and derived numbers."""

import numpy as np
import pytest
from machines import make_machine
from scipy.stats import ncx2

from coach import Session
from coach.advice.cost_words import cost_words
from coach.advice.offset_cost import offset_costs, worst_cost
from coach.optics.legs import leg_lengths


def _at(u: float, v: float = 0.0) -> Session:
    """Every station marked so often at (u, v) that its place is all but certain."""
    session = Session.start(make_machine())
    for station in session.machine.stations * 12:
        session.mark(station.name, u=u, v=v, sd=0.05)
    return session


@pytest.mark.parametrize("offset", [0.0, 2.0, 4.0])
def test_what_passes_is_the_noncentral_chi_square_of_a_beam_that_has_grown(offset: float) -> None:
    """F = P[χ'²(2, 4d²/w²) ≤ 4a²/w²] (Marcum 1950: memory; scipy) with w = w0·√(1 + (z·λ·M²/(π·w0²))²), w0 3 mm and
    M² 1.2: 3.24 mm after 0.9 m (Kogelnik & Li: memory)."""
    session = _at(offset)
    machine = session.machine
    assert 3.0 * np.hypot(1, 0.9 * 10.6 * 1.2 / (np.pi * 9.0)) == pytest.approx(3.237, abs=5e-4)
    for name, passes in session.power().items():
        station = machine.station(name)
        z = sum(leg_lengths(machine, station.x, station.y))
        w = 3.0 * np.hypot(1, z * 10.6 * 1.2 / (np.pi * 9.0))
        assert passes == pytest.approx(ncx2.cdf(4 * 9.0**2 / w**2, 2, 4 * offset**2 / w**2), abs=2e-3)


def test_the_cut_leans_as_an_offset_lens_makes_it() -> None:
    """1.1277° per mm at a focal length of 50.8 mm (d/f: Burge, read)."""
    for cost in offset_costs(_at(0.0, 2.0).belief):
        assert cost.lean == pytest.approx(2 * 1.1277, rel=0.02)


def test_it_is_said_for_the_worst_station() -> None:
    """Two millimetres of height lean the cut by 2.3° everywhere, and cost next to no power in an opening of 18 mm."""
    said = cost_words(*worst_cost(_at(0.0, 2.0).belief))
    assert "2.3° lean" in said
    assert "< 0.1 % power" in said
