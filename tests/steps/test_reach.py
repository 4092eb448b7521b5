"""How far a part was said to move: asked about where more is entered; what cannot be moved is kept."""

from pathlib import Path

import pytest
from built_steps import built
from machines import make_machine

from coach import Machine, Session
from coach.errors import InputError
from coach.practice.demo import demo_machine
from coach.session.document import Practice
from coach.session.store import Store
from coach.shown import IN_MM, Wording
from coach.steps import wanted
from coach.steps.current import current_step
from coach.steps.finish import keep_learned
from coach.steps.reach import beyond_reach, cannot, cannot_words, take_refusal_back, with_refusals
from coach.steps.words import BOTH_SENSES

MOVES = [{"part": "mirror 2", "right": 4.0}, {"part": "head", "up": 0.0, "back": 3.0}]


def session_of(moves: list[dict[str, object]]) -> Session:
    return Session.start(make_machine(moves=moves))


@pytest.mark.parametrize(
    ("part", "moved", "words"),
    [
        ("mirror 2", {"right": 4.0}, ""),
        ("mirror 2", {"right": -4.0}, ""),
        ("mirror 2", {"right": 4.5}, "was said to move to the right or to the left by 4.0 mm at the most"),
        ("mirror 2", {"right": -6.0}, "and this is 6.0 mm. Is this right?"),
        ("head", {"up": 0.5}, "The head was said not to move up or down at all"),
        ("head", {"up": 0.0, "back": 2.0}, ""),
        ("tube", {"up": 19.0}, ""),  # nothing is known of it
    ],
)
def test_a_move_beyond_what_was_said_is_asked_about(part, moved, words: str) -> None:
    """Either way alike; where nobody knows how far, nothing is asked."""
    question = beyond_reach(session_of(MOVES), part, moved, IN_MM)
    assert (question == "") is (words == "")
    assert words in question


def test_moves_of_one_session_add_up() -> None:
    """3 mm and 3 mm are 6 of 4; 3 there and 3 back are none.  Said in the person's unit (1 in = 25.4 mm)."""
    session = session_of(MOVES)
    session.shift("mirror 2", right=3.0)
    assert "3.0 mm, 6.0 mm in all" in beyond_reach(session, "mirror 2", {"right": 3.0}, IN_MM)
    assert beyond_reach(session, "mirror 2", {"right": -3.0}, IN_MM) == ""
    assert "0.118 in, 0.236 in in all" in beyond_reach(session, "mirror 2", {"right": 3.0}, Wording("in"))
    session.undo()
    assert beyond_reach(session, "mirror 2", {"right": 3.0}, IN_MM) == ""


def test_the_entry_asks_and_is_made_all_the_same() -> None:
    """The echo of a move says so; the person says what was done, and that is kept."""
    session = built("move")
    step = current_step(session, IN_MM)
    (way, *_) = wanted.useful_directions(step.shift)
    fixed = make_machine(moves=[{"part": step.shift.part, way: 0.0}])
    plain = wanted.shift_echo(session, step.shift, {way: "2"}, IN_MM)
    assert "Is this right?" not in plain
    asked = wanted.shift_echo(Session.start(fixed), step.shift, {way: "2"}, IN_MM)
    assert asked.startswith(plain)
    assert asked.endswith("at all. Is this right?")
    other = Session.start(fixed)
    other.shift(step.shift.part, **{way: 2.0})
    assert getattr(other.effective[-1], way) == 2.0


def test_what_could_not_be_moved_becomes_a_zero() -> None:
    """A whole part, or one way of it; not what was taken back, nor what was moved after all; the rest stays."""
    session = session_of(MOVES)
    session.refuse("tube")
    session.refuse("head", "back")
    session.refuse("mirror 1")
    session.undo()
    session.refuse("mirror 2")
    session.shift("mirror 2", right=1.0)
    assert set(cannot(session)) == {("tube", "up"), ("tube", "back"), ("head", "back")}
    moves = [move.model_dump(exclude_none=True) for move in with_refusals(session.machine, session).moves]
    assert moves == [
        {"part": "mirror 2", "right": 4.0}, {"part": "head", "up": 0.0, "back": 0.0},
        {"part": "tube", "up": 0.0, "back": 0.0},
    ]  # fmt: skip
    assert cannot_words(cannot(session)) == "the tube and the head to the back or to the front cannot be moved"
    assert "was said not to move up or down" in beyond_reach(session, "tube", {"up": 1.0}, IN_MM)


