"""The drawings of the form: in every mode and size, with their sizes written beside them."""

import itertools
from dataclasses import replace

import numpy as np
import pytest
from sweeps import sampled

from coach.describing.description import Description
from coach.describing.questions import EVERY
from coach.parts import DIRECTIONS, PARTS
from coach.pictures.modes import RasterMode
from coach.pictures.plan import PlanScene
from coach.pictures.view import render
from coach.scenes.of_description import scene_of
from coach.shown import IN_MM

ASKED = {q.key: q for q in EVERY}
SIZES = [(10, 4), (1, 1), (26, 9), (38, 13), (50, 22), (66, 30), (140, 45)]
PLAN = PlanScene(600, 400, "left", 150, 120, words=(("width", ("600.0 mm",)), ("depth", ("400.0 mm",))))


def described() -> Description:
    description = Description()
    for key, text in {"bed.width": "600", "bed.depth": "400", "path.side": "left", "aperture.head": "18"}.items():
        description = description.answered(key, text)
    return description


@pytest.mark.parametrize("key", sampled(ASKED, *list(ASKED)[::6]))
@pytest.mark.sweep
def test_every_mode_draws_at_every_size(key: str) -> None:
    """Before and after all answers every drawing fills its cells exactly, without Unicode where there is none."""
    for description, (columns, rows), mode in itertools.product((Description(), described()), SIZES, RasterMode):
        lines = render(scene_of(description, ASKED[key], IN_MM), columns, rows, mode, wording=IN_MM).cells().lines()
        assert [len(row) for row in lines] == [columns] * rows
        if mode is RasterMode.ASCII:
            assert "".join(lines).isascii()


@pytest.mark.parametrize("columns_rows", [(38, 13), (50, 18), (66, 30)])
@pytest.mark.parametrize(
    ("key", "words"),
    [
        ("bed.width", "600.0 mm"), ("bed.depth", "400.0 mm"), ("path.mirror1_gap", "150.0 mm, guessed"),
        ("path.mirror2_gap", "120.0 mm, guessed"), ("aperture.head", "opening 18.0 mm"),
        ("tape.radius", "tape to 11.0 mm, guessed"), ("tolerance", "good to 1.0 mm, guessed"),
        ("path.mirror1", "mirror 1: 25.0 mm, guessed"), ("path.mirror2", "mirror 2: 25.0 mm, guessed"),
        ("moves.mirror2.can", "mirror 2: I do not know"), ("moves.mirror1.right", "mirror 1: not known"),
        ("moves.head.up", "head: not known"), ("moves.tube.can", "tube: I do not know"),
        ("mounts.1.arm", "A to B 40.0 mm"), ("mounts.1.thread", "0.70 mm in one turn"),
        ("mounts.2.drive", "the first turn tells"), ("mounts.3.shape", "from the right, upper edge up"),
        ("lens.focal", "50.8 mm, guessed"), ("lens.nozzle_distance", "nozzle to focus: 8.0 mm, guessed"),
        ("lens.nozzle", "hole: 2.5 mm, guessed"), ("lens.mirror_distance", "mirror 3 to lens: not known"),
        ("lens.curved", "I do not know"), ("mounts.3.can", "look from here"),
    ],
)  # fmt: skip
def test_the_size_that_is_asked_about_stands_in_the_drawing(
    key: str, words: str, columns_rows: tuple[int, int]
) -> None:
    """Whole, with its unit, and with the word where it is a guess: from the smallest drawing that is shown on."""
    assert any(
        words in row
        for row in render(scene_of(described(), ASKED[key], IN_MM), *columns_rows, wording=IN_MM).cells().lines()
    )


def test_extreme_machines_can_be_drawn() -> None:
    """A gap of nothing, a gap longer than the bed, a bed a hundred times as wide as deep."""
    for width, depth, gap in ((10_000, 100, 0), (100, 10_000, 5_000), (1, 1, 10_000)):
        for size, asked in itertools.product(SIZES, ("width", "gap1", "gap2", "side", "stations", *PARTS)):
            ways = DIRECTIONS.get(asked, ())
            render(
                replace(PLAN, width=width, depth=depth, gap1=gap, gap2=gap, asked=asked, ways=ways),
                *size,
                wording=IN_MM,
            )


def test_mirrors_on_the_right_give_the_mirrored_drawing() -> None:
    """What is painted for the right side is what is painted for the left, turned over, to within a column.

    Words are left out, because they are read from left to right on either side.
    """
    wordless = replace(PLAN, words=())

    def shapes(side: str) -> np.ndarray:
        rows = render(replace(wordless, side=side), 20, 8, RasterMode.ASCII, wording=IN_MM).cells().lines()
        return np.array([[sign != " " for sign in row] for row in rows])

    left, right = shapes("left"), shapes("right")[:, ::-1]
    near = left | np.roll(left, 1, axis=1) | np.roll(left, -1, axis=1)
    assert left.sum() > 20
    assert (right & ~near).sum() <= 2


@pytest.mark.parametrize(("side", "first"), [("left", "/"), ("right", "\\")])
def test_mirror_plates_send_the_beam_forward_and_across(side: str, first: str) -> None:
    """Derived from the law of reflection: with mirrors on the left the tube's beam goes left, then forward, then
    right, so mirror 1 leans like / and mirror 2 like \\; on the right the other way round."""
    scene = replace(PLAN, side=side, words=())
    lines = render(scene, 100, 44, RasterMode.ASCII, wording=IN_MM).cells().lines()
    edge = [row[:12] if side == "left" else row[-12:] for row in lines]
    cells = np.array([(c, r) for r, row in enumerate(edge) for c, sign in enumerate(row) if sign == "#"])
    middle = cells[:, 1].mean()
    leans = [
        "/" if np.corrcoef(part.T)[0, 1] < 0 else "\\"
        for part in (cells[cells[:, 1] < middle], cells[cells[:, 1] > middle])
    ]
    assert leans == [first, "\\" if first == "/" else "/"]
