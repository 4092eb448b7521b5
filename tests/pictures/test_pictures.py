"""The pictures: where things land, what is written, and that nothing is cut, in every mode and size."""

import itertools
import math
from dataclasses import replace

import numpy as np
import pytest
from sweeps import sampled
from textual.app import App, ComposeResult

from coach.pictures.aperture import ApertureScene
from coach.pictures.bed import BedScene, StationDot
from coach.pictures.cells import ANSI, DEFAULT, pack
from coach.pictures.marks_shown import ExpectedMark, MarkShown
from coach.pictures.modes import RasterMode
from coach.pictures.mount import MountScene, PointShown
from coach.pictures.palette import BLOCK, DARK, GLYPHS, PALETTES, Role
from coach.pictures.path import PathScene
from coach.pictures.path import _Drawing as Sketch
from coach.pictures.raster import Raster
from coach.pictures.shapes import arc_arrow, disc, polygon
from coach.pictures.view import nice_below, render
from coach.shown import IN_MM
from coach.tui.widgets.picture import Picture

APERTURE = ApertureScene(aperture=18.0, readable=11.0, tolerance=1.0)
EXPECTED = ExpectedMark(3.0, 4.0, 1.5, 2.5)
STATIONS = (
    StationDot("back-left", 20, 380, "done", 1, 1.2, -0.4),
    StationDot("back-right", 580, 380, "done", 2, 1.5, 2.0),
    StationDot("middle", 300, 200, "now", 3),
    StationDot("front-right", 580, 20, "todo", 4),
    StationDot("front-left", 20, 20, "missed", 5),
)
BED = BedScene(600, 400, "left", STATIONS, (300, 200))
PATH = PathScene(600, 400, "left", (580, 20), mirror=1, leg=1)


def mount(turns=None, screw="B"):
    """A plate with its pivot at the lower left, a screw beside it and one above it."""
    return MountScene(
        (
            PointShown("A", -20, -20, "pivot"),
            PointShown("B", 20, -20, "screw", turns if screw == "B" else None),
            PointShown("C", -20, 20, "screw", turns if screw == "C" else None),
        ),
        ("B  clockwise  1/8 turn", "mirror 1"),
    )


SCENES = {
    "aperture": replace(APERTURE, marks=(MarkShown(4.2, -3, label="mark"),), expected=EXPECTED),
    "magnified": replace(
        APERTURE,
        marks=(MarkShown(1.9, 0.4, "before", label="before"), MarkShown(-0.6, 0.4, label="after")),
        mirrored=True,
    ),
    "measuring": replace(APERTURE, marks=(MarkShown(-5, 5.5, "crosshair"),)),
    "off the tape": replace(APERTURE, expected=ExpectedMark(-14, -9, 4, 2)),
    "bed": BED,
    "bed, right": BedScene(600, 400, "right", tuple(replace(s, state="todo") for s in STATIONS), (100, 300)),
    "empty bed": BedScene(300, 1200, "left"),
    "path": PATH,
    "path, right": PathScene(600, 400, "right", (250, 200), mirror=2, leg=2),
    "path, head": PathScene(900, 300, "left", (300, 200), mirror=3),
    "mount": mount(),
    "clockwise": mount(0.125),
    "counterclockwise": mount(-0.125, "C"),
}
SIZES = [(10, 4), (1, 1), (20, 8), (24, 12), (40, 16), (50, 22), (64, 28), (140, 45), (140, 4), (10, 45)]


def lines(scene, columns, rows, mode=RasterMode.GLYPH):
    return render(scene, columns, rows, mode, wording=IN_MM).cells().lines()


def golden(text):
    """The rows of an inline picture: a bar at either end keeps the blanks."""
    return [row.strip()[1:-1] for row in text.strip().splitlines()]


@pytest.mark.parametrize("name", sampled(SCENES, "aperture", "bed", "path", "mount"))
@pytest.mark.sweep
def test_every_mode_draws_at_every_size(name):
    """From 10 × 4 to 140 × 45 (and absurdly small) every scene fills its cells exactly, in every mode and palette."""
    for (columns, rows), mode in itertools.product(SIZES, RasterMode):
        for palette in PALETTES.values():
            cells = render(SCENES[name], columns, rows, mode, palette, aspect=2.1, wording=IN_MM).cells()
            assert [len(row) for row in cells.lines()] == [columns] * rows


@pytest.mark.parametrize("name", SCENES)
def test_no_colour_modes_carry_no_colour_and_ascii_no_unicode(name):
    """Without colour the picture is made of glyphs alone; without Unicode of ASCII alone."""
    for mode in (RasterMode.GLYPH, RasterMode.ASCII):
        cells = render(SCENES[name], 50, 22, mode, wording=IN_MM).cells()
        assert (cells.front == DEFAULT).all()
        assert (cells.back == DEFAULT).all()
    assert "".join(cells.lines()).isascii()