def test_it_is_kept_with_the_machine_at_the_end_of_the_job(tmp_path: Path) -> None:
    """The sentence says so, once; what the owner said of other parts meanwhile is not overwritten."""
    store = Store(tmp_path)
    path = store.save_machine(make_machine(moves=MOVES))
    session = Session.start(Machine.load(path))
    session.keep_in(tmp_path / "sessions" / "s.toml")
    session.refuse("tube")
    session.turn(1, {"B": 0.125})
    edited = [*MOVES, {"part": "mirror 1", "right": 2.0}]
    store.save_machine(make_machine(moves=edited), replace=True)
    said = keep_learned(tmp_path, session)
    assert "about the screws is kept in" in said
    assert "That the tube cannot be moved is kept there too; change the machine if that was only for today." in said
    stored = Machine.load(path)
    assert stored.mount(1).learned is not None
    assert [stored.reach("tube", "up"), stored.reach("tube", "back")] == [0.0, 0.0]
    assert (stored.reach("mirror 1", "right"), stored.reach("mirror 2", "right")) == (2.0, 4.0)
    again = keep_learned(tmp_path, session)
    assert "tube" not in again


def test_it_is_kept_without_any_turn_and_never_of_practice(tmp_path: Path) -> None:
    """A refusal alone is worth keeping; the bench's machine is nobody's."""
    store = Store(tmp_path)
    machine = demo_machine().model_copy(update={"name": "Shed laser", "moves": ()})
    path = store.save_machine(machine)
    session = Session.start(machine)
    session.refuse("mirror 2")
    assert f"That mirror 2 cannot be moved is kept in {path}" in keep_learned(tmp_path, session)
    assert Machine.load(path).reach("mirror 2", "right") == 0.0
    bench = Session.start(machine, practice=Practice(seed=1))
    bench.refuse("head")
    assert "nothing was kept about any machine" in keep_learned(tmp_path, bench)
    assert Machine.load(path).reach("head", "up") is None


def test_moved_by_one_key_farther_than_it_goes_is_read_back() -> None:
    """Of a part that goes half as far again as told: twice is asked about, all else counts at once."""
    session = built("move")
    step = current_step(session, IN_MM)
    (way, *_) = wanted.useful_directions(step.shift)
    told = abs(getattr(step.shift, way))
    moves = [{"part": step.shift.part, way: 1.5 * told}]
    tight = Session.start(session.machine.model_copy(update={"moves": Machine.model_validate(
        make_machine(moves=moves).to_table()).moves}))  # fmt: skip
    asked = {choice.key: wanted.confirmation(tight, step, choice, IN_MM) for choice in step.choices}
    assert [key for key, words in asked.items() if "at the most" in words] == ["shifted-twice"]
    assert asked["shifted"] == asked["shifted-half"] == ""
    plus, minus = BOTH_SENSES[way]
    other = f"{told:.1f} mm {minus if getattr(step.shift, way) > 0 else plus}"
    assert asked["shifted-back"].startswith("It was moved the other way than told: ")
    assert other in asked["shifted-back"]


def test_a_direction_that_centres_nothing_cannot_be_refused_and_moving_it_takes_a_refusal_back() -> None:
    """One sentence for what cannot be; a part that was moved can be moved."""
    session = session_of(MOVES)
    with pytest.raises(InputError, match="Moving the tube 'right' does not centre the beam"):
        session.refuse("tube", "right")
    session.refuse("tube")
    session.shift("tube", up=1.0)
    assert session.belief.refused == {("tube", "back")}
    take_refusal_back(session, "tube")
    with pytest.raises(InputError, match="Nobody said in this session that the tube cannot be moved"):
        take_refusal_back(session, "tube")
