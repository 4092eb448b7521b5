"""Cuts on their pictures: lengths in the ratio of speeds, over one axis, each with its own station."""

import math
import re

import numpy as np
import pytest
from test_svg import found, read, values
from test_truth import coloured, drawn
from visit_scenes import BEFORE, CUT, PART, PLACES, cuts

from coach.pictures.cut_bed import CutBedScene
from coach.pictures.cut_ladder import CutsScene
from coach.pictures.cuts_shown import between, slowest
from coach.pictures.inks import NAMESPACE
from coach.pictures.modes import RasterMode
from coach.pictures.palette import Role
from coach.pictures.view import render
from coach.shown import IN_MM

SIZES = [(34, 10), (38, 11), (45, 18), (70, 30), (100, 30)]


def axis(root) -> tuple[float, float]:
    """Where 0 lies and how long 1 mm/s is, read off the figures on the axis."""
    texts = {
        e.text: float(e.get("x")) for e in root.iter(f"{{{NAMESPACE}}}text") if re.fullmatch(r"\d+", e.text or "")
    }
    figures = sorted((float(text), x) for text, x in texts.items())
    (low, x0), (high, x1) = figures[0], figures[-1]
    return x0 - low * (x1 - x0) / (high - low), (x1 - x0) / (high - low)


def test_bars_and_whiskers_end_at_their_speeds() -> None:
    """Exactly, by the axis' own figures (which stand within half a column): the bar at the fastest that fell through,
    the whisker at the next, the ghost between those of before.
    """
    root = read(CutsScene(cuts(CUT, BEFORE)))
    zero, per_speed = axis(root)
    bars = [e for role in (Role.DONE, Role.MARK) for e in found(root, "rect", "fill", role) if float(e["width"]) > 3]
    ends = sorted((float(e["y"]), float(e["width"])) for e in bars)
    lows = [CUT[name][0] for name in PLACES]
    assert [width / ends[0][1] * lows[0] for _, width in ends] == pytest.approx(lows, rel=1e-3)
    assert {float(e["x"]) for e in bars} == {float(bars[0]["x"])}
    assert float(bars[0]["x"]) + 0.5 == pytest.approx(zero, abs=1.0)
    assert ends[0][1] / lows[0] == pytest.approx(per_speed, rel=0.03)
    begin, unit = float(bars[0]["x"]), ends[0][1] / lows[0]
    ticks = [(float(e["x1"]) - begin) / unit for e in found(root, "line", "stroke", Role.CROSS) if e["x1"] == e["x2"]]
    step = min(tick for tick in ticks if tick > 1)  # mm/s, a round speed
    assert ticks == pytest.approx([round(tick / step) * round(step) for tick in ticks], abs=0.1)
    lines = [e for role in (Role.DONE, Role.MARK) for e in found(root, "line", "stroke", role)]
    reach = sorted(
        (e["y1"], (float(e["x2"]) - float(bars[0]["x"])) / ends[0][1] * lows[0]) for e in lines if e["y1"] == e["y2"]
    )
    assert sorted(high for _, high in reach) == pytest.approx(sorted(CUT[name][1] for name in PLACES), rel=1e-3)
    ghosts = [values(e, "x1", "x2") for e in found(root, "line", "stroke", Role.OLD) if e["y1"] == e["y2"]]
    assert len(ghosts) == len(PLACES)
    for ghost in ghosts:
        seen = (ghost - float(bars[0]["x"])) / ends[0][1] * lows[0]
        assert seen == pytest.approx(BEFORE["middle"], rel=1e-3)


