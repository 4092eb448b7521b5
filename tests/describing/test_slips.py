"""A size that would be usual in the other unit is asked about, wherever a machine is described."""

import pytest

from coach.describing.description import SIZES, Description
from coach.describing.profile import machine_of
from coach.describing.slips import ARM, USUAL, Doubt, weighed
from coach.describing.usual import USUAL as GUESSES
from coach.errors import InputError, OutOfReach

LEAST = Description({"bed.width": "600", "bed.depth": "400", "path.side": "left"})
SLIPS = [
    # typed in inches while mm is set; 1 in = 25.4 mm exactly (reference values §4, read)
    ("bed.width", "24", "mm", 609.6), ("bed.depth", "15,75", "mm", 400.05), ("path.mirror1_gap", "6", "mm", 152.4),
    ("path.mirror2_gap", "4 mm", "mm", 101.6),
    ("path.mirror1", "1", "mm", 25.4), ("path.mirror2", "0.75", "mm", 19.05),
    ("aperture.head", "0.7", "mm", 17.78), ("tape.radius", "0.43", "mm", 10.922), ("tolerance", "0.04", "mm", 1.016),
    ("mounts.1.arm", "1.5", "mm", 38.1), ("moves.mirror2.right", "0.16", "mm", 4.064),
    # typed in mm while inches are set
    ("bed.width", "600", "in", 600.0), ("path.mirror1_gap", "150", "in", 150.0), ("path.mirror1", "25", "in", 25.0),
    ("aperture.head", "18", "in", 18.0), ("tape.radius", "11", "in", 11.0), ("tolerance", "1", "in", 1.0),
    ("mounts.2.arm", "40", "in", 40.0), ("moves.head.back", "3", "in", 3.0),
    ("path.mirror2_gap", "100 in", "mm", 100.0),
]  # fmt: skip


@pytest.mark.parametrize(("key", "text", "unit", "meant"), SLIPS)
def test_a_slip_of_the_unit_is_asked_about(key: str, text: str, unit, meant: float) -> None:
    """One question, whose correction is the same number in the other unit; nothing is taken over unasked."""
    doubt = weighed(LEAST, key, text, unit)
    assert isinstance(doubt, Doubt)
    assert "Did you mean " + ("mm" if unit == "in" or "in" in text else "inches") in doubt.sentence
    assert doubt.meant is not None
    assert doubt.meant.length(key) == pytest.approx(meant)
    assert doubt.meant_words
    if doubt.kept is not None:
        assert doubt.kept == LEAST.answered(key, text, unit)


@pytest.mark.parametrize(("key", "text", "unit"), [("bed.width", "600", "in"), ("tolerance", "1", "in")])
def test_what_cannot_be_is_asked_about_before_it_is_refused(key: str, text: str, unit) -> None:
    """Fifteen metres of travel cannot be kept, but 600 mm can be meant; with no likelier reading it is refused."""
    doubt = weighed(LEAST, key, text, unit)
    assert isinstance(doubt, Doubt)
    assert doubt.kept is None
    with pytest.raises(OutOfReach):
        weighed(LEAST, key, "90000", unit)


def test_a_usual_size_is_never_asked_about() -> None:
    """Every size of a common machine, in either unit, and whatever stands in where nobody measured."""
    common = {
        "bed.width": "600", "bed.depth": "400 mm", "path.mirror1_gap": "6 in", "path.mirror2_gap": "120",
        "path.mirror1": "20", "path.mirror2": "25", "aperture.head": "3/4 in", "tape.radius": "11", "tolerance": "1",
        "mounts.1.arm": "40", "mounts.2.arm": "1.6 in", "moves.head.up": "0", "moves.tube.back": "5",
        "mounts.1.own": "A pivot -20 -20; B screw 20 -20; C screw -20 20", "mounts.1.screw": "0,7",
        "mounts.2.screw": "8-32", "stations.places": "back-left 20 380; middle 300 200; front-right 580 20",
    }  # fmt: skip
    for key, text in common.items():
        assert weighed(LEAST, key, text, "mm") == LEAST.answered(key, text)
    for key, size in GUESSES.items():
        assert USUAL.get(key, ARM).has(size)


def test_what_was_kept_is_not_asked_about_again() -> None:
    """Enter alone on an answer that stands is no new answer."""
    kept = LEAST.answered("bed.width", "24")
    assert weighed(kept, "bed.width", "24", "mm") == kept


@pytest.mark.parametrize(
    ("key", "text", "unit"),
    [("aperture.head", "2.9", "mm"), ("aperture.head", "70", "mm"), ("aperture.head", "0.08", "in"),
     ("bed.width", "6000", "mm"), ("tape.radius", "200", "mm"), ("tolerance", "7", "mm"),
     ("path.mirror1_gap", "1500", "mm")],
)  # fmt: skip
def test_an_odd_size_is_asked_about_even_without_a_likelier_one(key: str, text: str, unit) -> None:
    """A nought too many, say, and no better in the other unit: kept or typed again."""
    doubt = weighed(LEAST, key, text, unit)
    assert isinstance(doubt, Doubt)
    assert "unusually" in doubt.sentence
    assert (doubt.meant, doubt.kept is None) == (None, False)
    for usual in ("3", "60"):
        assert isinstance(weighed(LEAST, "aperture.head", usual, "mm"), Description)


@pytest.mark.parametrize("text", ["0", "-1", "wide", "", "1,500"])
@pytest.mark.parametrize("key", [key for key in SIZES if key not in ("path.mirror1_gap", "path.mirror2_gap")])
def test_what_is_no_size_is_refused_and_not_questioned(key: str, text: str) -> None:
    """Nothing to ask: that is not a size in any unit.  0 says that a part is fixed."""
    if text == "0" and (key.startswith("moves") or key == "lens.reach"):
        return
    with pytest.raises(InputError):
        weighed(LEAST, key, text, "mm")


@pytest.mark.parametrize(
    ("text", "unit", "first"),
    [
        ("p -0.8 -0.8; s 0.8 -0.8; s -0.8 0.8", "mm", (-20.32, -20.32)),
        ("p -20 -20; s 20 -20; s -20 20", "in", (-20.0, -20.0)),
    ],
)
def test_mount_points_are_read_in_the_other_unit_as_a_whole(text: str, unit, first: tuple[float, float]) -> None:
    """Three points 2 mm apart, or a metre: all six numbers were meant otherwise."""
    doubt = weighed(LEAST.answered("mounts.1.shape", "own"), "mounts.1.own", text, unit)
    assert isinstance(doubt, Doubt)
    assert doubt.meant is not None
    point = machine_of(doubt.meant).mount(1).points[0]
    assert (point.x, point.y) == pytest.approx(first)


def test_a_pitch_and_places_are_asked_about_too() -> None:
    """0.03 typed for 0.03 in; stations in inches on a bed in mm, and mm where inches are set."""
    pitch = weighed(LEAST.answered("mounts.1.thread", "other"), "mounts.1.screw", "0.03", "mm")
    assert isinstance(pitch, Doubt)
    assert pitch.meant is not None
    assert machine_of(pitch.meant).mount(1).pitch == pytest.approx(0.762)
    own = LEAST.answered("stations", "own")
    for text, unit, words, x in (
        ("a 1 15; b 12 1; c 23 14", "mm", "close together", 584.2),
        ("a 20 380; b 300 20; c 500 200", "in", "outside the travel", 500.0),
    ):
        places = weighed(own, "stations.places", text, unit)
        assert isinstance(places, Doubt)
        assert words in places.sentence
        assert places.meant is not None
        assert machine_of(places.meant).stations[2].x == pytest.approx(x)
