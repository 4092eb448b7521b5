"""Marks on the card and the pointer's spot: where they were measured, from above, and the lean that follows."""

import math

import numpy as np
import pytest
from test_head_views import views
from test_svg import found, read, values
from test_truth import coloured, drawn

from coach.head.pointer import PointerSpot, pointer_advice
from coach.optics.below import degrees_of, two_height_slope
from coach.pictures.bed_card import CardScene
from coach.pictures.inks import NAMESPACE
from coach.pictures.modes import RasterMode
from coach.pictures.palette import Role
from coach.pictures.pointer_spots import PointerScene
from coach.pictures.view import render
from coach.shown import IN_MM
from coach.tuning import TUNING

SIZES = [(30, 10), (38, 11), (45, 18), (70, 30)]
PAIRS = [((1.2, -0.4), (-0.8, 1.6)), ((-3.0, 2.0), (1.0, 2.5)), ((0.0, 2.0), (0.4, -2.0))]


def bar(root) -> float:
    """How long 1 mm is, by the bar below and its figure."""
    parts = found(root, "rect", "fill", Role.QUIET)
    start, end = min(float(e["x"]) for e in parts), max(float(e["x"]) + float(e["width"]) for e in parts)
    texts = [e.text or "" for e in root.iter(f"{{{NAMESPACE}}}text")]
    (figure,) = [text.split(" mm")[0] for text in texts if text.split(" mm")[0].replace(".", "").isdigit() and
                 ("on the card" in text or text.endswith(" mm"))]  # fmt: skip
    return (end - start) / float(figure)


@pytest.mark.parametrize(("high", "low"), PAIRS)
def test_marks_and_arrow_lie_where_they_were_measured(high, low) -> None:
    """Exactly, in the file, by the bar below: x to the right, back up; full at the usual height, hollow lower; the
    arrow points from the one to the other.
    """
    root = read(CardScene(high, low, 150.0))
    per_mm = bar(root)
    full = values(min(found(root, "circle", "fill", Role.MARK), key=lambda e: float(e["r"])), "cx", "cy")
    hollow = values(found(root, "circle", "stroke", Role.MARK)[0], "cx", "cy")
    apart = np.array([low[0] - high[0], -(low[1] - high[1])])
    assert (hollow - full) / per_mm == pytest.approx(apart, abs=0.01)
    (edge, *_) = found(root, "rect", "stroke", Role.FRAME)
    middle = values(edge, "x", "y") + values(edge, "width", "height") / 2
    assert full == pytest.approx(middle, abs=0.01)
    points = found(root, "polygon", "fill", Role.FOCUS)[0]["points"].split()
    tip, *base = (np.array([float(value) for value in corner.split(",")]) for corner in points)
    ahead = tip - sum(base) / 2
    assert ahead / np.hypot(*ahead) == pytest.approx(apart / np.hypot(*apart), abs=1e-3)


@pytest.mark.parametrize(("high", "low"), PAIRS)
def test_the_lean_is_that_of_the_model(high, low) -> None:
    """In degrees and in words, as the two heights tell it."""
    scene = CardScene(high, low, 150.0, lens=False)
    lean = [degrees_of(two_height_slope(b - a, 150.0)) for a, b in zip(high, low, strict=True)]
    assert scene.lean == pytest.approx(lean)
    said = scene.said(IN_MM)[0]
    for value, (plus, minus) in zip(lean, (("right", "left"), ("back", "front")), strict=True):
        if abs(value) >= 0.05:
            assert f"{abs(value):.1f}° {plus if value > 0 else minus}" in said
    assert "lens out" in said


@pytest.mark.parametrize("mode", [RasterMode.SMOOTH, RasterMode.GLYPH, RasterMode.ASCII])
@pytest.mark.parametrize(("columns", "rows"), SIZES)
def test_each_mark_has_its_own_name(columns, rows, mode) -> None:
    """Nearer to its own mark than to the other, at every size."""
    for high, low in PAIRS:
        raster = render(CardScene(high, low, 150.0), columns, rows, mode, wording=IN_MM)
        at = {}
        for label in raster.placed:
            for name, texts in (("high", ("usual height", "high")), ("low", ("150 mm lower", "low"))):
                if label.text in texts:
                    at[name] = (label.column, label.column + len(label.text), 2.0 * label.row + 1)
        assert set(at) == {"high", "low"}
        assert any(label.text.startswith("leans") for label in raster.placed)
        half = min((rows - 3) * 2 / 2 - 1.0, columns / 2 - 8)
        size = min(max(0.09 * half, 1.3), 2.6)
        moved = (low[0] - high[0], low[1] - high[1])
        scale = (half - size - 1.5) / max(2.0, *map(abs, moved))
        for name, mark, other in (("high", (0.0, 0.0), moved), ("low", moved, (0.0, 0.0))):
            start, end, y = at[name]

            def away(place, start=start, end=end, y=y, scale=scale):
                x = columns / 2 + place[0] * scale
                down = 2 + (rows - 3) - place[1] * scale
                return math.hypot(max(start - x, x - end, 0.0), down - y)

            assert away(mark) < away(other), (high, low, name)