@pytest.mark.parametrize("mode", [RasterMode.SMOOTH, RasterMode.ASCII])
@pytest.mark.parametrize(("columns", "rows"), SIZES)
def test_bars_are_in_the_ratio_of_speeds(columns, rows, mode):
    """To a cell, at every size, with and without colour; no speed is longer than a faster one."""
    speeds = dict(zip(PLACES, (8.0, 24.0, 16.0, 12.0, 20.0), strict=True))
    scene = CutsScene(cuts({name: (low, 1.1 * low) for name, low in speeds.items()}))
    raster = render(scene, columns, rows, mode, wording=IN_MM)
    row_of = {label.text: label.row for label in raster.placed}
    lengths = {}
    for name in PLACES:
        if mode is RasterMode.ASCII:
            lines = raster.cells().lines()
            lengths[name] = max(len(re.findall("[#@]", line)) for line in lines[row_of[name] : row_of[name] + 1])
        else:
            bars = np.concatenate([coloured(raster, role, 60) for role in (Role.DONE, Role.MARK)])
            above = row_of[name] - (bars[:, 1] // 2).astype(int)
            mine = bars[(above == 0) | ((above == 1) & (rows > 20))]
            top = mine[mine[:, 1] == mine[:, 1].min()]
            lengths[name] = np.ptp(top[:, 0]) + 0.5
    per_speed = lengths["back-right"] / speeds["back-right"]
    for name, low in speeds.items():
        assert lengths[name] == pytest.approx(low * per_speed, abs=1.0), name


@pytest.mark.parametrize(("columns", "rows"), SIZES)
def test_open_ends_are_drawn_open(columns, rows):
    """None fell through: no bar, and "under" the next; all did: the whisker goes on to the axis' end, and "over"."""
    text = render(CutsScene(cuts(PART)), columns, rows, RasterMode.ASCII, wording=IN_MM).cells().lines()
    none, every = (next(row for row in text if name in row) for name in ("back-right", "middle"))
    assert "under 10" in none
    assert not re.search("[#@]{2}", none)
    assert "over 24.2" in every
    root = read(CutsScene(cuts(PART)))
    tips = [e["points"] for role in (Role.DONE, Role.MARK) for e in found(root, "polygon", "fill", role)]
    assert len(tips) == 1
    zero, per_speed = axis(root)
    assert max(float(corner.split(",")[0]) for corner in tips[0].split()) > zero + 24.2 * per_speed + 1


@pytest.mark.parametrize(("columns", "rows"), SIZES)
def test_figures_stand_in_their_own_stations_row(columns, rows):
    """Name and limit on one row; a station that was not cut says so, one whose turn it is says that."""
    text = (
        render(CutsScene(cuts(PART, at="front-right")), columns, rows, RasterMode.GLYPH, wording=IN_MM)
        .cells()
        .lines()
    )
    said = {"back-left": "20–22", "back-right": "under 10", "middle": "over 24.2", "front-right": "now",
            "front-left": "not cut"}  # fmt: skip
    for name, figure in said.items():
        (row,) = [row for row in text if name in row and "slowest" not in row]
        assert row.rstrip().endswith(figure)
    assert any("slowest" in row for row in text)


def test_slowest_is_only_said_where_it_is_so():
    """Its lines all stopped no later than any other's: overlapping limits name nobody."""
    assert slowest(cuts(CUT)) == {"front-right"}
    assert slowest(cuts({"middle": (18.0, 20.0), "back-left": (18.0, 20.0)})) == frozenset()
    assert slowest(cuts({"middle": (18.0, 20.0), "back-left": (19.0, 21.0)})) == frozenset()
    assert slowest(cuts({"middle": (18.0, 20.0), "back-left": (20.0, math.inf)})) == {"middle"}
    assert slowest(cuts({"middle": (18.0, 20.0)})) == frozenset()
    assert between((18.18, 20.0)) == "18.2–20"


@pytest.mark.parametrize("side", ["left", "right"])
@pytest.mark.parametrize(("columns", "rows"), [(40, 13), (45, 18), (70, 30)])
def test_gauges_stand_where_their_stations_are(columns, rows, side):
    """x to the right and y to the back, front at the bottom; the slow one is at its own corner, and says so there."""
    scene = CutBedScene(600.0, 400.0, side, cuts(CUT))
    raster = drawn(scene, columns, rows)
    slow = coloured(raster, Role.MARK)
    others = coloured(raster, Role.DONE)
    assert slow[:, 0].min() > columns / 2
    assert slow[:, 1].min() > rows
    assert len(others)
    at = {label.text: (label.column + len(label.text) / 2, label.row) for label in raster.placed}
    for name, (x, y) in PLACES.items():
        column, row = at[name]
        assert np.sign(round((column - columns / 2) / 3)) == np.sign(x - 300), name
        assert np.sign(round((rows / 2 - row - 1) / 2)) == np.sign(y - 200), name
    (slow,) = [label for label in raster.placed if label.text in ("12–13.2 slowest", "! 12–13.2")]
    assert slow.row == at["front-right"][1] + 2
    assert abs(slow.column + len(slow.text) / 2 - at["front-right"][0]) < 4
    assert any(label.text.endswith("slowest") for label in raster.placed)


@pytest.mark.parametrize(("columns", "rows"), [(24, 10), (28, 12), (32, 20), (45, 18), (70, 30)])
def test_words_of_the_bed_stay_on_it(columns, rows):
    """No figure lies on the bed's edge; which one is slowest is said in a word at every size."""
    scene = CutBedScene(600.0, 400.0, "left", cuts(CUT))
    raster = render(scene, columns, rows, RasterMode.ASCII, wording=IN_MM)
    edges = [row for row in raster.cells().lines() if row.lstrip(" #").startswith("|")]
    assert edges
    assert all(row.rstrip(" #").endswith("|") for row in edges)
    assert len({row.rindex("|") for row in edges}) == 1
    assert any("slowest" in label.text for label in raster.placed)
    assert {"12-13.2", "20-22"} <= {label.text.strip("! ").split()[0] for label in raster.placed}


def test_gauges_are_filled_by_the_ratio_of_speeds():
    """Exactly, in the file: the fill by the fastest that fell through, its outline by the fastest speed tried."""
    root = read(CutBedScene(600.0, 400.0, "left", cuts(CUT)))
    fills = [e for role in (Role.DONE, Role.MARK) for e in found(root, "rect", "fill", role)]
    widths = sorted(float(e["width"]) for e in fills)
    lows = sorted(low for low, _ in CUT.values())
    assert [width / widths[-1] * lows[-1] for width in widths] == pytest.approx(lows, rel=1e-3)
    whole = max(float(e["width"]) for e in found(root, "rect", "fill", Role.FRAME))
    assert whole / widths[-1] == pytest.approx(24.2 / 22.0, rel=1e-3)
