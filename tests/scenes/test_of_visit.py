"""From a session to the pictures of its other parts: what was entered is shown, what is not known stays open."""

import pytest
from machines import make_machine

from coach import Session
from coach.optics.focus import depth_of_focus
from coach.scenes.of_visit import bed_gaps_scene, optics_scene

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


def test_what_nobody_asked_about_is_not_to_do(session: Session) -> None:
    """A lens that its check found cracked: the mirrors are only not seen; to do once cleaning is gone to."""
    session.begin("checks")
    session.care("lens", "cracked")
    assert [optic.said for optic in optics_scene(session, ("mirror 1", "lens")).optics] == [
        "mirror 1: not seen",
        "lens: cracked",
    ]
    session.begin("clean")
    assert optics_scene(session, ("mirror 1",)).optics[0].said == "mirror 1: to do"
    session.end("clean")
    assert optics_scene(session, ("mirror 1",)).optics[0].said == "mirror 1: not seen"
