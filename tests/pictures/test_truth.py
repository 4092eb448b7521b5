"""Pictures are claims: which way a mirror lies, how far a screw turns, which side is left, held against the model."""

import itertools
import math
from dataclasses import replace

import numpy as np
import pytest
from built_steps import built
from machines import make_machine
from sweeps import sampled

from coach.advice.advice import Shot
from coach.optics.mounts import plate_motion
from coach.optics.trace import Layout, TrueState, leg1, leg2
from coach.pictures.bed import BedScene, StationDot
from coach.pictures.beside import BesideScene
from coach.pictures.compared import Compared
from coach.pictures.dial import lane
from coach.pictures.head_sizes import HeadSizesScene
from coach.pictures.modes import RasterMode
from coach.pictures.mount import MountDrawing, MountScene, PointShown
from coach.pictures.palette import DARK, Role
from coach.pictures.path import PathScene
from coach.pictures.plan import PlanScene
from coach.pictures.raster import Raster
from coach.pictures.view import render
from coach.reading.face import mirrored
from coach.scenes.of_step import MarkShown, aperture_scene, mount_scene, move_scene
from coach.shown import IN_MM
from coach.steps.about import ScrewTask, ShiftTask
from coach.steps.current import current_step
from coach.steps.words import TOP_OF_KEY, moved_words

ASPECT = 2.0


def coloured(raster: Raster, role: Role, within: int = 12) -> np.ndarray:
    """Where a part's own colour stands, or one that differs by so little; x and y in column widths."""
    near = np.abs(raster.samples() - np.array(DARK.inks[role].rgb)).max(axis=2) < within
    return np.column_stack((raster.grid.x[near], raster.grid.y[near]))


def drawn(scene, columns=100, rows=40) -> Raster:
    return render(scene, columns, rows, RasterMode.SMOOTH, wording=IN_MM)


# -- mirrors --------------------------------------------------------------------------------------


def faces_by_the_trace(side: str) -> list[np.ndarray]:
    """How the faces of mirrors 1 and 2 run on a plan, y downwards, by what the traced beam does at each.

    A mirror changes the beam along its normal alone (r = d − 2(d·n)n, Hecht, Optics); its face is square to that.
    """
    state = TrueState(Layout(side, 600.0, 400.0, 150.0, 120.0))
    tube = np.array([-1.0 if side == "left" else 1.0, 0.0, 0.0])
    ways = [tube, np.array(leg1(state).direction), np.array(leg2(state, 200.0).direction)]
    normals = [after - before for before, after in itertools.pairwise(ways)]
    return [np.array([normal[1], normal[0]]) / np.hypot(normal[0], normal[1]) for normal in normals]


PLANS = {
    "path": lambda side: PathScene(600, 400, side, (300, 120)),
    "plan": lambda side: PlanScene(600, 400, side, 150, 120),
    "bed": lambda side: BedScene(600, 400, side, (), (300, 120)),
}


@pytest.mark.parametrize("side", ["left", "right"])
@pytest.mark.parametrize("plan", PLANS)
def test_mirrors_lie_as_the_beam_is_reflected(plan, side):
    """Tube to mirror 1 to mirror 2 to the head: each plate lies as the trace reflects there, on either side."""
    raster = drawn(PLANS[plan](side))
    bed = coloured(raster, Role.SURFACE, 2)[:, 0]
    metal = coloured(raster, Role.METAL, 60)
    outside = metal[metal[:, 0] < bed.min() - 1.2] if side == "left" else metal[metal[:, 0] > bed.max() + 1.2]
    middle = (outside[:, 1].min() + outside[:, 1].max()) / 2
    for number, face in enumerate(faces_by_the_trace(side)):
        plate = outside[(outside[:, 1] < middle) == (number == 0)]
        _, _, axes = np.linalg.svd(plate - plate.mean(axis=0))
        assert abs(axes[0] @ face) > 0.97, f"mirror {number + 1}"


