"""From answers to a profile and back: what is guessed is said, nothing is lost, lessons follow the mount."""

import pytest
from hypothesis import given, reject
from hypothesis import strategies as st
from hypothesis.strategies import DrawFn
from machines import make_machine, mount_table
from pydantic import ValidationError
from strategies import between, machines

from coach import Machine
from coach.describing import profile, questions
from coach.describing.description import OWN, SAME, Description
from coach.describing.usual import CORNERED, CORNERS, shape_points
from coach.describing.words import forgotten_words
from coach.errors import InputError, UnknownName
from coach.parts import DIRECTIONS, PARTS

LEAST = {"bed.width": "600", "bed.depth": "400", "path.side": "left"}
LESSON = {
    "on": "2026-02-01",
    "push": 0.9,
    "mean": [1.0, 0.0, 0.1, 0.0, 1.0, 0.1],
    "cov": [[float(row == column) for column in range(6)] for row in range(6)],
}


def described(**answers: str) -> Description:
    """Answers by key, with two underscores for a point; on top of the least that is needed."""
    description = Description()
    for key, text in (LEAST | {key.replace("__", "."): text for key, text in answers.items()}).items():
        description = description.answered(key, text)
    return description


@st.composite
def any_machines(draw: DrawFn) -> Machine:
    """Machines with usual or odd mounts, stations of their own, a third mount, guesses, lessons."""
    machine = draw(machines())
    table = machine.to_table()
    for mount in table["mounts"]:
        if draw(st.booleans()):
            shape, corner = draw(st.sampled_from((*CORNERED, "up", "down"))), draw(st.sampled_from(tuple(CORNERS)))
            mount["points"] = [p.model_dump() for p in shape_points(shape, corner, draw(between(5, 90)))]
        if draw(st.booleans()):
            mount["points"][0] |= {"name": draw(st.sampled_from(("upper left", "a;b", "top", "1"))), "x": -77.125}
        if draw(st.booleans()):
            mount.pop("pitch", None)
            mount["thread"] = draw(st.sampled_from(("M4", "M4 x 0.7", "1/4-80", "8-32", "m5x0.5")))
    if draw(st.booleans()):
        table["mounts"].append(mount_table(3))
    elif draw(st.booleans()):
        table["mirror3"] = "fixed"
    if draw(st.booleans()):
        table["stations"] = [
            {"name": name, "x": x, "y": y}
            for name, x, y in (("a b", 1.5, 2), (draw(st.sampled_from(("c", "c; d"))), 150, 3), ("e", 20, 120.25))
        ]
    table["guessed"] = draw(st.lists(st.sampled_from((*profile.GUESSABLE[:11], "bed.width")), unique=True))
    if draw(st.booleans()):
        table["lens"] = {"focal": draw(between(30, 130)), "nozzle_distance": draw(between(1, 20)), "nozzle": 3.0}
        more = {"curved": "down", "mirror_distance": 71.5, "reach": draw(st.sampled_from((0.0, 2.5)))}
        table["lens"] |= {key: more[key] for key in draw(st.sets(st.sampled_from(sorted(more))))}
        table["guessed"] += draw(st.lists(st.sampled_from(profile.GUESSABLE[-3:]), unique=True))
    table["tape"] |= {"mirror2_radius": draw(between(10, 40)), "wide": draw(between(20, 40))}
    table["path"] |= {f"mirror{k}": draw(between(10, 60)) for k in (1, 2)}
    table["moves"] = [
        {"part": part, **far}
        for part in PARTS
        if (far := draw(st.dictionaries(st.sampled_from(DIRECTIONS[part]), st.just(0.0) | between(0, 50))))
    ]
    try:
        return Machine.model_validate(table)
    except ValidationError:  # three points on one line
        reject()


@given(any_machines())
@pytest.mark.sweep
def test_describing_a_machine_gives_that_machine(machine: Machine) -> None:
    """Machine → answers → machine changes nothing, nor do the answers typed anew; guesses keep their values."""
    description = profile.describe(machine)
    again = profile.machine_of(description)
    assert again.model_copy(update={"guessed": ()}) == machine.model_copy(update={"guessed": ()})
    assert set(again.guessed) == set(machine.guessed)
    retyped = Description(before=machine)
    for key, text in description.answers.items():
        retyped = retyped.answered(key, text)
    assert retyped == description


def test_three_answers_are_enough_and_the_rest_is_guessed_and_said() -> None:
    """Travel and side alone make a machine; all else is in `guessed`, an unknown drive is said to be unknown."""
    machine = profile.machine_of(described())
    assert machine.guessed == (
        "path.mirror1_gap", "path.mirror2_gap", "path.mirror1", "path.mirror2", "aperture.head", "tape.radius",
        "tolerance",
        "mounts.1.points", "mounts.1.thread", "mounts.2.points", "mounts.2.thread",
    )  # fmt: skip
    assert {mount.drive for mount in machine.mounts} == {"unknown"}
    assert machine.tape.radius == machine.aperture.head / 2 + 2
    assert (machine.path.mirror1, machine.path.mirror2, machine.moves) == (25.0, 25.0, ())


