"""Which parts can be moved: asked, typed in one line, in the profile, and back."""

import pytest
from machines import make_machine

from coach import Machine
from coach.describing import profile
from coach.describing.description import Description
from coach.describing.moving import CAN, REACHES, typed_moves
from coach.describing.words import is_guessed, moves_words, value_words
from coach.errors import InputError
from coach.shown import IN_MM

LEAST = {"bed.width": "600", "bed.depth": "400", "path.side": "left"}


def described(answers: dict[str, str]) -> Description:
    description = Description()
    for key, text in (LEAST | answers).items():
        description = description.answered(key, text)
    return description


@pytest.mark.parametrize(
    ("answers", "part", "reaches"),
    [
        ({}, "tube", {"up": None, "back": None}),
        ({"moves.tube.can": "unknown"}, "tube", {"up": None, "back": None}),
        ({"moves.tube.can": "no"}, "tube", {"up": 0.0, "back": 0.0}),
        ({"moves.tube.can": "no", "moves.tube.up": "3"}, "tube", {"up": 0.0, "back": 0.0}),
        ({"moves.head.can": "yes"}, "head", {"up": None, "back": None}),
        ({"moves.head.can": "yes", "moves.head.up": "0", "moves.head.back": "1/8 in"}, "head",
         {"up": 0.0, "back": 3.175}),  # 1 in = 25.4 mm exactly
        ({"moves.head.can": "unknown", "moves.head.up": "3"}, "head", {"up": None, "back": None}),
        ({"moves.mirror2.can": "yes", "moves.mirror2.right": "4"}, "mirror 2", {"right": 4.0}),
    ],
)  # fmt: skip
def test_an_answer_is_what_the_machine_says(answers: dict[str, str], part, reaches: dict[str, float | None]) -> None:
    """No is nothing in every direction, yes what was measured, and what nobody knows is left out: never a zero."""
    machine = profile.machine_of(described(answers))
    assert {way: machine.reach(part, way) for way in reaches} == reaches
    known = {way: reach for way, reach in reaches.items() if reach is not None}
    assert [move.model_dump(exclude_none=True) for move in machine.moves] == ([{"part": part, **known}] * bool(known))


def test_what_is_not_known_is_no_guess() -> None:
    """Nothing of it stands in `guessed`, and no question about it shows a number that nobody said."""
    from coach.describing.moving_questions import MOVES

    description = described({"moves.tube.can": "yes"})
    assert not [name for name in profile.guesses(description) if name.startswith("moves")]
    for question in (question for about in MOVES.values() for question in about):
        assert not is_guessed(description, question)
        assert not any(sign.isdigit() for sign in value_words(description, question, IN_MM))


def test_a_machine_is_changed_with_the_same_questions() -> None:
    """What a profile says of its parts is answered, can be changed, and taken back to "not known"."""
    machine = make_machine(moves=[{"part": "head", "up": 0.0, "back": 3.0}, {"part": "tube", "up": 0.0, "back": 0.0}])
    answers = profile.describe(machine).answers
    assert {key: text for key, text in answers.items() if key.startswith("moves")} == {
        "moves.head.can": "yes", "moves.head.up": "0", "moves.head.back": "3", "moves.tube.can": "no",
    }  # fmt: skip
    changed = profile.describe(machine).answered("moves.tube.can", "unknown").answered("moves.head.up", "2")
    assert [move.model_dump(exclude_none=True) for move in profile.machine_of(changed).moves] == [
        {"part": "head", "up": 2.0, "back": 3.0}
    ]


def test_an_older_file_never_says_that_its_mirrors_were_measured(tmp_path) -> None:
    """A file without diameters opens, is written again without them, and asks for them as for any guess."""
    path = tmp_path / "old.toml"
    make_machine().save(path)
    assert "mirror1 =" not in path.read_text(encoding="utf-8")
    machine = Machine.load(path)
    assert (machine.path.mirror1, machine.path.mirror2) == (25.0, 25.0)
    again = profile.machine_of(profile.describe(machine))
    assert {"path.mirror1", "path.mirror2"} <= set(again.guessed)
    measured = profile.machine_of(profile.describe(machine).answered("path.mirror1", "20"))
    assert "path.mirror1" not in measured.guessed
    assert profile.describe(measured).answers["path.mirror1"] == "20"