@pytest.mark.parametrize(("columns", "rows"), SIZES)
def test_marks_on_each_other_are_named_together(columns, rows) -> None:
    """Neither name would stand nearer to its own."""
    raster = drawn(CardScene((1.2, -0.4), (1.25, -0.4), 150.0), columns, rows)
    assert any(label.text in ("both heights", "both") for label in raster.placed)
    assert any("upright" in label.text for label in raster.placed)


@pytest.mark.parametrize(("columns", "rows"), SIZES)
def test_what_was_not_pulsed_is_not_drawn(columns, rows) -> None:
    """No arrow and no lean from one mark; what is missing is said."""
    for scene, marks in ((CardScene(), 0), (CardScene((3.2, -2.4), None, 170.0), 1)):
        raster = drawn(scene, columns, rows)
        assert any("not pulsed yet" in label.text for label in raster.placed)
        assert not any("lean" in label.text for label in raster.placed)
        assert not len(coloured(raster, Role.FOCUS, 60))
        raster.placed.clear()
        assert bool(len(coloured(raster, Role.MARK, 40))) == bool(marks)


# -- the pointer ----------------------------------------------------------------------------------


@pytest.mark.parametrize(("high", "low"), [((1.2, -0.4), (-0.8, 0.6)), ((0.1, 0.9), (2.0, 0.3))])
def test_the_spot_lies_where_it_was_measured(high, low) -> None:
    """Exactly, in the file, by the bar below: from the mark, in the middle of either view; one scale for both."""
    root = read(PointerScene(high, low, 20.0))
    per_mm = bar(root)
    for view, place in zip(views(root), (high, low), strict=True):
        mark = values(found(view, "circle", "fill", Role.MARK)[0], "cx", "cy")
        arms = [values(e, "x1", "y1", "x2", "y2") for e in found(view, "line", "stroke", Role.FOCUS)]
        spot = np.mean([(arm[:2] + arm[2:]) / 2 for arm in arms], axis=0)
        assert (spot - mark) / per_mm == pytest.approx([place[0], -place[1]], abs=0.01)
        (ring,) = found(view, "circle", "stroke", Role.TOLERANCE)
        assert float(ring["r"]) / per_mm == pytest.approx(0.5, abs=0.01)
        assert values(ring, "cx", "cy") == pytest.approx(mark)


@pytest.mark.parametrize(("columns", "rows"), SIZES)
@pytest.mark.parametrize("spots", [((0.3, 0.2), (0.1, -0.4)), ((0.3, 0.2), (0.9, 0.0)), ((-0.6, 0.0), (0.0, 0.0))])
def test_on_the_mark_is_said_as_the_adviser_judges(spots, columns, rows) -> None:
    """At each height by the adviser's own tolerance; all are on the mark where it says done, and only there."""
    head = TUNING.head
    raster = drawn(PointerScene(*spots, 20.0, head.pointer), columns, rows)
    good = sum(label.text.startswith("✓") for _, _, part in raster._panes for label in part.placed)
    assert good == sum(math.hypot(*spot) <= head.pointer for spot in spots)
    told = pointer_advice((PointerSpot(*spots[0]), PointerSpot(*spots[1], 20.0)), head)
    assert (told.kind == "done") == (good == 2)


@pytest.mark.parametrize(("columns", "rows"), SIZES)
def test_a_height_where_nobody_looked_shows_no_spot(columns, rows) -> None:
    """Neither spot nor mark there; the other height is drawn."""
    raster = drawn(PointerScene((1.2, -0.4)), columns, rows)
    words = [[label.text for label in part.placed] for _, _, part in raster._panes]
    assert any("not" in text for text in words[1])
    assert not any("not" in text for text in words[0])
    for _, _, part in raster._panes:
        part.placed.clear()
    for role in (Role.FOCUS, Role.MARK):
        there = coloured(raster, role, 40)
        assert len(there)
        assert (there[:, 0] < columns / 2).all()