@pytest.mark.parametrize("lacking", LEAST)
def test_what_cannot_be_guessed_is_asked_for(lacking: str) -> None:
    """Without the travel or the side there is no machine, and one sentence says what is missing."""
    with pytest.raises(InputError, match="cannot be guessed"):
        profile.machine_of(described().unanswered(lacking))


def test_half_a_mount_is_a_guess() -> None:
    """Points count as measured only with shape, corner and distance; a screw only with its thread or pitch."""
    start = {"mounts__1__shape": "l", "mounts__1__corner": "upper right"}
    assert "mounts.1.points" in profile.machine_of(described(**start)).guessed
    whole = profile.machine_of(described(**start, mounts__1__arm="38"))
    assert "mounts.1.points" not in whole.guessed
    assert [(p.kind, p.x, p.y) for p in whole.mount(1).points] == [
        ("pivot", 19, 19), ("screw", -19, 19), ("screw", 19, -19),
    ]  # fmt: skip
    assert "mounts.1.thread" in profile.machine_of(described(mounts__1__thread="other")).guessed
    pitched = profile.machine_of(described(mounts__1__thread="other", mounts__1__screw="0,35"))
    assert ("mounts.1.thread" in pitched.guessed, pitched.mount(1).pitch) == (False, 0.35)


def test_mirror_2_just_like_mirror_1() -> None:
    """One answer gives mirror 2 the whole mount of mirror 1, measured and guessed alike."""
    first = {"mounts__1__shape": "up", "mounts__1__arm": "50", "mounts__1__drive": "pull"}
    machine = profile.machine_of(described(**first, mounts__2__shape=SAME))
    one, two = machine.mounts
    assert (one.points, one.pitch, one.drive) == (two.points, two.pitch, two.drive)
    assert {"mounts.1.thread", "mounts.2.thread"} <= set(machine.guessed)
    assert not {"mounts.1.points", "mounts.2.points"} & set(machine.guessed)
    odd = make_machine(mounts=[mount_table(1, arm=33), mount_table(2)], guessed=("mounts.1.points",))
    alike = profile.machine_of(profile.describe(odd).answered("mounts.2.shape", SAME))
    assert alike.mount(2).points == alike.mount(1).points == odd.mount(1).points
    assert {"mounts.1.points", "mounts.2.points"} <= set(alike.guessed)


def taught() -> Machine:
    table = make_machine().to_table()
    for mount in table["mounts"]:
        mount["learned"] = LESSON
    return Machine.model_validate(table)


@pytest.mark.parametrize(
    ("key", "text", "kept"),
    [
        ("name", "Another", (1, 2)), ("path.mirror1_gap", "171", (1, 2)), ("bed.width", "700", (1, 2)),
        ("tolerance", "0,5", (1, 2)), ("mounts.1.thread", "M4", (1, 2)),  # as before: 0.7 mm
        ("mounts.1.arm", "41", (2,)), ("mounts.2.drive", "pull", (1,)), ("mounts.2.thread", "M5", (1,)),
        ("path.side", "right", ()),
    ],
)  # fmt: skip
def test_lessons_stay_with_a_mount_that_is_described_as_it_was(key: str, text: str, kept: tuple[int, ...]) -> None:
    """Changed points, pitch or drive drop what that mount taught, a changed side what both did; nothing else does."""
    description = profile.describe(taught()).answered(key, text)
    changed = profile.machine_of(description)
    assert tuple(mount.mirror for mount in changed.mounts if mount.learned) == kept
    dropped = [mirror for mirror in (1, 2) if mirror not in kept]
    assert [mirror for mirror in (1, 2) if f"mirror {mirror}" in forgotten_words(description)] == dropped


def test_a_measured_value_can_become_a_guess_and_a_guess_a_measured_one() -> None:
    """Taking an answer back guesses the usual value; answering takes the name out of `guessed`."""
    machine = make_machine(guessed=("path.mirror2_gap", "tape.radius"))
    description = profile.describe(machine).unanswered("path.mirror1_gap").answered("path.mirror2_gap", "3 in")
    changed = profile.machine_of(description)
    assert (changed.path.mirror1_gap, changed.path.mirror2_gap) == (150.0, pytest.approx(76.2))
    unsaid = {"path.mirror1", "path.mirror2"}
    assert set(changed.guessed) == {"path.mirror1_gap", "tape.radius"} | unsaid


