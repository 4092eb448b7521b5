"""The optics on their picture: in the beam's order, where they are on the machine, each with what was found."""

import itertools
import math

import numpy as np
import pytest
from test_truth import coloured, drawn

from coach.pictures.modes import RasterMode
from coach.pictures.optic_faces import WORDS, OpticShown
from coach.pictures.optics_path import OpticsScene
from coach.pictures.palette import Role
from coach.pictures.view import render
from coach.shown import IN_MM
from coach.triage.cleaned import Optic

ORDER: tuple[Optic, ...] = ("combiner", "mirror 1", "mirror 2", "mirror 3", "lens")
STATES = ("clean", "haze", "scratched", "burnt", "cracked", "not opened", None)


def now_at(name: Optic, side: str, columns: int, rows: int, order: tuple[Optic, ...]) -> np.ndarray:
    """Where the face stands whose turn it is, read off its colour."""
    scene = OpticsScene(tuple(OpticShown(each, now=each == name) for each in order), side)
    return coloured(drawn(scene, columns, rows), Role.FOCUS).mean(axis=0)


@pytest.mark.parametrize("side", ["left", "right"])
@pytest.mark.parametrize("combiner", [False, True])
@pytest.mark.parametrize(("columns", "rows"), [(60, 20), (70, 30), (96, 14)])
def test_optics_stand_where_the_beam_meets_them(side, combiner, columns, rows):
    """As on the machine (the design's frames): mirror 1 in the back corner on the mirrors' side, the combiner between
    it and the tube, mirror 2 straight before mirror 1, mirror 3 across the bed from it, the lens beneath mirror 3.
    """
    order = ORDER if combiner else ORDER[1:]
    at = {name: now_at(name, side, columns, rows, order) for name in order}
    inward = 1 if side == "left" else -1
    if combiner:
        assert (at["combiner"] - at["mirror 1"])[0] * inward > 5
        assert at["combiner"][1] == pytest.approx(at["mirror 1"][1], abs=1)
    assert at["mirror 2"][0] == pytest.approx(at["mirror 1"][0], abs=1)
    assert (at["mirror 2"] - at["mirror 1"])[1] > 3
    assert at["mirror 3"][1] == pytest.approx(at["mirror 2"][1], abs=1)
    assert (at["mirror 3"] - at["mirror 2"])[0] * inward > 15
    assert at["lens"][0] == pytest.approx(at["mirror 3"][0], abs=1)
    assert (at["lens"] - at["mirror 3"])[1] > 3


@pytest.mark.parametrize(("columns", "rows"), [(30, 14), (38, 11), (45, 18)])
def test_a_list_keeps_the_beams_order(columns, rows):
    """From above down."""
    places = [now_at(name, "left", columns, rows, ORDER)[1] for name in ORDER]
    assert places == sorted(places)
    assert min(np.diff(places)) > 1


@pytest.mark.parametrize("mode", [RasterMode.SMOOTH, RasterMode.ASCII])
@pytest.mark.parametrize("side", ["left", "right"])
@pytest.mark.parametrize(("columns", "rows"), [(26, 7), (30, 10), (38, 11), (45, 18), (60, 20), (70, 30), (140, 10)])
def test_every_state_is_written_beside_its_own_optic(columns, rows, side, mode):
    """All names and states at every size; each state stands nearer to its own name than any other name does."""
    found = dict(zip(ORDER, ("clean", "haze", "burnt", "not opened", None), strict=True))
    scene = OpticsScene(tuple(OpticShown(name, state) for name, state in found.items()), side)
    raster = render(scene, columns, rows, mode, wording=IN_MM)

    def middle(text):
        (label,) = [each for each in raster.placed if each.text.endswith(text)]
        return np.array([label.column + (len(label.text) if label.anchor == "right" else 0), 2.0 * label.row])

    names = {name: middle(name) for name in found}
    for name, state in found.items():
        here = middle(WORDS[state or "to do"])
        assert min(names, key=lambda each: math.dist(names[each], here)) == name


@pytest.mark.parametrize("mode", [RasterMode.GLYPH, RasterMode.SMOOTH])
def test_no_two_states_look_alike(mode):
    """Without colour the faces differ by their shapes alone, at a usual size."""

    def face(state, now=False):
        optics = tuple(OpticShown(name, state, now) for name in ORDER[1:])
        raster = render(OpticsScene(optics), 60, 20, mode, wording=IN_MM)
        raster.placed.clear()
        cells = raster.cells()
        return [[sign if mode is RasterMode.GLYPH else (sign, int(ink)) for sign, ink in zip(*row, strict=True)]
                for row in zip(cells.lines(), cells.front, strict=True)]  # fmt: skip

    faces = [face(state) for state in STATES] + [face(None, now=True)]
    assert all(one != other for one, other in itertools.combinations(faces, 2))
