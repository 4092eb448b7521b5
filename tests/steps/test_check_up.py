"""What beam and cuts say together: every combination, read alone by somebody who has only that sentence."""

from dataclasses import replace
from itertools import product
from typing import get_args

import pytest
from built_steps import built

from coach.cutting.check import CutCheck
from coach.cutting.fading import Fading
from coach.session.session import Session
from coach.shown import IN_MM
from coach.steps.about import About
from coach.steps.check_up import BeamWord, cut_word, joined
from coach.steps.stages.cut_words import result
from coach.steps.visit_progress import part_now

FINE = CutCheck(
    stations={"middle": (18.0, 20.0)}, uniformity=(0.9, 0.97, 1.0), pattern="fine", beyond="alike", place="", also=(),
    left={}, change=(0.95, 1.0, 1.05), again="yes", nearly=True, worst=(0.93, 0.98, 1.02), not_compared="",
)  # fmt: skip
SLOW = replace(FINE, again="no", nearly=False, change=(0.87, 0.92, 0.97), worst=(0.8, 0.86, 0.9))
CHECKS: dict[str, CutCheck | None] = {
    "nothing": None,
    "yes": FINE,
    "unsure": replace(FINE, again="unsure"),
    "not compared": replace(FINE, again="", change=None, worst=None, pattern="alike"),
    **{shape: replace(SLOW, pattern=shape) for shape in ("alike", "legs", "bed")},
    "one place": replace(SLOW, pattern="one place", place="front-left", change=(0.95, 0.99, 1.0)),
}


@pytest.mark.parametrize(("beam", "cuts"), list(product(get_args(BeamWord), CHECKS)))
def test_every_combination_says_both_and_what_to_look_at(beam: BeamWord, cuts: str) -> None:
    """Nobody is told to align where the beam did not move, nor that all is well where it cuts slower."""
    check = CHECKS[cuts]
    said = joined(beam, check)
    first, _, advice = said.partition(": ")
    assert said.endswith(".")
    assert first.startswith({"as it was": "Beam as it was", "moved": "Beam moved", "not known": "Whether the"}[beam])
    if "align" in advice:
        assert beam == "moved"
    slower = cut_word(check) == "no"
    assert ("slower than the baseline" in first) == slower
    assert ("nothing is to be done" in advice) == (cut_word(check) == "yes" and beam != "moved")
    if slower and beam == "not known":
        assert "mark every station" in advice
    looks = {
        "alike": "lens",
        "bed": "gaps",
        "one place": "front-left",
        "legs": "align" if beam == "moved" else "gaps",
    }
    assert looks.get(cuts, "") in advice


def test_the_figure_is_that_of_the_check() -> None:
    """8 % with its interval where all are slower; the weakest station where the others are not."""
    assert joined("as it was", CHECKS["alike"]) == (
        "Beam as it was, cuts 8 % (3 to 13) slower than the baseline: look at the lens first."
    )
    fades = replace(SLOW, pattern="alike", fading=Fading("middle", (0.6, 0.7, 0.8), "yes"))
    assert joined("as it was", fades).endswith(": it fades while warm, so look at the water first.")
    assert "its weakest station cuts 14 % (10 to 20) slower" in joined("moved", CHECKS["one place"])


def test_it_stands_where_the_cuts_of_a_check_up_are_read() -> None:
    """From marks and cuts of one session, first of all that is said; in another visit there is no such sentence."""
    session = built("check-up")
    session.end("beam path")
    session.begin("cut check")
    session.sheet("ply 6 mm, lot 3", power=60.0)
    for station in session.machine.stations:
        session.cut(station.name, fastest=20.0, next=22.0, material="ply 6 mm, lot 3", power=60.0)
    assert _result(session)[0] == (
        "Beam as it was, no baseline to compare the cuts with: nothing speaks for a change."
    )
    assert not any("Beam" in line for line in _result(built("cut-again")))


def _result(session: Session) -> tuple[str, ...]:
    part = part_now(session.effective)
    return result(About(key="cut-result", part=part), session, IN_MM).do
