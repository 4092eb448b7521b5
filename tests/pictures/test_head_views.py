"""The head from two sides: each view from where it says, leans and offsets as they are, to the scale that is told."""

import math
import re
from xml.etree import ElementTree as ET

import numpy as np
import pytest
from heads import at_nozzle, focused_slope
from test_svg import found, read, values
from test_truth import coloured, drawn

from coach.optics.below import degrees_of
from coach.pictures.head_shown import HeadShown
from coach.pictures.head_views import ENDS, HeadScene
from coach.pictures.inks import NAMESPACE
from coach.pictures.modes import RasterMode
from coach.pictures.palette import Role
from coach.pictures.view import render
from coach.shown import IN_MM

SIZES = [(30, 10), (38, 11), (45, 18), (70, 30)]
LEANS = [(0.9, -0.5), (-0.9, 0.5), (2.5, 1.5), (-0.4, -3.0)]


def views(root: ET.Element) -> list[ET.Element]:
    """The two views, each with an origin of its own; the left one is from the front."""
    return [g for g in root.iter(f"{{{NAMESPACE}}}g") if "translate" in g.get("transform", "")]


def measured(view: ET.Element, hole: float) -> tuple[float, float, float]:
    """The nozzle's middle and height, and how long 1 mm is sideways, by the hole between the two walls."""
    walls = [e for e in found(view, "rect", "fill", Role.METAL) if float(e["height"]) == pytest.approx(1.2)]
    one, other = sorted(walls, key=lambda e: float(e["x"]))
    left, right = float(one["x"]) + float(one["width"]), float(other["x"])
    return (left + right) / 2, float(one["y"]) + 0.7, (right - left) / hole


@pytest.mark.parametrize("nozzle", [(0.0, 0.0), (0.4, -0.2), (-1.0, 0.6)])
@pytest.mark.parametrize("lean", LEANS)
def test_the_beam_leans_and_passes_as_it_does(lean, nozzle) -> None:
    """Exactly, in the file: in either view the beam's middle goes aside, the lower one looks, by the lean times what
    is said of the scale, and passes the nozzle's opening beside its middle by the scale of the hole itself.
    """
    shown = HeadShown(lean=lean, nozzle=nozzle)
    root = read(HeadScene(shown))
    texts = " ".join(e.text or "" for e in root.iter(f"{{{NAMESPACE}}}text"))
    times = float(re.search(r"sideways drawn ([\d.]+) times", texts)[1])
    for axis, view in enumerate(views(root)):
        (ray,) = found(view, "line", "stroke", Role.MARK)
        x0, y0, x1, y1 = values(ray, "x1", "y1", "x2", "y2")
        tangent = (x1 - x0) / (y1 - y0)
        assert tangent == pytest.approx(times * math.tan(math.radians(lean[axis])), rel=0.06, abs=1e-3)
        middle, height, per_mm = measured(view, shown.lens.hole)
        beside = (x0 + tangent * (height - y0) - middle) / per_mm
        assert beside == pytest.approx(nozzle[axis], abs=2e-3)


def test_lens_nozzle_and_focus_lie_at_their_heights() -> None:
    """By one scale: 42.8 mm from lens to nozzle, 8 mm on to the focus, where the board's upper side is; and the cone
    has the beam's width at the lens.
    """
    shown = HeadShown(lean=(0.0, 0.0), nozzle=(0.0, 0.0))
    view = views(read(HeadScene(shown)))[0]
    (lens,) = found(view, "ellipse", "fill", Role.METAL)
    _, nozzle, per_mm = measured(view, shown.lens.hole)
    board = max(found(view, "rect", "fill", Role.FRAME), key=lambda e: float(e["width"]))
    up = (nozzle - float(lens["cy"])) / 42.8
    assert (float(board["y"]) - nozzle) / up == pytest.approx(8.0, abs=0.01)
    assert float(board["height"]) / up == pytest.approx(6.0, abs=0.01)
    cone = found(view, "polygon", "fill", Role.BEAM)[0]["points"].split()
    xs = sorted(float(corner.split(",")[0]) for corner in cone)
    assert (xs[-1] - xs[0]) / per_mm == pytest.approx(7.0, abs=0.01)


