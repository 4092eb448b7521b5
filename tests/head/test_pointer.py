"""The pointer: at two heights onto the mark, by its own screws."""

import pytest
from heads import head_machine

from coach import Session


def test_the_pointer_is_led_onto_the_mark_at_two_heights() -> None:
    """Look, turn by what it is off, look again, then at a second height; done when both are good."""
    session = Session.start(head_machine())
    assert session.pointer_advice().kind == "look"
    session.pointer(right=1.5, back=-0.6)
    first = session.pointer_advice()
    assert (first.kind, first.right, first.back, first.angle) == ("turn", -1.5, 0.6, None)
    session.pointer(right=0.1, back=0.0)
    second = session.pointer_advice()
    assert second.kind == "look"
    assert second.lowered > 0
    session.pointer(right=1.1, back=0.0, lowered=second.lowered)
    assert session.pointer_advice().kind == "turn"
    session.pointer(right=0.2, back=0.0, lowered=second.lowered)
    again = session.pointer_advice()
    assert (again.kind, again.lowered) == ("look", 0.0)  # what was turned at the second height moved it at the first
    session.pointer(right=-0.3, back=0.0)
    assert session.pointer_advice().kind == "done"
    session.undo()
    session.undo()
    assert session.pointer_advice().kind == "turn"


def test_the_angle_between_pointer_and_beam() -> None:
    """1 mm over 50 mm is 1.1458° (derived)."""
    session = Session.start(head_machine())
    session.pointer(right=0.2, back=0.1)
    session.pointer(right=1.2, back=0.1, lowered=50.0)
    angle = session.pointer_advice().angle
    assert angle == pytest.approx((1.1458, 0.0), abs=6e-5)


def test_the_pointer_says_nothing_about_the_beam() -> None:
    """Beam and head are believed as before."""
    session = Session.start(head_machine())
    before = session.head_advice()
    session.pointer(right=3.0, back=3.0)
    after = session.head_advice()
    assert (after.kind, after.now) == (before.kind, before.now)
    assert (session.belief.bank.mixture.mean == Session.start(head_machine()).belief.bank.mixture.mean).all()
