"""The bed's corners on their picture: which hangs lower, by how much, and what is said of it."""

import itertools
import re

import pytest
from test_svg import found, read, values
from visit_scenes import GAPS

from coach.pictures.bed_gaps import BedGapsScene
from coach.pictures.inks import NAMESPACE
from coach.pictures.modes import RasterMode
from coach.pictures.palette import Role
from coach.pictures.view import render
from coach.shown import IN_MM
from coach.triage.bed import lowest

SIZES = [(30, 8), (40, 8), (38, 11), (45, 18), (70, 30)]
SETS = [dict(zip(GAPS, values, strict=True)) for values in itertools.permutations((5.0, 5.4, 6.2, 7.0))]


def posts(root) -> dict[str, tuple[float, float, float]]:
    """By corner: where its post stands, and the heights where it begins and ends."""
    rects = [e for role in (Role.DONE, Role.MARK) for e in found(root, "rect", "fill", role)
             if float(e["width"]) == pytest.approx(1.4)]  # fmt: skip
    dots = [values(e, "cx", "cy") for role in (Role.DONE, Role.MARK) for e in found(root, "circle", "fill", role)]
    seen = [(float(e["x"]) + 0.7, float(e["y"]), float(e["y"]) + float(e["height"])) for e in rects]
    seen += [(x, y, y) for x, y in dots if not any(abs(x - post[0]) < 1e-6 for post in seen)]
    back, front = sorted(seen, key=lambda post: post[1])[:2], sorted(seen, key=lambda post: post[1])[2:]
    names = [f"{depth}_{side}" for depth in ("back", "front") for side in ("left", "right")]
    return dict(zip(names, [*sorted(back), *sorted(front)], strict=True))


@pytest.mark.parametrize("gaps", SETS)
def test_corners_hang_by_what_their_gaps_are_larger(gaps) -> None:
    """Exactly, in the file: left is left and front below; the smallest gap hangs nowhere, others in its ratio; and
    heights against widths are as many times too large as is said.
    """
    root = read(BedGapsScene(600.0, 400.0, gaps, 0.46))
    seen = posts(root)
    least, most = min(gaps.values()), max(gaps, key=lambda corner: gaps[corner])
    per_mm = (seen[most][2] - seen[most][1]) / (gaps[most] - least)
    for corner, (_, top, end) in seen.items():
        assert end - top == pytest.approx(per_mm * (gaps[corner] - least), abs=1e-3), corner
    across = (seen["front_right"][0] - seen["front_left"][0]) / 600.0
    texts = " ".join(e.text or "" for e in root.iter(f"{{{NAMESPACE}}}text"))
    told = float(re.search(r"heights drawn (\d+) times", texts)[1])
    assert told == pytest.approx(per_mm / across, rel=0.06)


@pytest.mark.parametrize("mode", [RasterMode.SMOOTH, RasterMode.ASCII])
@pytest.mark.parametrize(("columns", "rows"), SIZES)
def test_each_figure_stands_at_its_corner(columns, rows, mode) -> None:
    """Its own half of the picture, back above front; "lowest" where the model says that the bed is, and nowhere else;
    the verdict and how many times too large heights are drawn at every size.
    """
    for gaps in SETS:
        raster = render(BedGapsScene(600.0, 400.0, gaps, 0.46), columns, rows, mode, wording=IN_MM)
        figures = {}
        for label in raster.placed:
            if match := re.match(r"(\d\.\d) mm( lowest| highest)?$", label.text):
                corner = "left" if label.column + len(label.text) / 2 < columns / 2 else "right"
                figures[match[1], corner, label.row] = match[2] or ""
        by_row = sorted(figures, key=lambda key: key[2])
        for depth, pair in (("back", by_row[:2]), ("front", by_row[2:])):
            for figure, side, row in pair:
                assert float(figure) == gaps[f"{depth}_{side}"]
                here = lowest(gaps) == f"{depth} {side}"
                assert ("lowest" in figures[figure, side, row]) == here
                assert ("highest" in figures[figure, side, row]) == (float(figure) == 5.0)
        text = " ".join(label.text for label in raster.placed)
        assert "2.00" in text
        assert "0.46 mm" in text
        assert "heights" in text


@pytest.mark.parametrize(("columns", "rows"), SIZES)
def test_what_is_not_measured_is_not_drawn(columns, rows) -> None:
    """No surface and no verdict before all four are known; the corner to measure says so, the others "not yet"."""
    some = BedGapsScene(600.0, 400.0, {"back_left": 6.4, "front_left": 5.0}, 0.46, "front_right")
    text = "\n".join(render(some, columns, rows, RasterMode.GLYPH, wording=IN_MM).cells().lines())
    assert "2 of 4 corners not measured yet" in text or "2 of 4 not measured yet" in text
    assert "measure now" in text
    assert text.count("not yet") == 1
    assert "lowest" not in text
    assert not found(read(some), "polygon", "fill", Role.SURFACE)
    assert found(read(BedGapsScene(600.0, 400.0, GAPS, 0.46)), "polygon", "fill", Role.SURFACE)


@pytest.mark.parametrize(("spread", "sign"), [(0.3, "✓"), (0.9, "!")])
def test_the_verdict_is_that_of_half_the_depth_of_focus(spread, sign) -> None:
    """Within it or beyond, in words, and the gauge's bar is as much longer than its stroke stands out."""
    gaps = dict.fromkeys(GAPS, 5.0) | {"back_right": 5.0 + spread}
    root = read(BedGapsScene(600.0, 400.0, gaps, 0.46))
    (said,) = [e.text for e in root.iter(f"{{{NAMESPACE}}}text") if (e.text or "").startswith(sign)]
    assert f"{spread:.2f} mm" in said
    assert ("more than" if sign == "!" else "within") in said
    (stroke,) = found(root, "rect", "fill", Role.TOLERANCE)
    bars = found(root, "rect", "fill", Role.MARK if sign == "!" else Role.DONE)
    bar = max(bars, key=lambda e: float(e["width"]))
    reach = float(stroke["x"]) + 0.5 - float(bar["x"])
    assert float(bar["width"]) / reach == pytest.approx(spread / 0.46, rel=1e-3)