def where(rows, sign):
    """Columns and rows, as cell centres, of all cells with that character."""
    found = [(c + 0.5, r + 0.5) for r, row in enumerate(rows) for c, char in enumerate(row) if char == sign]
    return np.array(found)


def marked_cells(scene, mode):
    """The cells that the mark fills: by its own colour, by its glyph, or by what changes when it is left out."""
    columns, rows = 80, 36
    cells = render(scene, columns, rows, mode, wording=IN_MM).cells()
    if mode is RasterMode.SMOOTH:
        red, green, blue = PALETTES["dark"].inks[Role.MARK].rgb
        line = np.isin(cells.chars, ["─", "│"]) | (cells.chars >= "\u2800") & (cells.chars <= "\u28ff")
        hit = (cells.front == red * 65536 + green * 256 + blue) & ~line  # the line that leads to it is none of it
    else:
        hit = cells.chars != render(replace(scene, marks=()), columns, rows, mode, wording=IN_MM).cells().chars
    return np.argwhere(hit)[:, ::-1] + 0.5


@pytest.mark.parametrize("mode", RasterMode)
@pytest.mark.parametrize(("u", "v"), [(6.5, 0), (-6.5, 0), (0, 6.5), (0, -6.5), (5, 4), (-5, -4), (-4, 5)])
def test_a_mark_lands_where_it_is(mode, u, v):
    """A mark u to the right and v up fills the cells around that place, to within one cell.

    Where that is, and how large a mm is, is read off the rim in the same view: 18 mm across.
    """
    scene = replace(APERTURE, view_radius=11.44)
    rim = where(lines(scene, 80, 36, RasterMode.ASCII), "#")
    centre, cells_per_mm = (rim.min(axis=0) + rim.max(axis=0)) / 2, np.ptp(rim, axis=0) / 18.0
    mark = marked_cells(replace(scene, marks=(MarkShown(u, v, diameter=3.0),)), mode).mean(axis=0)
    expected = centre + np.array([u, -v]) * cells_per_mm
    assert mark == pytest.approx(expected, abs=1.0)


@pytest.mark.parametrize(("u", "v"), [(5, 2), (-6, 3), (2.5, -7)])
def test_mirrored_readings_give_mirrored_pictures(u, v):
    """Changing the sign of u turns the mark's cells left to right about the centre column, and moves no row."""

    def marked(scene):
        rows = lines(scene, 41, 17, RasterMode.ASCII)
        return {(r, c) for r, row in enumerate(rows) for c, sign in enumerate(row) if sign == "@"}

    here = marked(replace(APERTURE, marks=(MarkShown(u, v, diameter=3.0),)))
    there = marked(replace(APERTURE, marks=(MarkShown(-u, v, diameter=3.0),)))
    assert here
    assert there == {(row, 40 - column) for row, column in here}


def test_the_sticky_side_changes_words_alone():
    """`mirrored` says so in the top row, and the axis' name changes; what was handed over is drawn where it was."""
    plain = replace(APERTURE, marks=(MarkShown(4.2, -3),))
    before, after = lines(plain, 60, 22), lines(replace(plain, mirrored=True), 60, 22)
    assert "sticky side" in after[0]
    assert [row.replace("left →", "right →").strip() for row in after[1:]] == [row.strip() for row in before[1:]]


@pytest.mark.parametrize(("columns", "rows"), [(44, 20), (60, 28), (80, 36)])
def test_a_marks_name_does_not_lie_on_the_rim(columns, rows):
    """Wherever the mark lies, its name leaves the rim whole."""
    over = []
    for angle in range(0, 360, 15):
        u, v = 7.5 * math.cos(math.radians(angle)), 7.5 * math.sin(math.radians(angle))
        named = replace(APERTURE, marks=(MarkShown(u, v, label="scorch"),), view_radius=9.5)
        bare = replace(named, marks=(MarkShown(u, v),))
        without, within = (lines(scene, columns, rows, RasterMode.ASCII) for scene in (bare, named))
        signs = [a for one, other in zip(without, within, strict=True)
                 for a, b in zip(one, other, strict=True) if a != b]  # fmt: skip
        assert signs
        over += [angle] * ("#" in signs)
    assert not over


