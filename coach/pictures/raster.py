"""A raster of character cells: shapes painted in order on samples finer than cells, words on top of all.

Four modes, chosen by what the terminal can do: in many colours the nearest of all block signs that it draws, hard
half blocks in the sixteen named colours, glyphs without colour, and glyphs without Unicode.  The raster
knows nothing of Textual; `coach.tui.widgets.strips` turns its cells into lines.
"""

import numpy as np
from numpy.typing import NDArray

from coach.pictures import hairs, nearest, shapes
from coach.pictures.cells import ANSI, BOLD, DEFAULT, Cells, Chars, Codes, pack
from coach.pictures.grid import Field, Grid
from coach.pictures.labels import Label, Labels
from coach.pictures.modes import RasterMode
from coach.pictures.palette import BLOCK, DARK, GLYPHS, QUIET_FILLS, RUN, Palette, Role


class Raster(Labels):
    """`columns` × `rows` cells; lengths in column widths, y downwards; `aspect` = cell height / width."""

    exact = False
    """Whether there are no pixels, so that everything lies where it is."""

    def __init__(
        self,
        columns: int,
        rows: int,
        mode: RasterMode = RasterMode.SMOOTH,
        palette: Palette = DARK,
        *,
        aspect: float = 2.0,
        ground: tuple[int, int, int] | None = None,
        signs: nearest.Signs = nearest.BLOCKS,
    ) -> None:
        super().__init__(max(columns, 1), max(rows, 1), aspect, plain=mode is RasterMode.ASCII)
        self.mode, self.palette, self.signs = mode, palette, signs
        fine = (nearest.ACROSS, signs.down) if mode is RasterMode.SMOOTH else (1, 2)
        self.grid = Grid.of(self.columns, self.rows, aspect, *fine)
        self.clip: Field | None = None
        """Where set, shapes are painted only inside of it."""
        self.crisp = False
        """In many colours: hard pixels all the same.  Where few pixels carry a shape, half tones only blur it."""
        self._ground = np.array(ground or palette.ground, dtype=np.float32)
        shape = self.grid.x.shape
        self._rgb = np.tile(self._ground, (*shape, 1))
        self._tint = self._rgb.copy()  # the quiet fills alone: the ground that labels stand on
        self._roles = np.zeros(shape, dtype=np.int32)
        self._glyphs = np.full((self.rows, self.columns), " ")
        self._hairs: list[tuple[NDArray[np.bool_], Chars, Role]] = []
        self._panes: list[tuple[int, int, Raster]] = []

    @property
    def width(self) -> float:
        """In column widths."""
        return float(self.columns)

    @property
    def height(self) -> float:
        """In column widths too: rows times aspect."""
        return self.rows * self.aspect

    @property
    def hair(self) -> float:
        """The thinnest line that is sure to be seen: a whole pixel where pixels are hard."""
        return 0.8 if self.mode is RasterMode.SMOOTH and not self.crisp else max(1.0, self.aspect / 2) + 0.02

    def pane(self, column: int, row: int, columns: int, rows: int) -> "Raster":
        """A part of this raster, to be drawn on as if it were one of its own."""
        part = Raster(columns, rows, self.mode, self.palette, aspect=self.aspect, signs=self.signs)
        down, across = self.grid.down, self.grid.across
        samples = (slice(down * row, down * (row + rows)), slice(across * column, across * (column + columns)))
        cells = (slice(row, row + rows), slice(column, column + columns))
        part._rgb, part._tint, part._roles = self._rgb[samples], self._tint[samples], self._roles[samples]
        part._glyphs, part._taken = self._glyphs[cells], self._taken[cells]
        self._panes.append((column, row, part))
        return part

    # painting

    def paint(self, field: Field, role: Role, opacity: float = 1.0) -> None:
        """Lay a shape over what is there.  Painting Role.GROUND erases."""
        field = self._clipped(field)
        if self.mode is RasterMode.SMOOTH:
            self._blend(field, role, opacity)
        elif role not in QUIET_FILLS:
            hit = field.d <= 0
            if self.mode is RasterMode.ANSI:
                self._roles[hit] = 0 if role is Role.GROUND else role
            else:
                self._glyph(field, hit, role)

    def hairline(self, x0: float, y0: float, x1: float, y1: float, role: Role) -> None:
        """Lay a straight line, thin as a pen's, under everything: it shows only in cells that no shape touches."""
        if self.mode is RasterMode.SMOOTH:
            hit, strokes = self._pen(x0, y0, x1, y1)
        else:
            field = self._clipped(shapes.line(self.grid, x0, y0, x1, y1, max(1.02, self.hair)))
            hit, strokes = self.touched(field), self._runs(field)
        self._hairs.append((hit, strokes, role))

    def _pen(self, x0: float, y0: float, x1: float, y1: float) -> tuple[NDArray[np.bool_], Chars]:
        """In many colours: the strokes and dots that come nearest to a line without any width."""
        parts = Grid.of(self.columns, self.rows, self.aspect, hairs.ACROSS, hairs.DOWN)
        field = shapes.line(parts, x0, y0, x1, y1, 0.0)
        top, left, bottom, right = field.grid.ends
        top, bottom = top // hairs.DOWN, -(-bottom // hairs.DOWN)
        left, right = left // hairs.ACROSS, -(-right // hairs.ACROSS)
        ends = (top * hairs.DOWN, left * hairs.ACROSS, bottom * hairs.DOWN, right * hairs.ACROSS)
        hit = np.zeros((self.rows, self.columns), dtype=bool)
        strokes = np.full(hit.shape, " ")
        cells = (slice(top, bottom), slice(left, right))
        hit[cells], strokes[cells] = hairs.strokes_or_dots(
            field.widened(*ends).part, right - left, bottom - top, self.aspect
        )
        return hit if self.clip is None else hit & self.touched(self.clip), strokes

    def _clipped(self, field: Field) -> Field:
        return field if self.clip is None else field & self.clip

    def box(self, x0: float, y0: float, x1: float, y1: float) -> None:
        """In the glyph modes: a frame of box-drawing characters through the cells of these corners."""
        plain = self.mode is RasterMode.ASCII
        flat, steep, corners = ("-", "|", "++++") if plain else ("─", "│", "┌┐└┘")
        left, right = (min(max(int(x), 0), self.columns - 1) for x in (x0, x1))
        top, bottom = (min(max(int(y // self.aspect), 0), self.rows - 1) for y in (y0, y1))
        for row in (top, bottom):
            self._glyphs[row, left : right + 1] = flat
        for column in (left, right):
            self._glyphs[top : bottom + 1, column] = steep
        for sign, (row, column) in zip(
            corners, ((top, left), (top, right), (bottom, left), (bottom, right)), strict=True
        ):
            self._glyphs[row, column] = sign

    def touched(self, field: Field) -> NDArray[np.bool_]:
        """The cells in which there is anything of a shape."""
        return self._in_any(field.d <= 0)

    def _in_any(self, samples: NDArray[np.bool_]) -> NDArray[np.bool_]:
        """The cells of which any sample is told."""
        down, across = self.grid.down, self.grid.across
        return np.asarray(
            np.logical_or.reduce([samples[r::down, c::across] for r in range(down) for c in range(across)])
        )

    def _blend(self, field: Field, role: Role, opacity: float) -> None:
        part = field.part
        cover = (part <= 0).astype(np.float32) if self.crisp else np.clip(0.5 - part * self.grid.across, 0.0, 1.0)
        share = np.asarray(cover * np.float32(opacity), dtype=np.float32)[..., None]
        there = self._rgb[field.grid.place]
        if role is Role.GROUND:
            there += share * (self._tint[field.grid.place] - there)
            return
        colour = np.array(self.palette.inks[role].rgb, dtype=np.float32)
        there += share * (colour - there)
        if role in QUIET_FILLS:
            tint = self._tint[field.grid.place]
            tint += share * (colour - tint)

    def _glyph(self, field: Field, hit: NDArray[np.bool_], role: Role) -> None:
        cell = hit[0::2] | hit[1::2]
        if role is Role.GROUND:
            self._roles[hit] = 0
            both = hit[0::2] & hit[1::2]
            self._glyphs[both | (cell & (self.mode is RasterMode.ASCII))] = " "
            return
        glyph = GLYPHS[role][self.mode is RasterMode.ASCII]
        if glyph == BLOCK:
            self._glyphs[cell] = " "
            self._roles[hit] = role
        else:
            self._roles[0::2][cell] = 0
            self._roles[1::2][cell] = 0
            self._glyphs[cell] = self._runs(field)[cell] if glyph == RUN else glyph

    def _runs(self, field: Field) -> Chars:
        """Per cell the stroke that follows the run's direction there."""
        angles, distance = field.angles(), field.d
        if angles is None:
            return np.full((self.rows, self.columns), "+")
        upper, lower = slice(0, None, self.grid.down), slice(self.grid.down - 1, None, self.grid.down)
        every = slice(0, None, self.grid.across)
        nearer = distance[upper, every] <= distance[lower, every]
        angle = np.where(nearer, angles[upper, every], angles[lower, every])
        across, down = np.cos(angle), np.sin(angle) / self.aspect
        slope = np.arctan2(np.abs(down), np.abs(across))
        flat, steep = ("-", "|") if self.mode is RasterMode.ASCII else ("─", "│")
        leaning = np.where(across * down > 0, "\\", "/")
        return np.where(slope < np.pi / 8, flat, np.where(slope > 3 * np.pi / 8, steep, leaning))

    # the finished picture

    def cells(self) -> Cells:
        """All cells with their characters and colours."""
        if self.mode is RasterMode.SMOOTH:
            cells = self._smooth()
        elif self.mode is RasterMode.ANSI:
            cells = self._hard()
        else:
            cells = self._plain()
        untouched = self._untouched() if self._hairs else None
        for hit, strokes, role in self._hairs:
            free = hit & (cells.chars == " ") & untouched
            cells.chars[free] = strokes[free]
            self._colour(cells, free, role)
        for column, row, part in self._panes:
            cells.put(part.cells(), column, row)
        for label in self.placed:
            self._write(cells, label)
        return cells

    def samples(self) -> NDArray[np.float32]:
        """In many colours: the colour at every point of the grid, without words."""
        return self._rgb

    def _untouched(self) -> NDArray[np.bool_]:
        """The cells on which nothing but quiet fills was painted."""
        if self.mode is not RasterMode.SMOOTH:
            return np.asarray((self._roles[0::2] == 0) & (self._roles[1::2] == 0))
        red, green, blue = np.moveaxis(np.abs(self._rgb - self._tint), 2, 0)
        return ~self._in_any((red >= 1) | (green >= 1) | (blue >= 1))

    def _colour(self, cells: Cells, where: NDArray[np.bool_], role: Role) -> None:
        """The colours for characters of that role on whatever ground is there."""
        if self.mode is RasterMode.SMOOTH:
            cells.front[where] = pack(np.array(self.palette.inks[role].rgb, dtype=np.float64))
            tint = self._tint.reshape(self.rows, self.grid.down, self.columns, self.grid.across, 3)
            cells.back[where] = pack(tint.transpose(0, 2, 1, 3, 4)[where].mean(axis=(1, 2)))
        elif self.mode is RasterMode.ANSI:
            own = role in (Role.TEXT, Role.QUIET)  # the terminal's own colour is sure to be readable
            cells.front[where] = DEFAULT if own else ANSI + self.palette.inks[role].ansi
            cells.back[where] = DEFAULT

    def _write(self, cells: Cells, label: Label) -> None:
        where = np.zeros((self.rows, self.columns), dtype=bool)
        where[label.row, label.column : label.column + len(label.text)] = True
        cells.chars[where] = list(label.text)
        cells.bits[where] = BOLD if label.bold else 0
        self._colour(cells, where, label.role)

    def _empty(self) -> tuple[Codes, Codes, Codes]:
        shape = (self.rows, self.columns)
        default = np.full(shape, DEFAULT, dtype=np.int32)
        return default, default.copy(), np.zeros(shape, dtype=np.int32)

    def _smooth(self) -> Cells:
        chars, front, back = nearest.cells_of(self._rgb, self.columns, self.rows, self.signs)
        return Cells(chars, front, back, self._empty()[2])

    def _hard(self) -> Cells:
        codes = np.full(max(Role) + 1, DEFAULT, dtype=np.int32)
        for role, ink in self.palette.inks.items():
            codes[role] = ANSI + ink.ansi
        upper, lower = codes[self._roles[0::2]], codes[self._roles[1::2]]
        # the terminal's own background cannot be a front colour: then the lower pixel is drawn instead
        chars = np.where(upper == lower, np.where(upper == DEFAULT, " ", "█"), "▀")
        only_lower = (upper == DEFAULT) & (lower != DEFAULT)
        chars = np.where(only_lower, "▄", chars)
        front, back = np.where(only_lower, lower, upper), np.where(only_lower, upper, lower)
        return Cells(chars, front.astype(np.int32), back.astype(np.int32), self._empty()[2])

    def _plain(self) -> Cells:
        front, back, bits = self._empty()
        upper, lower = self._roles[0::2], self._roles[1::2]
        if self.mode is RasterMode.ASCII:
            signs = np.full(max(Role) + 1, " ")
            for role, (_, sign) in GLYPHS.items():
                signs[role] = sign
            block = signs[np.maximum(upper, lower)]
        else:
            block = np.array([" ", "▄", "▀", "█"])[2 * (upper > 0) + (lower > 0)]
        return Cells(np.where(self._glyphs == " ", block, self._glyphs), front, back, bits)