def test_one_line_names_all_parts() -> None:
    """As the shell takes it: parts in any order and case, lengths with their unit, no and unknown as words."""
    assert typed_moves("Mirror2 right 4 mm; head UP 0 back 1/8 in; tube no; mirror 1 unknown;") == {
        "moves.mirror2.can": "yes", "moves.mirror2.right": "4 mm",
        "moves.head.can": "yes", "moves.head.up": "0", "moves.head.back": "1/8 in",
        "moves.tube.can": "no", "moves.mirror1.can": "unknown",
    }  # fmt: skip


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("tube no; head no; tube up 3", "The tube is named twice"),
        ("mirror 2 right 4; mirror2 right 3", "The mirror 2 is named twice"),
        ("head sideways 3", "'sideways' is no way"),
        ("tube right 3", "'right' is no way in which moving the tube centres the beam. Expected up or back"),
        ("mirror 2 up 1", "Expected right"),
        ("head up 3 up 4", "'up' is said twice of the head"),
        ("head up", "How far the head goes up is not said"),
        ("head", "is not said. Expected no, unknown, or how far"),
        ("mirror 3 right 1", "names no part that is moved"),
        (" ; ", "No part is named"),
    ],
)
def test_a_slip_in_the_line_is_one_sentence(text: str, words: str) -> None:
    """What was wrong, what was expected, an example."""
    with pytest.raises(InputError) as refused:
        typed_moves(text)
    assert words in str(refused.value)
    assert "Example:" in str(refused.value)
    assert "\n" not in str(refused.value)


@pytest.mark.parametrize(
    ("moves", "words"),
    [
        ([{"part": "head", "up": -1}], "moves.0.up"),
        ([{"part": "head", "up": 51}], "50"),
        ([{"part": "head", "sideways": 1}], "sideways"),
        ([{"part": "tube", "right": 1}], "moving tube right does not centre the beam; give up or back"),
        ([{"part": "laser", "up": 1}], "mirror 2"),
        ([{"part": "tube", "up": 1}, {"part": "tube", "back": 1}], "each part can be named only once"),
    ],
)
def test_a_file_with_moves_that_cannot_be_is_refused_in_one_sentence(moves, words: str, tmp_path) -> None:
    """By whoever wrote it by hand: one sentence with the place, no traceback."""
    path = tmp_path / "m.toml"
    make_machine().save(path)
    lines = [f"{key} = {value!r}" for key, value in moves[0].items()]
    more = ["[[moves]]", *(f"{key} = {value!r}" for key, value in moves[1].items())] if len(moves) > 1 else []
    path.write_text(
        path.read_text(encoding="utf-8") + "\n".join(["", "[[moves]]", *lines, *more, ""]), encoding="utf-8"
    )
    with pytest.raises(InputError.__mro__[1]) as refused:
        Machine.load(path)
    assert words in str(refused.value)
    assert "\n" not in str(refused.value)


def test_the_moves_in_words() -> None:
    """What can be moved with how far, what is fixed, and that nothing is known."""
    machine = make_machine(
        moves=[{"part": "mirror 2", "right": 4.0}, {"part": "head", "up": 0.0, "back": 3.0},
               {"part": "tube", "up": 0.0, "back": 0.0}]
    )  # fmt: skip
    assert moves_words(machine.moves, IN_MM) == (
        "can be moved: mirror 2 right and left 4.0 mm, head back and front 3.0 mm; fixed: head up and down, tube"
    )
    assert moves_words((), IN_MM) == "nothing known of parts that move"


def test_every_part_and_every_useful_way_is_asked() -> None:
    """Four parts; the ways are those whose shift changes anything (docs/model.md)."""
    assert sorted(CAN.values()) == ["head", "mirror 1", "mirror 2", "tube"]
    assert sorted(REACHES.values()) == [
        ("head", "back"), ("head", "up"), ("mirror 1", "right"), ("mirror 2", "right"), ("tube", "back"),
        ("tube", "up"),
    ]  # fmt: skip