# -- turns ----------------------------------------------------------------------------------------

TURNS = [sign * amount for amount in (1 / 60, 0.05, 0.125, 0.25, 0.5, 0.9) for sign in (1, -1)]


def from_twelve(places: np.ndarray) -> np.ndarray:
    """Clockwise angles from twelve o'clock, in turns, −½ to ½."""
    return np.arctan2(places[:, 0], -places[:, 1]) / math.tau


@pytest.mark.parametrize("side", ["left", "right"])
def test_mirror_3_lies_as_the_beam_is_reflected_down(side):
    """From the front: the beam comes in from the mirrors' side and leaves downwards; the plate's normal is out minus
    in, and its upper edge lies above the incoming beam.  Lens, nozzle and focus follow below it in that order."""
    raster = drawn(HeadSizesScene(side, 50.8, 8.0, 2.5, 70.0))
    metal, lens = coloured(raster, Role.METAL, 60), coloured(raster, Role.TOLERANCE, 60)[:, 1].mean()
    plate, nozzle = metal[metal[:, 1] < lens - 2], metal[metal[:, 1] > lens + 2]
    run = np.linalg.svd(plate - plate.mean(axis=0))[2][0]
    way = np.array([1.0 if side == "left" else -1.0, 0.0])
    normal = (np.array([0.0, 1.0]) - way) / np.sqrt(2.0)  # y grows downwards
    assert abs(normal @ run) < 0.1
    upper, lower = plate[plate[:, 1].argmin()], plate[plate[:, 1].argmax()]
    assert (lower - upper) @ way > 2
    assert plate[:, 1].mean() < lens < nozzle[:, 1].mean() < coloured(raster, Role.EDGE, 60)[:, 1].max() - 2


def dial(scene: MountScene) -> tuple[np.ndarray, float]:
    """Middle and radius of the large head."""
    x, y, reach = MountDrawing(scene, Raster(100, 40)).dial
    return np.array([x, y]), reach - lane(reach)


@pytest.mark.parametrize("turns", TURNS)
@pytest.mark.parametrize("screw", ["B", "C"])
@pytest.mark.parametrize("mirror", [1, 2])
def test_the_wedge_is_the_turn(mirror, screw, turns):
    """From the pointer now, at twelve, to the pointer afterwards: clockwise is positive, as on the screw's head."""
    scene = mount_scene(make_machine(), ScrewTask(mirror, screw, turns, 1, 2), IN_MM)
    middle, radius = dial(scene)
    lit = coloured(drawn(scene), Role.FOCUS) - middle
    inside = lit[(np.hypot(*lit.T) < radius) & (np.hypot(*lit.T) > 0.5 * radius)]
    half = abs(turns) / 2
    ahead = np.mod(from_twelve(inside) * math.copysign(1, turns) - half + 0.5, 1.0) - 0.5 + half
    blur = 1.6 / (0.5 * radius) / math.tau
    assert ahead.min() > -blur
    assert ahead.max() == pytest.approx(abs(turns), abs=blur)
    right = from_twelve(inside).mean() > 0 if half < 0.25 else turns > 0
    assert right == (turns > 0)
    assert scene.caption == (f"the top of the key goes {'RIGHT' if turns > 0 else 'LEFT'}",)


def test_the_top_of_a_key_goes_where_the_model_says():
    """A right-handed screw that turns clockwise for someone facing its head goes away from them (ISO 68-1, from
    memory): a pushing screw takes the plate with it.  The top's speed is that rotation times its arm.
    """
    for turns in (0.1, -0.1):
        away = math.copysign(1, plate_motion(make_machine().mount(1), {"B": turns}).rise)
        axis = np.array([0.0, 0.0, -away])  # the rotation's axis: z towards the viewer, right-handed
        top = np.cross(axis, np.array([0.0, 1.0, 0.0]))
        assert TOP_OF_KEY[IN_MM.turns(turns).direction] == ("RIGHT" if top[0] > 0 else "LEFT")
    step = current_step(built("screw"), IN_MM)
    assert f"the top of the key goes {'RIGHT' if step.screw.turns > 0 else 'LEFT'}" in " ".join(step.do)