def test_labels_are_whole_or_absent():
    """A label is moved into the picture rather than cut, dropped if too long, and never lies on another."""
    raster = Raster(12, 3, RasterMode.GLYPH)
    assert raster.label("front-left", [(11, 0, "left")])
    assert not raster.label("longer than the picture", [(0, 1, "left")])
    assert raster.label(("longer than the picture", "short"), [(0, 1, "left")])
    assert not raster.label("x", [(2, 1, "center")])
    assert not raster.label("x", [(5, 1, "left")])  # it would touch: nobody could tell the words apart
    raster.paint(disc(raster.grid, 6, 3, 20), Role.MARK)
    assert raster.cells().lines() == ["██front-left", "short███████", "████████████"]


@pytest.mark.parametrize(("u", "v"), [(x, y) for x in (-2, 0.1, 2) for y in (-2, 0.1, 2)])
def test_every_station_says_its_name_and_state(u, v):
    """At 44 × 18, whichever way the arrows point, shape and colour are never the only sign."""
    stations = tuple(replace(s, u=u, v=v) if s.state == "done" else s for s in STATIONS)
    text = "\n".join(lines(replace(BED, stations=stations), 44, 18))
    for station in stations:
        assert station.name in text
    assert [text.count(word) for word in ("done", "now", "todo", "missed")] == [2, 1, 1, 1]
    assert "mm on the tape" in text


@pytest.mark.parametrize(("columns", "rows"), [(40, 16), (50, 22), (64, 28)])
def test_the_words_that_matter_are_there(columns, rows):
    """Axis words, scale, the mirror in question, the judged leg, the screw's name and the caller's caption."""
    expected = {
        "aperture": ("up", "right", "mark", "expected", "mm"),
        "magnified": ("before", "after", "magnified 3×", "sticky side"),
        "path": ("mirror 1: this one", "mirror 2", "head", "tube", "leg 1", "leg 2", "front"),
        "path, right": ("mirror 2: this one", "mirror 1", "head", "tube", "leg 1", "leg 2", "front"),
        "bed": ("mirrors' side", "back", "front"),
        "clockwise": ("facing the screw heads", "A", "B  clockwise  1/8 turn", "mirror 1"),
    }
    for name, words in expected.items():
        for mode in (RasterMode.SMOOTH, RasterMode.ANSI, RasterMode.GLYPH):
            text = "\n".join(lines(SCENES[name], columns, rows, mode))
            assert [word for word in words if word not in text] == [], f"{name} at {columns} × {rows}"


def test_small_offsets_are_magnified_and_the_bar_says_how_much():
    """The farther out, the less magnified; the bar's own length is true to the picture's scale."""
    offsets = (0.2, 1.5, 3.0, 8.0)
    seen = [replace(APERTURE, marks=(MarkShown(u, 0.0),)).magnification() for u in offsets]
    assert seen == sorted(seen, reverse=True)
    assert seen[0] > 4
    assert seen[-1] == 1
    for columns, rows in ((40, 16), (50, 22), (140, 45)):
        picture = lines(APERTURE, columns, rows, RasterMode.ASCII)
        bar, mm = picture[-1].index("|", 1) + 1, float(picture[-1].split()[1])
        rim = np.ptp(where(picture[:-1], "#")[:, 0]) + 1
        assert bar / mm == pytest.approx(rim / 18.0, rel=0.12)
        assert mm == nice_below(mm)


@pytest.mark.parametrize("value", [0.013, 0.1, 0.99, 1.0, 3.7, 20.0, 499.0])
def test_nice_lengths(value):
    """A scale's length is 1, 2 or 5 times a power of ten, not above the room and not under half of it."""
    nice = nice_below(value)
    assert value / 2.6 < nice <= value * (1 + 1e-9)
    assert round(nice / 10 ** math.floor(math.log10(nice) + 1e-9), 6) in (1, 2, 5)


@pytest.mark.parametrize(("sweep", "side"), [(250.0, 1), (-250.0, -1)])
def test_the_arc_turns_as_it_says(sweep, side):
    """From the lower left over the top, clockwise ends on the right; counterclockwise the mirror image of it."""
    raster = Raster(40, 20)
    start = math.radians(-215 if sweep > 0 else 35)
    shape = arc_arrow(raster.grid, 20.0, 20.0, 12.0, start, math.radians(sweep), 1.0, 5.0)
    wide = [np.ptp(raster.grid.x[(shape.d < 0) & (np.sign(raster.grid.x - 20) == s)]) for s in (-1, 1)]
    assert (wide[1] > wide[0] + 1) == (side == 1)  # the head is broader than the line


