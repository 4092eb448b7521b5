"""What holds for every picture of a visit's other parts, in every mode, palette and size."""

import importlib
import itertools
import pkgutil
from collections.abc import Iterator

import pytest
from sweeps import sampled
from test_svg import ALL
from visit_scenes import VISIT

import coach.pictures
from coach.pictures.cells import DEFAULT
from coach.pictures.modes import RasterMode
from coach.pictures.palette import PALETTES
from coach.pictures.raster import Raster
from coach.pictures.svg import svg
from coach.pictures.view import render
from coach.shown import IN_MM, Wording

SIZES = [(1, 1), (10, 4), (26, 7), (40, 8), (30, 10), (38, 11), (45, 18), (60, 20), (70, 30), (140, 10), (24, 45)]


@pytest.mark.parametrize("name", sampled(VISIT, *list(VISIT)[::4]))
@pytest.mark.sweep
def test_every_mode_draws_at_every_size(name):
    """Cells are filled exactly; without colour there is none, and without Unicode nothing but ASCII."""
    for (columns, rows), mode in itertools.product(SIZES, RasterMode):
        for palette in PALETTES.values() if mode in (RasterMode.SMOOTH, RasterMode.ANSI) else [PALETTES["dark"]]:
            cells = render(VISIT[name], columns, rows, mode, palette, aspect=2.1, wording=IN_MM).cells()
            assert [len(row) for row in cells.lines()] == [columns] * rows
        if mode in (RasterMode.GLYPH, RasterMode.ASCII):
            assert (cells.front == DEFAULT).all()
        if mode is RasterMode.ASCII:
            assert "".join(cells.lines()).isascii()


@pytest.mark.parametrize("unit", ["mm", "in"])
@pytest.mark.parametrize("name", VISIT)
def test_words_stand_whole_and_apart(name, unit):
    """A column between any two on a row, none beyond the picture's edge; and no row is written twice over."""
    for columns, rows in SIZES:
        raster = Raster(columns, rows, RasterMode.GLYPH)
        VISIT[name].draw(raster, Wording(unit=unit))
        placed = [label for part in [raster, *(part for _, _, part in raster._panes)] for label in part.placed]
        assert all(label.column >= 0 and label.column + len(label.text) <= columns for label in placed)
        parts = [(0, 0, raster), *raster._panes]
        shown = sorted((row + label.row, column + label.column, label.text)
                       for column, row, part in parts for label in part.placed)  # fmt: skip
        for (row, start, text), (below, after, _) in itertools.pairwise(shown):
            assert row < below or start + len(text) < after, (columns, rows, text)


@pytest.mark.parametrize("name", VISIT)
def test_every_one_is_told_in_words(name):
    """A title and sentences, and the same figures as SVG."""
    text = svg(VISIT[name], IN_MM)
    assert "<title" in text
    assert len(text.split("<desc")[1].split("</desc>")[0]) > 20


def kinds() -> Iterator[type]:
    """Every class of the pictures that draws itself."""
    for module in pkgutil.iter_modules(coach.pictures.__path__, "coach.pictures."):
        for found in vars(importlib.import_module(module.name)).values():
            if isinstance(found, type) and hasattr(found, "__dataclass_fields__") and hasattr(found, "draw"):
                yield found


def test_every_kind_of_picture_is_looked_at() -> None:
    """One of each is drawn, and so put into words, here or beside its elder ones: a new one belongs into VISIT."""
    drawn = {type(scene) for scene in (ALL | VISIT).values()}
    missing = {kind.__name__ for kind in kinds()} - {kind.__name__ for kind in drawn}
    assert not missing, "to be drawn in tests/pictures/visit_scenes.py"
