"""A bed that was found out of level: the coach says which corner is raised by how much, and how.

How a bed is levelled is common practice; the turns of a screw are ISO 261's pitches (M6 1 mm, M8 1.25 mm).
"""

import pytest
from built_steps import built, step_at

from coach import Session
from coach.practice.demo import demo_machine
from coach.shown import IN_MM
from coach.steps.current import current_step
from coach.steps.perform import perform
from coach.steps.visit_progress import power_now
from coach.triage.bed import hangs
from coach.triage.causes import CHECKS

GAPS = {"front_left": 5.0, "front_right": 6.2, "back_left": 5.1, "back_right": 6.0}


def test_found_bed_leads_to_how_it_is_levelled_and_back_to_the_gaps() -> None:
    """The first answer at the verdict; the machine is off there; then the corners are measured again."""
    session = built("verdict")
    step = current_step(session, IN_MM)
    assert (step.action, step.choices[0].key) == ("Found: bed", "level-bed")
    perform(session, step, "level-bed")
    step = current_step(session, IN_MM)
    assert step.key == "level-bed"
    assert power_now(session.effective) == "off"
    perform(session, step, "check-again")
    assert current_step(session, IN_MM).item == "bed"


def test_the_low_corners_are_raised_by_what_their_gaps_are_larger() -> None:
    """A larger gap under the head is a lower bed: it goes up by the difference, the highest corner stays."""
    low = hangs(GAPS)
    assert max(low, key=lambda corner: low[corner]) == "front right"
    assert low["front right"] == pytest.approx(6.2 - 5.0)
    step = step_at("level-bed")
    assert (step.action, step.figure) == ("Raise front right", "1.2 mm")
    assert "front right 1.2 mm, back right 1.0 mm, back left 0.1 mm" in step.do[0]
    assert step.do[0].endswith("left as it is: front left.")


def test_hands_go_to_the_beds_screws_with_the_machine_off() -> None:
    """Where the last check was one that cuts, the switch comes first."""
    session = built("verdict")
    session.check("supply", "good")
    session.gate("powered")
    perform(session, current_step(session, IN_MM), "level-bed")
    assert current_step(session, IN_MM).gate == "isolated"
    step = step_at("level-bed")
    assert {"not-firing", "under-bed", "supply"} <= {caution.key for caution in step.cautions}


@pytest.mark.parametrize("gaps", [{}, {"front_left": 5.0}])
def test_a_bed_bad_by_the_eye_is_measured_before_anything_is_raised(gaps: dict[str, float]) -> None:
    """The cuts say where to begin, and not which way: weak cuts come of a bed too high as of one too low."""
    session = Session.start(demo_machine())
    session.gate("rules")
    session.begin("what changed")
    for number, station in enumerate(session.machine.stations):
        session.cut(station.name, fastest=18.0 - 2 * number, next=20.0 - 2 * number, material="ply 6 mm, lot 3")
    session.begin("checks")
    for name in CHECKS:
        session.check(name, "bad" if name == "bed" else "good", **(gaps if name == "bed" else {}))
    perform(session, current_step(session, IN_MM), "level-bed")
    session.gate("isolated")
    step = current_step(session, IN_MM)
    assert (step.action, step.figure) == ("Bed: gaps first", "")
    assert f"slowest at {session.machine.stations[-1].name}" in step.do[0]
    assert "low or high only a gap tells" in step.do[0]
    assert step.choices[0].label == "Measure the corners' gaps"