@pytest.mark.parametrize(("columns", "rows"), SIZES)
def test_the_beams_middle_goes_to_the_side_that_is_said(columns, rows) -> None:
    """On the screen, at every size: right and back are right of where it came from, and the words say that side."""
    for lean in LEANS:
        raster = drawn(HeadScene(HeadShown(lean=lean, nozzle=(0.0, 0.0))), columns, rows)
        words = " ".join(label.text for _, _, part in raster._panes for label in part.placed)
        for axis, (start, end) in enumerate(((0, columns // 2), (columns // 2, columns))):
            way = ("right", "left") if axis == 0 else ("back", "front")
            assert f"{abs(lean[axis]):.1f}° {way[lean[axis] < 0]}" in words
            if abs(lean[axis]) < 0.8:
                continue
            _, _, part = raster._panes[axis]
            part.placed.clear()
            ray = coloured(raster, Role.MARK, 80)
            ray = ray[(ray[:, 0] > start) & (ray[:, 0] < end) & (ray[:, 1] > 0.35 * raster.height)]
            high = ray[ray[:, 1] < np.percentile(ray[:, 1], 30)][:, 0].mean()
            low = ray[ray[:, 1] > np.percentile(ray[:, 1], 70)][:, 0].mean()
            assert np.sign(low - high) == np.sign(lean[axis])


def test_each_view_is_from_where_it_says() -> None:
    """Right of someone who looks along `forward` is forward × up (x right, y back, z up: a right-handed frame)."""
    up = np.array([0.0, 0.0, 1.0])
    for axis, forward in enumerate(([0.0, 1.0, 0.0], [-1.0, 0.0, 0.0])):  # from the front; from the right side
        right = np.cross(np.array(forward), up)
        assert right[axis] == 1.0
        assert ENDS[axis][1] == ("right", "back")[axis]
    raster = drawn(HeadScene(HeadShown()), 60, 24)
    for (_, _, part), title, (left, right) in zip(
        raster._panes, ("from the front", "from the right"), ENDS, strict=True
    ):
        at = {label.text: label.column for label in part.placed}
        assert title in at
        assert at[left] < part.columns / 2 < at[right]


@pytest.mark.parametrize("side", ["left", "right"])
def test_mirror_3_lies_as_the_beam_is_reflected(side) -> None:
    """From the front: in from the mirrors' side, out downwards; the plate is square to their difference (law of
    reflection: Hecht, Optics).
    """
    view = views(read(HeadScene(HeadShown(), side)))[0]
    (plate,) = found(view, "line", "stroke", Role.METAL)
    x0, y0, x1, y1 = values(plate, "x1", "y1", "x2", "y2")
    (beam, *_) = found(view, "line", "stroke", Role.BEAM)
    bx0, bx1 = values(beam, "x1", "x2")
    incoming = np.array([np.sign(bx1 - bx0), 0.0])
    assert incoming[0] == (1 if side == "left" else -1)
    normal = np.array([0.0, 1.0]) - incoming
    assert normal @ np.array([x1 - x0, y1 - y0]) == pytest.approx(0.0, abs=1e-6)


def test_a_beam_beside_the_lens_is_drawn_beside_it() -> None:
    """A beam that comes in upright d mm beside the lens's middle leans by d/f towards it (the model's thin lens): it
    is drawn d mm beside at the lens, by the same scale as the hole.
    """
    offset = 1.5
    lean = degrees_of(focused_slope(0.0, offset))
    nozzle = at_nozzle(0.0, offset)
    shown = HeadShown(lean=(lean, 0.0), nozzle=(nozzle, 0.0), slope=(0.0, 0.0))
    view = views(read(HeadScene(shown)))[0]
    middle, _, per_mm = measured(view, shown.lens.hole)
    (ray,) = found(view, "line", "stroke", Role.MARK)
    assert (float(ray["x1"]) - middle) / per_mm == pytest.approx(offset, abs=2e-3)
    (body,) = [e for e in found(view, "line", "stroke", Role.BEAM) if float(e["stroke-width"]) == pytest.approx(1.6)]
    assert float(body["x1"]) == pytest.approx(float(body["x2"]), abs=1e-3)


@pytest.mark.parametrize("mode", [RasterMode.SMOOTH, RasterMode.ASCII])
@pytest.mark.parametrize(("columns", "rows"), SIZES)
def test_what_is_not_measured_is_not_drawn(columns, rows, mode) -> None:
    """No lean, no beam below the lens and no figure; what a lean makes over the board is only said of one."""
    raster = render(HeadScene(HeadShown()), columns, rows, mode, wording=IN_MM)
    words = " ".join(label.text for part in [raster, *(p for _, _, p in raster._panes)] for label in part.placed)
    assert words.count("not measured") == 2
    assert "over" not in words
    assert "cuts off" not in words
    if mode is RasterMode.SMOOTH:
        assert not (coloured(raster, Role.MARK, 40)[:, 1] > 0.45 * raster.height).any()
    told = render(HeadScene(HeadShown(lean=(0.9, -0.5), clipped=0.03)), columns, rows, mode, wording=IN_MM)
    words = " ".join(label.text for label in told.placed)
    far = 6.0 * math.hypot(math.tan(math.radians(0.9)), math.tan(math.radians(0.5)))
    assert f"{far:.2f} mm over 6 mm" in words
