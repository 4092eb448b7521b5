"""What nobody measured widens the doubt, and nothing else does.  The sizes are derived here from their definition."""

from datetime import date

import numpy as np
import pytest
from machines import make_machine

from coach import Machine
from coach.belief.belief import Belief
from coach.belief.layout import A1_U, C_U, M_U
from coach.belief.prior import extra_doubt, mount_prior
from coach.tuning import TUNING

TODAY = date(2026, 3, 1)
EVERYTHING = (
    "path.mirror1_gap", "path.mirror2_gap", "aperture.head", "tape.radius", "tolerance",
    "mounts.1.points", "mounts.1.thread", "mounts.2.points", "mounts.2.thread",
)  # fmt: skip


def machine(*guessed: str) -> Machine:
    return make_machine(guessed=guessed)


def extra(of: Machine, mirror: int) -> tuple[float, float]:
    return extra_doubt(of, mirror, TUNING.prior)


def doubt(*guessed: str) -> np.ndarray:
    """Variances of the whole state before the first mark."""
    cov = Belief.initial(machine(*guessed), TODAY).bank.mixture.cov
    return np.diagonal(cov, axis1=1, axis2=2)


def test_what_says_nothing_about_the_beam_widens_nothing() -> None:
    """Guessed openings, tapes, tolerances and unknown names: the belief is bit for bit that of a measured machine."""
    other = ("aperture.head", "tape.radius", "tolerance", "bed.width", "mounts.3.points")
    assert extra(machine(*other), 1) == extra(machine(*other), 2) == (0.0, 0.0)
    assert (doubt(*other) == doubt()).all()


@pytest.mark.parametrize("name", [name for name in EVERYTHING if name.startswith(("path", "mounts"))])
def test_every_guess_widens_the_doubt_and_narrows_none(name: str) -> None:
    """Each of the guessed values alone makes some variance larger and none smaller; all together widen most."""
    assert (doubt(name) >= doubt()).all()
    assert (doubt(name) > doubt()).any()
    assert (doubt(*EVERYTHING) >= doubt(name)).all()


def test_the_sizes_are_those_of_the_documents() -> None:
    """Middle of 600 × 400, gaps 150 and 120: legs 350 and 420 mm; 50 mm of each gap, 0.3 and 0.3 in quadrature."""
    gaps = machine("path.mirror1_gap", "path.mirror2_gap")
    assert extra(gaps, 1) == pytest.approx((np.hypot(50, 50) / 770, 0.0))
    assert extra(gaps, 2) == pytest.approx((50 / 420, 0.0))
    mount = machine("mounts.2.points", "mounts.2.thread")
    assert extra(mount, 1) == (0.0, 0.0)
    assert extra(mount, 2) == pytest.approx((np.hypot(0.3, 0.3), 0.35))
    wide = doubt("path.mirror1_gap")[0]
    assert wide[C_U] == pytest.approx(2.5**2 + 1.5**2 + (5.0 * 0.05) ** 2)
    assert wide[M_U] == pytest.approx(2.5**2 + 1.5**2 + (5.0 * 0.05) ** 2)
    assert wide[A1_U] == 5.0**2


def test_a_guess_is_no_doubt_about_what_was_learned() -> None:
    """Answers learned from retests do not depend on what was guessed of the mount."""
    lesson = {"on": "2026-02-01", "push": 0.9, "mean": (1.0, 0.0, 0.1, 0.0, 1.0, 0.1), "cov": np.eye(6).tolist()}
    table = machine(*EVERYTHING).to_table()
    table["mounts"][0]["learned"] = lesson
    taught = Machine.model_validate(table)
    measured = taught.model_copy(update={"guessed": ()})
    with_guess, without = (mount_prior(m, 1, TODAY, TUNING.prior) for m in (taught, measured))
    assert (with_guess.cov == without.cov).all()
