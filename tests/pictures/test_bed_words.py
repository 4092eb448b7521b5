"""Words on the bed: whose each is."""

import numpy as np
import pytest

from coach.pictures.bed import BedScene, StationDot, _Drawing
from coach.pictures.modes import RasterMode
from coach.pictures.raster import Raster
from coach.pictures.view import snap
from coach.shown import IN_MM


@pytest.mark.parametrize(("columns", "rows"), [(26, 9), (30, 12), (38, 11), (38, 13), (44, 14), (64, 28), (100, 40)])
@pytest.mark.parametrize("bed", [(600.0, 400.0), (500.0, 300.0), (300.0, 600.0)])
@pytest.mark.parametrize("numbered", [False, True])
def test_a_word_stands_nearest_to_its_own_station(columns, rows, bed, numbered):
    """Whatever is marked already: each name, and the state below or behind it, lies by its own disc or nowhere.

    Where a disc is drawn is taken from the scene's own place; the nearest is found by the words' cells.
    """
    wide, deep = bed
    places = {
        "back-left": (20, deep - 20), "back-right": (wide - 20, deep - 20), "middle": (wide / 2, deep / 2),
        "front-right": (wide - 20, 20), "front-left": (20, 20),
    }  # fmt: skip
    order = tuple(places)
    words = ("back", "front", "mirrors' side", "mirrors", "head")
    names = {f"{n} {name}" if numbered else name: name for n, name in enumerate(order, 1)}
    for count in range(len(order) + 1):
        stations = tuple(
            StationDot(name, *places[name], "done", n + 1 if numbered else None, 1.2, -0.6)
            if n < count
            else StationDot(name, *places[name], "now" if n == count else "todo", n + 1 if numbered else None)
            for n, name in enumerate(order)
        )
        head = places[order[count]] if count < len(order) else None
        scene = BedScene(wide, deep, "left", stations, head)
        raster = Raster(columns, rows, RasterMode.GLYPH)
        bed_drawing = _Drawing(scene, raster, IN_MM)
        bed_drawing.run()
        at = {s.name: (*snap(raster, *bed_drawing.view.at(s.x, s.y)), bed_drawing.size(s)) for s in stations}
        named = None
        for label in raster.placed:
            first = label.text.split(" · ")[0]
            named = names.get(first, first) if first in (*names, *order) else named
            if named is None or label.row == rows - 1 or label.text in words:
                continue
            x0, x1, y0 = label.column, label.column + len(label.text), label.row * raster.aspect
            gap = {
                name: np.hypot(max(x0 - x, x - x1, 0), max(y0 - y, y - y0 - raster.aspect, 0)) - size
                for name, (x, y, size) in at.items()
            }
            if label.text in ("1", "2", "3", "4", "5"):
                named = order[int(label.text) - 1]
            assert min(gap, key=gap.get) == named, (label.text, named, count)