def test_polygon_distance():
    """Inside a 6 × 4 box the middle is 2 from the nearest edge; 3 left of it the distance is 3 (by hand)."""
    raster = Raster(21, 10, RasterMode.ANSI)
    shape = polygon(raster.grid, [(7.5, 6.5), (13.5, 6.5), (13.5, 10.5), (7.5, 10.5)])
    assert shape.d[8, 10] == pytest.approx(-2.0)
    assert shape.d[8, 4] == pytest.approx(3.0)


def test_states_differ_without_colour():
    """Two stations that differ only in state look different before a word is read."""
    shapes = set()
    for state in ("todo", "now", "done", "missed", "nothing seen"):
        scene = BedScene(600, 400, "left", (StationDot("s", 300, 200, state),))
        rows = render(scene, 20, 7, RasterMode.GLYPH, wording=IN_MM).cells().lines()  # too small for words
        shapes.add(tuple(row[8:13] for row in rows[2:5]))
    assert len(shapes) == 5


def test_contrast_of_words():
    """Every part's colour stands out from the ground by 4.5:1 if it is used for words, 3:1 for marks.

    Ratio: WCAG 2.1, relative luminance (from memory).
    """

    def luminance(rgb):
        parts = [c / 255 / 12.92 if c <= 10 else ((c / 255 + 0.055) / 1.055) ** 2.4 for c in rgb]
        return 0.2126 * parts[0] + 0.7152 * parts[1] + 0.0722 * parts[2]

    def ratio(one, other):
        light, dark = sorted((luminance(one), luminance(other)), reverse=True)
        return (light + 0.05) / (dark + 0.05)

    fills = {Role.GROUND, Role.TAPE, Role.SURFACE}
    words = set(Role) - fills - {Role.RIM, Role.EDGE, Role.CROSS, Role.FRAME, Role.METAL}
    for palette in PALETTES.values():
        for ground in (palette.ground, palette.inks[Role.TAPE].rgb, palette.inks[Role.SURFACE].rgb):
            for role in set(Role) - fills:
                least = 4.5 if role in words else 3.0
                assert ratio(palette.inks[role].rgb, ground) >= least, (palette.name, role)
        assert set(palette.inks) == set(Role) - {Role.GROUND}
    assert set(GLYPHS) == set(Role) - {Role.GROUND, Role.TAPE, Role.SURFACE}


GOLDEN_APERTURE = """
|                  ↑ up              |
|                · │ ·               |
|            · ▄▄▄▄expected          |
|           ▄▄▀▀   │  ▒▀▀▄▄          |
|         ·▄▀      │ ▒ ▒▒ ▀▄·        |
|         █▀    ░  │ ▒░▒▒  ▀█        |
|       · █      ░░░░▒▒▒    █ ·      |
|       ──█───────░░░───────█──right→|
|       · █     ░mark░▄██   █ ·      |
|         ▀█       │   ▀▀  █▀        |
|         ·rim     │     ▄█ ·        |
|            ·▀█▄▄▄▄▄▄tape edge      |
|                · │ ·               |
|├────────┤  10 mm                   |
"""
GOLDEN_MOUNT = """
|       facing the screw heads       |
|                                    |
|                            ▄▄▄     |
|  ┌────────────┐        ───▄▄─▀█▄   |
|C │ █ █        │     ·/──  ████▄\\   |
|  │ ▀ ▀ · ·    │ ····//    ███▀ \\\\  |
|  pivot A  ·B  │     │     █▀    │  |
|  │  █ ·· ·▄ ▄ │     \\           /  |
|  │ ███    █ █ │     \\\\         //  |
|  └────────────┘ ·  ···─────────    |
|                                    |
|                                    |
|       B  clockwise  1/8 turn       |
|              mirror 1              |
"""
GOLDEN_ASCII = """
|mirrors' side     back  back-right      |
| ## +-------------------------------+   |
|#   | #####  1 back-left     ###@#  |   |
|    |##--@## done      done ##--@## |   |
|    |###|@##                ###|### |   |
|    |  ###      #########     ###   |   |
|#   |           #  ***  #           |   |
| ## |-----------#--***--#-3 middle--|   |
|    |           #       # now       |   |
|    |           #########           |   |
|    |  X X                    ooo   |   |
|    |  XXX     4 front-right  ooo   |   |
|    |       front-left  todo        |   |
|    +-------------------------------+   |
|                  front                 |
|discs |------| 10 mm on the tape        |
"""


def test_golden_aperture():
    """The tape without colour: rim solid, tape's edge dotted, the mark solid, the expected mark shaded."""
    assert lines(SCENES["aperture"], 36, 14) == golden(GOLDEN_APERTURE)


def test_golden_mount():
    """The mount without colour: pivot a triangle, screws slotted, an arc around the screw to turn."""
    assert lines(SCENES["clockwise"], 36, 14) == golden(GOLDEN_MOUNT)


