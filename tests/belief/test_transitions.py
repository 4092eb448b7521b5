"""What moving, disturbing and mending do to what is believed."""

import numpy as np
import pytest
from machines import make_machine

from coach import Session
from coach.belief.layout import A1_U, A2_U, C_U, C_V, M_U, Layout
from coach.belief.transitions import DISTURBED, disturbed, shifted
from coach.errors import UnknownName
from coach.tuning import TUNING


def _marked() -> Session:
    session = Session.start(make_machine())
    for station in session.machine.stations:
        session.mark(station.name, u=0.2, v=-0.1)
    return session


@pytest.mark.parametrize("side", ["left", "right"])
def test_how_far_a_part_really_went_is_one_number_at_both_openings(side: str) -> None:
    """The tube moved back: what it went too far shows at the head and, turned over by the fold, at mirror 2."""
    layout = Layout(make_machine(side))
    spread = shifted(layout, "tube", {"back": 2.0}, TUNING.hands).spread
    cov = spread @ spread.T
    expected = np.hypot(0.1 * 2.0, 0.2) ** 2
    assert cov[C_U, C_U] == pytest.approx(expected)
    assert cov[M_U, M_U] == pytest.approx(expected)
    assert cov[C_U, M_U] == pytest.approx(-expected)
    assert cov[C_V, C_V] == 0.0


def test_each_direction_of_a_move_has_a_doubt_of_its_own() -> None:
    """Up and back at once: two causes, each of the size of its own move."""
    spread = shifted(Layout(make_machine()), "tube", {"up": 3.0, "back": -1.0}, TUNING.hands).spread
    cov = spread @ spread.T
    assert cov[C_V, C_V] == pytest.approx(np.hypot(0.3, 0.2) ** 2)
    assert cov[C_U, C_U] == pytest.approx(np.hypot(0.1, 0.2) ** 2)
    assert cov[C_U, C_V] == 0.0


SLOPES = {"tube": (True, True), "mirror 1": (True, True), "mirror 2": (False, True), "head": (False, False)}


@pytest.mark.parametrize("part", SLOPES)
def test_what_a_part_steers_is_believed_less_once_it_was_out(part: str) -> None:
    """4 mrad on the legs behind a mirror that was out; leg 2 carries all of what leg 1 suffers."""
    spread = disturbed(Layout(make_machine()), part, TUNING.hands).spread
    cov = spread @ spread.T
    leg1, leg2 = SLOPES[part]
    assert np.sqrt(cov[A1_U, A1_U]) == pytest.approx(4.0 * leg1)
    assert np.sqrt(cov[A2_U, A2_U]) >= 4.0 * leg2
    if part == "mirror 1":
        assert cov[A1_U, A2_U] == pytest.approx(16.0)


def test_a_disturbed_part_asks_for_marks_again_and_an_unknown_one_is_refused() -> None:
    """Mirror 2 was out: no station counts as marked; a part that there is not raises, with the ones there are."""
    session = _marked()
    assert session.advice().kind == "done"
    session.disturbed("mirror 2")
    assert session.advice().kind == "shoot"
    assert len(session.belief.unmarked()) == len(session.machine.stations)
    with pytest.raises(UnknownName, match="mirror 3"):
        disturbed(Layout(session.machine), "bellows", TUNING.hands)
    assert set(DISTURBED) == {"tube", "mirror 1", "mirror 2", "mirror 3", "lens", "head", "machine"}


def test_after_a_repair_every_explanation_is_open_again() -> None:
    """Marks that jump name a loose part; once it was mended that is no likelier than on a strange machine."""
    session = Session.start(make_machine())
    jumps = ((0.0, 0.0), (2.5, 1.0), (-2.0, 1.5), (1.0, -2.5), (-1.5, -1.0))
    for turn in range(3):
        for (u, v), station in zip(jumps, session.machine.stations, strict=True):
            session.mark(station.name, u=u * (-1) ** turn, v=v * (-1) ** turn)
    assert session.belief.cause("loose") > 0.9
    session.mended("loose")
    assert session.belief.cause("loose") == pytest.approx(0.015, abs=1e-6)
    assert session.advice().kind == "shoot"