@pytest.mark.parametrize("screw", ["A", "B", "C"])
@pytest.mark.parametrize(
    "places", [((-20, -20), (20, -20), (-20, 20)), ((0, -22), (-20, 18), (20, 18)), ((-25, 0), (25, 5), (0, -15))]
)
@pytest.mark.parametrize(("columns", "rows"), [(31, 11), (44, 20), (50, 34), (100, 40)])
def test_the_arrow_is_nowhere_near_another_point(columns, rows, places, screw):
    """Whichever way and however far it turns, the picture changes only outside of the plate."""

    def turned(turns):
        points = tuple(
            PointShown(name, *at, "screw", turns if name == screw else None)
            for name, at in zip("ABC", places, strict=True)
        )
        return MountScene(points)

    pictures = [drawn(turned(turns), columns, rows) for turns in (0.9, -0.9, 0.02, -0.02)]
    left, top, right, bottom = MountDrawing(turned(0.9), Raster(columns, rows)).plate_box()
    for other in pictures[1:]:
        differs = np.abs(pictures[0].samples() - other.samples()).max(axis=2) > 3
        x, y = other.grid.x[differs], other.grid.y[differs]
        assert len(x)
        assert ((x < left) | (x > right) | (y < top) | (y > bottom)).all()


# -- the face of the tape -------------------------------------------------------------------------

OPPOSITE = {"left": "right", "right": "left"}


@pytest.mark.parametrize("face", ["outer", "sticky"])
@pytest.mark.parametrize("u", [4.0, -4.0])
def test_picture_and_headline_name_the_same_side(face, u):
    """A mark that lies right on the machine lies on the side that the picture calls right, whichever face is seen."""
    shot = Shot("middle", 300, 200, "head", 0.0, 0.0, 1.0)
    seen = mirrored(u, 0.0, face)
    scene = aperture_scene(make_machine(), shot, (MarkShown(*seen),), sticky=face == "sticky")
    rows = render(replace(scene, expected=None), 60, 24, RasterMode.ASCII, wording=IN_MM).cells().lines()
    caption = next(word for word in OPPOSITE for row in rows if f"{word} >" in row)
    middle = [np.mean([c for c, sign in enumerate(row) if sign == "|"]) for row in rows[3:6]]
    mark = np.mean([c for row in rows for c, sign in enumerate(row) if sign == "@"])
    side = caption if mark > np.mean(middle) else OPPOSITE[caption]
    assert IN_MM.place(u, 0.0).endswith(side)
    assert any("sticky side" in row for row in rows) == (face == "sticky")


# -- the bed --------------------------------------------------------------------------------------


def test_offsets_on_the_bed_lie_on_their_own_tape():
    """On each disc the mark lies off the cross as on the tape, u right and v up, by the scale written below."""
    stations = (
        StationDot("front-left", 20, 20, "done", u=3.0, v=0.0),
        StationDot("front-right", 580, 20, "done", u=0.0, v=3.0),
        StationDot("back-left", 20, 380, "done", u=-2.0, v=-2.0),
    )
    raster = drawn(BedScene(600, 400, "left", stations))
    row = raster.cells().lines()[-1]
    bar = coloured(raster, Role.QUIET, 60)
    bar = bar[bar[:, 1] > (raster.rows - 1) * ASPECT]
    per_mm = (np.ptp(bar[:, 0]) + 0.5) / float(row.split(" mm")[0].split()[-1])
    rims, marks = coloured(raster, Role.DONE, 40), coloured(raster, Role.MARK, 60)
    for station in stations:
        quarter = [(part[:, 0] > 50) == (station.x > 300) for part in (rims, marks)]
        quarter = [
            q & ((part[:, 1] < 40) == (station.y > 200)) for q, part in zip(quarter, (rims, marks), strict=True)
        ]
        rim, mark = rims[quarter[0]], marks[quarter[1]]
        off = mark.mean(axis=0) - (rim.min(axis=0) + rim.max(axis=0)) / 2
        assert off == pytest.approx([station.u * per_mm, -station.v * per_mm], abs=0.8), station.name


