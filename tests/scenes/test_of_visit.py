"""From a session to the pictures of its other parts: what was entered is shown, what is not known stays open."""

import math

import pytest
from machines import make_machine

from coach import Session
from coach.head.outlook import outlook
from coach.optics.below import degrees_of, two_height_slope
from coach.optics.focus import depth_of_focus
from coach.scenes.of_visit import (
    bed_gaps_scene,
    card_scene,
    head_scene,
    nozzle_scene,
    optics_scene,
    pointer_scene,
)

ALL = ("combiner", "mirror 1", "mirror 2", "mirror 3", "lens")


@pytest.fixture
def session() -> Session:
    return Session.start(make_machine())


def test_gaps_are_those_of_the_newest_check(session: Session) -> None:
    """And harmless up to half the depth of focus of the machine's lens (visit: f 50.8 → z_R 0.92 mm)."""
    assert bed_gaps_scene(session).gaps == {}
    session.check("bed", "bad", front_left=5.0, front_right=6.2)
    session.check("bed", "bad", front_left=5.0, front_right=6.2, back_left=5.1, back_right=6.0)
    scene = bed_gaps_scene(session, "back_left")
    assert scene.gaps == {"front_left": 5.0, "front_right": 6.2, "back_left": 5.1, "back_right": 6.0}
    assert scene.asked == "back_left"
    assert scene.harmless == pytest.approx(0.92 / 2, abs=0.01)
    session.undo()
    assert set(bed_gaps_scene(session).gaps) == {"front_left", "front_right"}


def test_a_longer_lens_allows_more(session: Session) -> None:
    """The profile's lens is used where there is one (visit: f 101.6 → 3.70 mm)."""
    machine = make_machine().model_copy(deep=True)
    changed = type(machine).model_validate(machine.model_dump(exclude_none=True) | {"lens": {"focal": 101.6}})
    assert bed_gaps_scene(Session.start(changed)).harmless == pytest.approx(3.70 / 2, abs=0.01)
    assert depth_of_focus(101.6, 3.5, 1.3) == pytest.approx(3.70, abs=0.01)


def test_optics_stand_in_the_beams_order_as_they_looked_last(session: Session) -> None:
    """Whatever order they are named in; those that are not asked for are left out."""
    session.care("mirror 2", "haze")
    session.care("mirror 2", "clean")
    session.care("lens", "cracked")
    scene = optics_scene(session, ("lens", "mirror 2", "mirror 1"), now="mirror 1")
    assert [(optic.name, optic.state, optic.now) for optic in scene.optics] == [
        ("mirror 1", None, True), ("mirror 2", "clean", False), ("lens", "cracked", False),
    ]  # fmt: skip
    assert [optic.name for optic in optics_scene(session, ALL).optics] == list(ALL)
    assert scene.side == session.machine.path.side


def test_the_head_shows_nothing_before_anything_was_measured(session: Session) -> None:
    """Neither lean, nor nozzle, nor what is cut off: what is believed beforehand is no finding."""
    shown = head_scene(session).shown
    assert (shown.lean, shown.nozzle, shown.slope, shown.clipped) == (None, None, None, None)


def test_the_head_shows_what_the_marks_told(session: Session) -> None:
    """The nozzle once there is a mark under it; the lean once there are two heights; as the adviser believes both."""
    session.nozzle_mark(0.6, -0.3)
    shown = head_scene(session).shown
    assert shown.lean is None
    assert shown.nozzle == pytest.approx(outlook(session.head_belief).nozzle)
    assert shown.nozzle == pytest.approx((0.6, -0.3), abs=0.1)
    session.bed_mark(10.0, 20.0, 20.0, lens=True)
    session.bed_mark(13.0, 19.0, 190.0, lens=True)
    scene = head_scene(session)
    lean = [degrees_of(two_height_slope(moved, 170.0)) for moved in (3.0, -1.0)]
    assert scene.shown.lean == pytest.approx(lean, abs=0.15)
    assert scene.shown.give is not None
    assert scene.shown.give < 0.5
    assert scene.side == session.machine.path.side


def test_the_nozzle_shows_the_newest_mark(session: Session) -> None:
    """Nothing came through is not the same as nothing pulsed; a usual hole and the adviser's tolerance."""
    assert not nozzle_scene(session).nothing_came
    session.nozzle_mark()
    scene = nozzle_scene(session)
    assert scene.nothing_came
    assert scene.mark is None
    session.nozzle_mark(-0.4, 0.9)
    scene = nozzle_scene(session)
    assert (scene.mark, scene.nothing_came) == ((-0.4, 0.9), False)
    assert (scene.hole, scene.tolerance) == (2.5, session.head_belief.tuning.head.nozzle)
    assert scene.clipped is not None
    assert 0.1 < scene.clipped < 0.2  # visit: 0.9 mm off loses 13 %


def test_the_card_shows_both_heights_of_its_lens(session: Session) -> None:
    """Lens in and lens out are two cards; the height to come is named; a later mark takes an earlier one's place."""
    scene = card_scene(session, lens=False, lowered=0.0)
    assert (scene.high, scene.low, scene.lowered, scene.lens) == (None, None, 0.0, False)
    session.bed_mark(10.0, 20.0, 0.0)
    scene = card_scene(session, lens=False, lowered=170.0)
    assert (scene.high, scene.low, scene.lowered, scene.lean) == ((10.0, 20.0), None, 170.0, None)
    session.bed_mark(12.0, 19.0, 170.0)
    session.bed_mark(12.5, 19.0, 170.0)
    scene = card_scene(session, lens=False)
    assert scene.moved == pytest.approx((2.5, -1.0))
    assert scene.lean == pytest.approx([math.degrees(math.atan2(moved, 170.0)) for moved in (2.5, -1.0)])
    assert card_scene(session, lens=True).high is None
    assert scene.upper == 0.0


def test_the_pointer_shows_its_newest_spot_at_each_height(session: Session) -> None:
    """The upper height first, whichever was looked at first."""
    assert pointer_scene(session, 0.0).high is None
    session.pointer(2.0, 1.0)
    session.pointer(0.3, -0.2)
    session.pointer(1.0, 0.0, 20.0)
    scene = pointer_scene(session)
    assert (scene.high, scene.low, scene.lowered) == ((0.3, -0.2), (1.0, 0.0), 20.0)
    assert scene.tolerance == session.head_belief.tuning.head.pointer