BAD = {
    "bed.width": ("0", "wide", "1,500", "20000", ""),
    "path.mirror1_gap": ("-1", "3/8"),
    "aperture.head": ("0", "1.2.3"),
    "tolerance": ("0", "21"),
    "path.mirror2": ("0", "-25", "wide"),
    "moves.mirror2.right": ("-1", "51", "far"),
    "moves.head.can": ("perhaps", ""),
    "name": ("", "  ", "\n", "x" * 61),
    "path.side": ("middle",),
    "mounts.1.own": ("A pivot 0 0; B screw 1 1", "p 0 0; s 10 10; s 20 20", "p 0 0; p 1 0; p 0 1",
                     "p 0 0; s 9e9 1; s 0 1", "p 0 0; s 99999999 1; s 0 1"),
    "mounts.1.screw": ("0", "9", "M7", "fine"),
    "mounts.2.thread": ("M7",),
    "stations.places": ("a 1 1; b 2 2", "a 1 1; b 2 x; c 3 3", "a 1 1; b 2 2; c 99999999 3"),
}  # fmt: skip


@pytest.mark.parametrize(("key", "text"), [(key, text) for key, texts in BAD.items() for text in texts])
def test_bad_answers_are_one_sentence(key: str, text: str) -> None:
    """Whatever cannot be used is refused when it is typed, and the answers before it stay."""
    with pytest.raises(InputError) as refused:
        described().answered(key, text)
    assert str(refused.value).count("\n") == 0
    assert "pydantic" not in str(refused.value)


def test_inches_stay_inches() -> None:
    """A length typed while inches are set keeps its unit: 23.6 in is 599.44 mm (1 in = 25.4 mm exactly)."""
    description = Description().answered("bed.width", "23,6", "in").answered("bed.depth", "3/4", "in")
    assert description.answers == {"bed.width": "23,6 in", "bed.depth": "3/4 in"}
    assert description.length("bed.width") == pytest.approx(599.44)
    points = Description().answered("mounts.1.own", "p 0 0; s 1 0; s 0 1", "in")
    assert points.answers["mounts.1.own"] == "A pivot 0 0; B screw 25.4 0; C screw 0 25.4"


def test_questions_follow_the_answers() -> None:
    """Only what matters is asked: no corner for a triangle, no distance for own points, nothing for "just like"."""

    def keys(**answers: str) -> set[str]:
        return {question.key for question in questions.questions(described(**answers))}

    assert "mounts.1.arm" not in keys()
    assert keys(mounts__1__shape="l") - keys() == {"mounts.1.corner", "mounts.1.arm"}
    assert keys(mounts__1__shape="up") - keys() == {"mounts.1.arm"}
    assert keys(mounts__1__shape="own") - keys() == {"mounts.1.own"}
    assert keys() - keys(mounts__2__shape=SAME) == {"mounts.2.thread", "mounts.2.drive"}
    assert keys(moves__mirror2__can="yes") - keys() == {"moves.mirror2.right"}
    assert keys(moves__head__can="yes") - keys() == {"moves.head.up", "moves.head.back"}
    assert keys(moves__tube__can="no") == keys(moves__tube__can="unknown") == keys()
    assert keys(stations="own") - keys() == {"stations.places"}


def test_every_answer_that_is_offered_is_taken() -> None:
    """All options of all questions can be answered, for all mirrors."""
    offered = [(question.key, option.key) for question in questions.EVERY for option in question.options]
    assert len(offered) > 80
    for key, answer in offered:
        profile.machine_of(described().answered(key, answer))
    with pytest.raises(UnknownName):
        described().answered("path.side", "behind")


def test_places_of_ones_own_are_typed_as_the_controller_counts() -> None:
    """0/0 at the back right: the corner X 20, Y 20 on the display lies at the back right of the file's frame."""
    answers = {"bed.width": "600", "bed.depth": "400", "path.side": "left", "zero": "back-right"}
    typed_so = Description(answers).answered("stations", OWN)
    typed_so = typed_so.answered("stations.places", "near 20 20; far 580 380; side 580 20")
    machine = profile.machine_of(typed_so)
    assert [(s.name, s.x, s.y) for s in machine.stations] == [("near", 580, 380), ("far", 20, 20), ("side", 20, 380)]
    assert machine.to_table()["zero"] == "back-right"
    assert profile.describe(machine).answers["stations.places"] == "near 20 20; far 580 380; side 580 20"
    assert profile.machine_of(profile.describe(machine)) == machine


def test_places_of_an_older_machine_stay_where_they_are_when_the_corner_is_told() -> None:
    """Nobody had said how the controller counts; a corner that is corrected later keeps the numbers as typed."""
    older = profile.machine_of(profile.describe(make_machine(stations=[
        {"name": "a", "x": 20, "y": 20}, {"name": "b", "x": 580, "y": 20}, {"name": "c", "x": 20, "y": 380},
    ])))  # fmt: skip
    assert "zero" not in older.to_table()
    told = profile.describe(older).answered("zero", "back-left")
    assert profile.machine_of(told).stations == older.stations
    assert told.answers["stations.places"].startswith("a 20 380;")
    corrected = told.answered("zero", "front-left")
    assert corrected.answers["stations.places"] == told.answers["stations.places"]
    assert next((s.x, s.y) for s in profile.machine_of(corrected).stations) == (20, 380)