# -- moves ----------------------------------------------------------------------------------------

WAYS = {"right": (1.0, 0.0), "back": (0.0, -1.0), "up": (0.0, -1.0)}
"""On the screen, y downwards: a plan has the back on top, a view from the front has up on top."""


@pytest.mark.parametrize(("columns", "rows"), sampled([(31, 12), (44, 20), (100, 40)], (44, 20)))
@pytest.mark.parametrize("side", ["left", "right"])
@pytest.mark.parametrize("amount", sampled([1.2, -1.2], -1.2))
@pytest.mark.parametrize(
    ("part", "way"),
    [
        ("mirror 1", "right"),
        ("mirror 2", "right"),
        ("head", "up"),
        ("head", "back"),
        ("tube", "up"),
        ("tube", "back"),
    ],
)
def test_an_arrow_shows_which_way_a_part_goes(part, way, amount, side, columns, rows):
    """The arrow's head is where it is broadest: ahead of its middle in the direction of the move, on either side."""
    machine = make_machine().model_copy(deep=True)
    machine.path.__dict__["side"] = side
    amounts = {"up": 0.0, "right": 0.0, "back": 0.0} | {way: amount}
    scene = move_scene(machine, ShiftTask(part, **amounts), IN_MM)
    other = move_scene(machine, ShiftTask(part, **{name: -value for name, value in amounts.items()}), IN_MM)
    one, two = (drawn(each, columns, rows) for each in (scene, other))
    arrow = np.array([place for place in map(tuple, coloured(one, Role.FOCUS)) if place not in
                      set(map(tuple, coloured(two, Role.FOCUS)))])  # fmt: skip
    ahead = np.array(WAYS[way]) * np.sign(amount)
    tips = arrow[np.argsort(arrow @ ahead)]
    along, across = tips @ ahead, tips @ ahead[::-1]
    middle = (along[0] + along[-1]) / 2
    assert np.ptp(across[along > middle]) >= np.ptp(across[along < middle])
    said = " ".join(row for row in one.cells().lines())
    assert moved_words(way, amount, IN_MM) in said


# -- before beside after --------------------------------------------------------------------------


@pytest.mark.parametrize(("columns", "rows"), [(48, 14), (60, 24), (100, 40)])
def test_before_and_after_stand_side_by_side_at_one_scale(columns, rows):
    """Each side says its worst offset, and both are drawn at the scale that the bar tells."""
    stations = (
        Compared("back-left", (0.0, 4.0), (0.0, 1.0)),
        Compared("middle", (0.0, -4.0), (0.0, -1.0)),
    )
    raster = drawn(BesideScene(18.0, 1.0, stations), columns, rows)
    text = raster.cells().lines()
    assert "before: worst 4.0 mm" in text[0][: columns // 2]
    assert "after: worst 1.0 mm" in text[0][columns // 2 :]
    bar = coloured(raster, Role.QUIET, 60)
    bar = bar[bar[:, 1] > (rows - 1) * ASPECT]
    per_mm = (np.ptp(bar[:, 0]) + 0.5) / float(text[-1].split(" mm")[0].split()[-1])
    high = []
    for role, right in ((Role.OLD, False), (Role.MARK, True)):
        marks = coloured(raster, role, 40)
        marks = marks[((marks[:, 0] > columns / 2) == right) & (marks[:, 1] < (rows - 1) * ASPECT)]
        high.append(np.ptp(marks[:, 1]))
    assert high[0] - high[1] == pytest.approx(8.0 * per_mm - 2.0 * per_mm, abs=1.5)