def test_golden_ascii_bed():
    """The bed without Unicode."""
    assert lines(SCENES["bed"], 40, 16, RasterMode.ASCII) == golden(GOLDEN_ASCII)


class PictureApp(App[None]):
    wording = IN_MM

    def compose(self) -> ComposeResult:
        yield Picture(SCENES["aperture"], mode=RasterMode.GLYPH, aspect=2.0)


async def test_the_widget_follows_its_size_and_scene():
    """The widget shows what the raster drew, redraws for a new scene, and fits itself to a resized terminal."""
    app = PictureApp()
    async with app.run_test(size=(37, 14)) as pilot:
        picture = app.query_one(Picture)

        def shown():
            rows = (strip.text for strip in app.screen._compositor.render_strips())
            return [row[1:] for row in rows]  # what stands beside it keeps a column's distance

        assert shown() == golden(GOLDEN_APERTURE)
        picture.scene = SCENES["clockwise"]
        await pilot.pause()
        assert shown() == golden(GOLDEN_MOUNT)
        await pilot.resize_terminal(51, 22)
        await pilot.pause()
        assert shown() == lines(SCENES["clockwise"], 50, 22)
        picture.scene = None
        await pilot.pause()
        assert "".join(shown()).strip() == ""


async def test_no_color_is_obeyed(monkeypatch):
    """With NO_COLOR set (no-color.org), an unset mode becomes the one of glyphs."""
    monkeypatch.setenv("NO_COLOR", "1")
    app = PictureApp(ansi_color=True)
    async with app.run_test(size=(37, 14)):
        picture = app.query_one(Picture)
        picture.mode = None
        assert [row.text[1:] for row in app.screen._compositor.render_strips()] == golden(GOLDEN_APERTURE)


def shows(cells, mode, role):
    """The cells in which the role's colour, or without colours its glyph, can be seen."""
    if mode in (RasterMode.GLYPH, RasterMode.ASCII):
        glyph = GLYPHS[role][mode is RasterMode.ASCII]
        return np.isin(cells.chars, list("▀▄█" if glyph == BLOCK else glyph))
    ink = DARK.inks[role]
    code = pack(np.array(ink.rgb, dtype=np.float64)) if mode is RasterMode.SMOOTH else ANSI + ink.ansi
    return (cells.front == code) | (cells.back == code)


@pytest.mark.parametrize("mode", RasterMode)
@pytest.mark.parametrize("kind", ["blob", "crosshair"])
def test_a_small_tolerance_is_seen_around_a_mark_in_the_middle(mode, kind):
    """Beside the fields of the smallest screen the ring is about a pixel: rays point to it, and cover no mark."""
    scene = replace(APERTURE, view_radius=9.5)
    role = Role.MARK if kind == "blob" else Role.TEXT
    marked = render(replace(scene, marks=(MarkShown(0, 0, kind),)), 37, 11, mode, wording=IN_MM).cells()
    assert np.count_nonzero(shows(marked, mode, Role.TOLERANCE)) >= 4
    wide = render(replace(scene, marks=(MarkShown(0, 0, kind),), tolerance=8.0), 37, 11, mode, wording=IN_MM).cells()
    middle = (slice(4, 7), slice(16, 21))
    assert (
        np.count_nonzero(shows(marked, mode, role)[middle]) == np.count_nonzero(shows(wide, mode, role)[middle]) > 0
    )


@pytest.mark.parametrize("side", ["left", "right"])
def test_each_name_on_the_path_stands_nearest_to_its_own_part(side):
    """In every room that a screen of 80x24 or 100x30 leaves: from the middle of the words to the middle of its part
    it is nearer than to any other part's; and no room from 9 rows on has fewer than three names."""
    for columns, rows, depth in itertools.product((30, 37, 46), (9, 10, 13, 17), (200, 400)):
        scene = PathScene(600, 400, side, (300, depth))
        raster = render(scene, columns, rows, RasterMode.ASCII, wording=IN_MM)
        boxes = Sketch(scene, raster).things().items()
        middles = {name: ((x0 + x1) / 2, (y0 + y1) / 2) for name, (x0, x1, y0, y1) in boxes}
        named = {label.text: label for label in raster.placed if label.text in middles}
        assert len(named) >= 3, (columns, rows)
        for name, label in named.items():
            if name == "tube":
                continue  # it stands in the tube
            at = (label.column + len(name) / 2, (label.row + 0.5) * raster.aspect)
            away = {other: math.dist(at, middle) for other, middle in middles.items()}
            assert min(away, key=away.__getitem__) == name, (columns, rows, away)
