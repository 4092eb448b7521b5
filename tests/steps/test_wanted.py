"""What comes with some answers: turns, shifts, mirrors; typed, kept as a draft, read back, entered."""

import pytest
from built_steps import built

from coach.errors import CoachError, InputError
from coach.session.events import Shift, Turn
from coach.shown import IN_MM, Wording
from coach.steps import wanted
from coach.steps.current import current_step
from coach.steps.locks import loose_locks
from coach.steps.step import Choice, Step
from coach.steps.table import kind_of

IN_INCHES = Wording("in")


def wanting(step: Step, wants: str) -> Choice:
    """The step's choice that wants this."""
    return next(choice for choice in step.choices if choice.wants == wants)


def test_a_turn_is_understood_entered_and_kept_as_typed() -> None:
    """The other way than advised is said; the entry holds turns, clockwise positive, and the very letters."""
    session = built("screw")
    step = current_step(session, IN_MM)
    task = step.screw
    other = "1/8 ccw" if task.turns > 0 else "1/8 cw"
    same = "1/8 cw" if task.turns > 0 else "1/8 ccw"
    assert "That is the other way than told" in wanted.turns_echo(task, other, IN_MM)
    assert "other way" not in wanted.turns_echo(task, same, IN_MM)
    assert "CLOCKWISE" in wanted.turns_echo(task, other, IN_MM)
    assert "CLOCKWISE" not in wanted.turns_echo(task, other, IN_MM, loud=False)
    assert "not turned at all" in wanted.turns_echo(task, "0", IN_MM)
    wanted.enter_turns(session, step, wanting(step, "turns"), f" {other} ")
    event = session.effective[-1]
    assert isinstance(event, Turn)
    assert event.screws == {task.screw: pytest.approx(-0.125 if task.turns > 0 else 0.125)}
    assert event.typed == {"turns": other}


def test_a_move_the_other_way_than_told_is_questioned() -> None:
    """Its sign is the other one in a direction that was told; as told, or in others alone, it is not."""
    session = built("move")
    task = current_step(session, IN_MM).shift
    told = {"up": task.up, "right": task.right, "back": task.back}
    direction = next(name for name in wanted.useful_directions(task) if told[name])
    for text, back in ((f"{-told[direction]:g}", True), (f"{told[direction]:g}", False), ("0", False)):
        assert wanted.moved_back(task, {direction: text}, IN_MM) is back
        assert (wanted.OTHER_WAY in wanted.shift_echo(session, task, {direction: text}, IN_MM)) is back


@pytest.mark.parametrize(("wording", "mm"), [(IN_MM, 2.0), (IN_INCHES, 50.8)])
def test_a_shift_is_read_in_the_unit_handed_in(wording: Wording, mm: float) -> None:
    """A length without a unit has the person's (1 in = 25.4 mm); what is too far is refused in either."""
    session = built("move")
    step = current_step(session, IN_MM)
    first = wanted.useful_directions(step.shift)[0]
    if mm > 20:
        with pytest.raises(CoachError):
            wanted.read_shift(step.shift, {first: "2"}, wording)
        return
    choice = wanting(step, "shift")
    assert f"2.00 mm {wanted.BOTH_SENSES[first][0]}" in wanted.shift_echo(session, step.shift, {first: "2"}, wording)
    wanted.enter_shift(session, step, choice, {first: " 2 "}, wording)
    event = session.effective[-1]
    assert isinstance(event, Shift)
    assert getattr(event, first) == mm
    assert event.typed == {first: "2"}


def test_inches_are_kept_with_their_unit() -> None:
    """What was typed without one says so in the entry."""
    session = built("move")
    step = current_step(session, IN_MM)
    first = wanted.useful_directions(step.shift)[0]
    wanted.enter_shift(session, step, wanting(step, "shift"), {first: "-1/16"}, IN_INCHES)
    event = session.effective[-1]
    assert getattr(event, first) == pytest.approx(-25.4 / 16)
    assert event.typed == {first: "-1/16", "unit": "in"}


def test_nothing_typed_is_no_shift() -> None:
    """Empty fields alone are refused; one that is filled leaves the others at nothing."""
    session = built("move")
    step = current_step(session, IN_MM)
    directions = wanted.useful_directions(step.shift)
    for typed in ({}, dict.fromkeys(directions, "  ")):
        with pytest.raises(InputError, match="Nothing was entered"):
            wanted.read_shift(step.shift, typed, IN_MM)
    assert wanted.read_shift(step.shift, {directions[0]: "1"}, IN_MM) == {
        direction: 1.0 if direction == directions[0] else 0.0 for direction in directions
    }
    assert wanted.direction_label("up") == "Up (down is negative)"


def test_a_draft_is_for_one_choice_after_one_entry() -> None:
    """Typed for this choice it stands there again, in its own unit; for another choice, or after another entry about
    the beam, it does not; a note changes nothing."""
    session = built("move")
    step = current_step(session, IN_MM)
    choice = wanting(step, "shift")
    first = wanted.useful_directions(step.shift)[0]
    wanted.keep_drafted(session, choice, {first: "1.5"}, IN_MM)
    assert wanted.drafted(session, choice, IN_MM)[first] == "1.5"
    assert wanted.drafted(session, choice, IN_INCHES)[first] == "1.5 mm"
    session.note("tea")
    assert wanted.drafted(session, choice, IN_MM)[first] == "1.5"
    assert wanted.drafted(session, Choice("turned-otherwise", "", "turns"), IN_MM) == {}
    session.turn(1, {"B": 0.125})
    session.keep_draft({"for": f"{choice.key} after 1", first: "9"})
    assert wanted.drafted(session, choice, IN_MM) == {}


def test_lock_nuts_are_asked_of_mirrors_that_were_turned_until_they_are_tight() -> None:
    """None is offered that nobody slackened, and none twice: the stations would be confirmed again for nothing."""
    session, lock = built("done"), kind_of("done").choice("lock")
    step = current_step(session, IN_MM)
    slack = loose_locks(session)
    assert slack
    assert set(slack) == {event.mirror for event in session.effective if isinstance(event, Turn)}
    assert lock.offered(step, session)
    for mirror in slack:
        session.lock(mirror)
    assert not lock.offered(step, session)


def test_what_is_half_typed_outlives_another_part_of_the_visit() -> None:
    """Also where something is entered there; what becomes an entry in its own part is gone."""
    session = built("check-bed")
    step = current_step(session, IN_MM)
    choice = wanting(step, "figures")
    wanted.keep_drafted(session, choice, {"front_left": "5,0"}, IN_MM)
    session.begin("what changed")
    session.answer("weak", "toward one corner")
    assert wanted.drafted(session, choice, IN_MM) == {}
    session.begin("checks")
    assert wanted.drafted(session, choice, IN_MM)["front_left"] == "5,0"
    session.check("bed", "not checked")
    assert session.draft == {}
