"""Out and back, or bumped: what is told of it against what the model asks for, along the beam and between the parts.

Which marks feel which part is the optics of design's leg model: mirror 3 and the lens lie behind the head's opening.
"""

from typing import get_args

import pytest
from built_steps import built

from coach import Session
from coach.belief.layout import A1_U, A2_U, C_U
from coach.session.events import DisturbedPart
from coach.session.found_and_left import marks_last
from coach.shown import IN_MM
from coach.steps.bumped import BUMPED, LEAD, disturb
from coach.steps.current import current_step
from coach.steps.part_state import became
from coach.steps.visit import part_kind
from coach.visit import VISIT_PARTS, VisitPart

BEHIND_THE_OPENING = ("mirror 3", "lens")


def marked_until_done(session: Session) -> list[str]:
    """Stations that are marked where they are expected, until the advice is no pulse any more."""
    marked: list[str] = []
    while (advice := session.advice()).kind == "shoot":
        assert len(marked) < 12
        shot = advice.stations[0]
        session.mark(shot.name, u=0.1, v=0.1, x=shot.x, y=shot.y, target=shot.target, wide=shot.wide)
        marked += [shot.name] if shot.target == "head" else []
    return marked


@pytest.mark.parametrize("part", [each.part for each in BUMPED])
def test_every_station_is_marked_again_where_that_is_said(part: DisturbedPart) -> None:
    """Of a beam that was done: each of its stations is asked for once more, and none for what no mark there feels."""
    session = built("done")
    said = disturb(session, part)
    again = marked_until_done(session)
    assert ("every station is marked again" in said) == (part not in BEHIND_THE_OPENING)
    assert set(again) == (set() if part in BEHIND_THE_OPENING else {s.name for s in session.machine.stations})
    assert {each.part for each in BUMPED} == set(get_args(DisturbedPart))


@pytest.mark.parametrize(
    ("part", "comes"),
    [
        ("machine", "beam path"),
        ("head", "beam path"),
        ("lens", "head"),
        ("mirror 3", "head"),
    ],
)
def test_in_a_visit_the_part_that_marks_it_comes_once_more(part: str, comes: VisitPart) -> None:
    """Done, or left out: what was bumped afterwards is marked before the visit goes on, and that is why."""
    session = built("next-part")
    for room in VISIT_PARTS[:-1]:
        session.begin(room) if room in ("beam path", "head") else session.skip(room, "not today")
        if room in ("beam path", "head"):
            session.end(room)
    assert current_step(session, IN_MM).key == "parts-done"
    assert disturb(session, part)
    step = current_step(session, IN_MM)
    assert (step.key, step.part) == ("next-part", comes)
    assert "marks tell what it did" in step.why
    session.undo()
    session.skip(comes, "not today")
    disturb(session, part)
    assert became(part_kind(comes), session) == "to come"


def test_a_part_that_is_passed_over_is_not_while_a_bump_waits_for_its_mark() -> None:
    """It cuts as it did, and then the machine was bumped: the evidence is of before."""
    session = built("parts-done")
    for room in ("checks", "cut check"):
        session.begin(room)
    for station in session.machine.stations:
        session.cut(station.name, fastest=20.0, next=22.0, material="ply 6 mm, lot 3")
    session.baseline(session.kept_cuts())
    session.end("cut check")
    session.begin("checks")
    session.end("checks")
    assert session.cuts().again == "yes"
    disturb(session, "mirror 2")
    step = current_step(session, IN_MM)
    assert (step.key, step.part) == ("next-part", "beam path")


def test_a_bump_while_a_mark_waits_asks_for_another_pulse() -> None:
    """What is open is asked for no more, undo brings it back; what the mark does not feel changes nothing."""
    session = built("measure")
    assert "Undo takes it back" in LEAD
    disturb(session, "machine")
    assert current_step(session, IN_MM).key == "go"
    session.undo()
    assert current_step(session, IN_MM).key == "measure"
    disturb(session, "lens")
    assert current_step(session, IN_MM).key == "measure"


@pytest.mark.parametrize("bad", [True, False])
def test_a_rail_that_was_mended_makes_the_marks_of_before_stale(bad: bool) -> None:
    """Mirror 2 and the head ride on it: a look that finds it good after a bad one widens what is believed, as the
    remedy says ("then mark again"); a rail that was good all along says nothing, nor does a bed."""
    session = built("next-part")
    for room in VISIT_PARTS[:-1]:
        session.begin(room) if room == "beam path" else session.skip(room, "not today")
        if room == "beam path":
            session.mark("middle", u=0.0, v=0.0)
            session.end(room)
    before = session.belief.settled.mixture.moments.cov
    for name in ("bed", "rail"):
        session.check(name, "bad" if bad or name == "bed" else "good")
        assert session.belief.settled.mixture.moments.cov == pytest.approx(before)
        assert current_step(session, IN_MM).key == "parts-done"
    session.check("bed", "good")
    assert current_step(session, IN_MM).part != "beam path"
    session.check("rail", "good")
    after = session.belief.settled.mixture.moments.cov
    numbers = {"leg 1": A1_U, "leg 2": A2_U, "head": C_U}
    widened = {name for name, at in numbers.items() if after[at, at] > 1.01 * before[at, at]}
    assert widened == ({"leg 2", "head"} if bad else set())
    step = current_step(session, IN_MM)
    assert ((step.key, step.part) == ("next-part", "beam path")) is bad
    assert ("The rails were seen to" in step.why) is bad
    assert (marks_last(session.effective) == ()) is bad
    if bad:
        session.undo()
        assert current_step(session, IN_MM).key == "parts-done"
