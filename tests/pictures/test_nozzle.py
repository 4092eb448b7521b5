"""The tape under the nozzle: the mark lies where it was measured, right to the right and back up, to one scale."""

import numpy as np
import pytest
from test_svg import found, read, values
from test_truth import coloured, drawn

from coach.optics.below import clipped_by_nozzle, cone_radius
from coach.pictures.inks import NAMESPACE
from coach.pictures.modes import RasterMode
from coach.pictures.nozzle import NozzleScene
from coach.pictures.palette import Role
from coach.pictures.view import render
from coach.shown import IN_MM

SIZES = [(30, 10), (38, 11), (45, 18), (70, 30)]
MARKS = [(0.6, 0.5), (-0.9, 0.2), (0.05, -0.1), (-0.3, -1.4), (1.2, 0.0)]
W, FOCAL, DISTANCE, HOLE = 3.5, 50.8, 8.0, 2.5
"""A usual beam and lens (the visit's figures): at the nozzle its radius is 0.55 mm."""


def scene(mark: tuple[float, float] | None) -> NozzleScene:
    clipped = clipped_by_nozzle(HOLE, W, FOCAL, DISTANCE, np.hypot(*np.reshape(mark, (2, 1))))[0] if mark else None
    return NozzleScene(HOLE, 0.2, mark, cone_radius(W, FOCAL, DISTANCE), clipped)


@pytest.mark.parametrize("mark", MARKS)
def test_everything_is_to_one_scale(mark) -> None:
    """Exactly, in the file: hole, tolerance, beam and the mark's place in mm; x to the right, back up."""
    root = read(scene(mark))
    (rim,) = found(root, "circle", "stroke", Role.RIM)
    middle, per_mm = values(rim, "cx", "cy"), float(rim["r"]) / (HOLE / 2)
    (ring, *_) = found(root, "circle", "stroke", Role.TOLERANCE)
    assert float(ring["r"]) / per_mm == pytest.approx(0.2, abs=1e-3)
    assert values(ring, "cx", "cy") == pytest.approx(middle)
    spot = min(found(root, "circle", "fill", Role.MARK), key=lambda e: float(e["r"]))
    assert (values(spot, "cx", "cy") - middle) / per_mm == pytest.approx([mark[0], -mark[1]], abs=1e-3)
    beam = found(root, "circle", "stroke", Role.EXPECTED) + found(root, "ellipse", "stroke", Role.EXPECTED)
    assert (values(beam[0], "cx", "cy") - middle) / per_mm == pytest.approx([mark[0], -mark[1]], abs=1e-3)
    assert float(beam[0].get("r") or beam[0]["rx"]) / per_mm == pytest.approx(0.5512, abs=1e-3)
    texts = [e.text for e in root.iter(f"{{{NAMESPACE}}}text")]
    assert {"seen from above", "↑ back", "right →"} <= set(texts)


@pytest.mark.parametrize("mode", [RasterMode.SMOOTH, RasterMode.ASCII])
@pytest.mark.parametrize(("columns", "rows"), SIZES)
def test_the_mark_lies_on_its_side_at_every_size(columns, rows, mode) -> None:
    """To a cell of where it is by the rim in the same picture, in colour and without."""
    for mark in MARKS:
        raster = render(NozzleScene(HOLE, 0.2, mark), columns, rows, mode, wording=IN_MM)
        raster.placed.clear()
        if mode is RasterMode.SMOOTH:
            rim, at = coloured(raster, Role.RIM, 40), coloured(raster, Role.MARK, 25)
        else:
            lines = raster.cells().lines()[:-2]
            signs = [(sign, c + 0.5, 2 * r + 1.0) for r, row in enumerate(lines) for c, sign in enumerate(row)]
            rim, at = (np.array([(x, y) for each, x, y in signs if each == sign]) for sign in "#@")
        middle = np.array([columns / 2, (1 + (rows - 3) / 2) * 2])
        per_mm = np.ptp(rim[:, 0]) / HOLE if abs(mark[0]) < 0.5 else np.ptp(rim[:, 1]) / HOLE
        assert at.mean(axis=0) - middle == pytest.approx(np.array([mark[0], -mark[1]]) * per_mm, abs=2.6), mark


@pytest.mark.parametrize("mark", MARKS)
def test_only_what_lies_beyond_the_rim_is_drawn_cut_off(mark) -> None:
    """Painted strongly outside of the hole, where the beam reaches so far; the share is the model's."""
    raster = drawn(scene(mark), 70, 30)
    raster.placed.clear()
    beyond = coloured(raster, Role.MARK, 90)
    rim = coloured(raster, Role.RIM, 40)
    middle, radius = (rim.min(axis=0) + rim.max(axis=0)) / 2, np.ptp(rim[:, 0]) / 2
    outside = beyond[np.hypot(*(beyond - middle).T) > radius + 1]
    assert (len(outside) > 0) == (np.hypot(*mark) + 0.55 > HOLE / 2 + 0.06)
    if len(outside):
        ahead = (outside.mean(axis=0) - middle) @ np.array([mark[0], -mark[1]])
        assert ahead > 0
    said = " ".join(label.text for label in render(scene(mark), 70, 30, wording=IN_MM).placed)
    share = clipped_by_nozzle(HOLE, W, FOCAL, DISTANCE, np.hypot(*np.reshape(mark, (2, 1))))[0]
    figure = f"{100 * share:.{0 if share >= 0.0095 else 1}f}" if share >= 0.001 else "< 0.1"
    assert f"cuts off {figure} %" in said


@pytest.mark.parametrize(
    ("mark", "words"),
    [
        ((0.3, 0.1), "0.30 mm right, 0.10 mm back"),
        ((-0.3, -0.1), "0.30 mm left, 0.10 mm front"),
        ((0.0, 0.0), "in the middle"),
    ],
)  # fmt: skip
def test_words_name_the_same_side(mark, words) -> None:
    """As a figure on the picture, and aloud."""
    texts = [label.text for label in render(NozzleScene(2.5, 0.2, mark), 60, 20, wording=IN_MM).placed]
    assert words in texts
    assert words in (read(NozzleScene(2.5, 0.2, mark))[1].text or "")


@pytest.mark.parametrize(("columns", "rows"), SIZES)
def test_without_a_mark_none_is_drawn(columns, rows) -> None:
    """Not pulsed yet, or nothing came through: two different things, both said, neither with a mark."""
    for nothing_came, words in ((False, "no mark yet"), (True, "nothing came through")):
        raster = drawn(NozzleScene(2.5, 0.2, beam=0.55, nothing_came=nothing_came), columns, rows)
        assert any(words in label.text for label in raster.placed)
        assert not len(coloured(raster, Role.MARK, 60))
        assert not len(coloured(raster, Role.EXPECTED, 60))
