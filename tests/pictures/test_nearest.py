"""The sign and the two colours of each cell, and lines as thin as a pen's, against a finely sampled picture."""

import itertools
import math
import unicodedata
from types import SimpleNamespace

import numpy as np
import pytest
from sweeps import sampled
from test_pictures import SCENES

from coach.pictures import hairs, nearest
from coach.pictures.cells import pack
from coach.pictures.grid import Grid
from coach.pictures.nearest import BLOCKS, SEXTANTS, Signs, cells_of
from coach.pictures.palette import Role
from coach.pictures.raster import Raster
from coach.pictures.shapes import line
from coach.pictures.view import render
from coach.shown import IN_MM
from coach.tui.widgets.terminal import Drawing, pick_signs

BOTH = pytest.mark.parametrize("signs", [BLOCKS, SEXTANTS], ids=["blocks", "sextants"])


@BOTH
def test_cells_come_as_near_as_any_sign_could(signs: Signs) -> None:
    """Of all signs with any two colours, each cell shows the one that leaves the least squared error.

    Held against trying every sign with the means of what it covers and of what it leaves free.
    """
    down, size = signs.down, nearest.ACROSS * signs.down
    samples = np.random.default_rng(7).uniform(0, 255, (4 * down, 6 * nearest.ACROSS, 3)).astype(np.float32)
    chars, front, back = cells_of(samples, 6, 4, signs)
    for row, column in itertools.product(range(4), range(6)):
        cell = samples[down * row : down * (row + 1), 2 * column : 2 * column + 2].reshape(size, 3)
        errors = {}
        for sign, fills in zip(signs.drawn, signs.fills, strict=True):
            under = fills > 0
            shown = np.where(under[:, None], cell[under].mean(axis=0), cell[~under].mean(axis=0))
            errors[sign] = (float(((cell - shown) ** 2).sum()), shown, under)
        best = min(errors, key=lambda sign: errors[sign][0])
        assert chars[row, column] == best
        _, shown, under = errors[best]
        for code, mean in ((front, shown[under][0]), (back, shown[~under][0])):
            there = [int(code[row, column]) >> shift & 255 for shift in (16, 8, 0)]
            assert there == pytest.approx(mean, abs=0.51)


def test_sixths_are_what_their_names_say() -> None:
    """Unicode names a sextant after the parts that it fills, 1 to 6 by rows: each fills these and no other."""
    sixths = {sign: rows for sign, rows in SEXTANTS.drawn.items() if ord(sign) >= 0x1FB00}
    assert len(sixths) == 30  # of 60: the others are these with their colours changed over
    for sign, rows in sixths.items():
        filled = [str(number) for number, bit in enumerate(rows.replace(" ", ""), start=1) if bit == "1"]
        assert unicodedata.name(sign) == f"BLOCK SEXTANT-{''.join(filled)}"


def finely(name: str, monkeypatch: pytest.MonkeyPatch, columns: int, rows: int) -> np.ndarray:
    """That scene with 8 × 24 samples in each cell."""
    with monkeypatch.context() as patch:
        patch.setattr(nearest, "ACROSS", 8)
        return render(SCENES[name], columns, rows, wording=IN_MM, signs=Signs(24, {})).samples()


def by_cell(samples: np.ndarray, columns: int, rows: int) -> np.ndarray:
    """Cells × samples × 3."""
    down, across = samples.shape[0] // rows, samples.shape[1] // columns
    return samples.reshape(rows, down, columns, across, 3).swapaxes(1, 2).reshape(rows * columns, -1, 3)


def as_shown(samples: np.ndarray, columns: int, rows: int, signs: Signs) -> np.ndarray:
    """What the chosen signs put onto 8 × 24 samples of each cell."""
    chars, *codes = (part.ravel() for part in cells_of(samples, columns, rows, signs))
    front, back = (np.stack([code >> shift & 255 for shift in (16, 8, 0)], axis=-1)[:, None, :] for code in codes)
    known = {" ": np.ones((24, 8))}
    for sign, fills in zip(signs.drawn, signs.fills, strict=True):
        known[sign] = np.kron(fills.reshape(signs.down, 2), np.ones((24 // signs.down, 4)))
    under = np.stack([known[sign].ravel() for sign in chars])[..., None]
    return under * front + (1 - under) * back


def halved(cells: np.ndarray) -> np.ndarray:
    """The best that half blocks could do: the means of both halves."""
    half = cells.shape[1] // 2
    means = [part.mean(axis=1, keepdims=True).repeat(half, axis=1) for part in np.split(cells, [half], axis=1)]
    return np.concatenate(means, axis=1)


@BOTH
@pytest.mark.parametrize("name", sampled(SCENES, *list(SCENES)[:3]))
@pytest.mark.sweep
def test_no_cell_is_worse_than_with_half_blocks(name: str, signs: Signs) -> None:
    """At every size, against the samples that it is made of: rounded to whole colours, no cell errs more."""
    for columns, rows in ((20, 8), (44, 20), (80, 36)):
        samples = render(SCENES[name], columns, rows, wording=IN_MM, signs=signs).samples()
        fine = np.kron(samples, np.ones((24 // signs.down, 4, 1)))
        cells = by_cell(fine, columns, rows)
        chosen = ((as_shown(samples, columns, rows, signs) - cells) ** 2).mean(axis=1).sum(axis=1)
        assert (chosen <= ((halved(cells) - cells) ** 2).mean(axis=1).sum(axis=1) + 3 * nearest.ALIKE**2).all()


@pytest.mark.parametrize(("columns", "rows"), sampled([(44, 20), (80, 36)], (44, 20)))
def test_pictures_come_nearer_to_finely_sampled_ones(
    columns: int, rows: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """All pictures together: quarters err less than half blocks could that knew the fine one, sixths less."""
    errors = {"halves": 0.0, "blocks": 0.0, "sextants": 0.0}
    for name, scene in SCENES.items():
        fine = by_cell(finely(name, monkeypatch, columns, rows), columns, rows)
        errors["halves"] += float(((halved(fine) - fine) ** 2).sum())
        for word, signs in (("blocks", BLOCKS), ("sextants", SEXTANTS)):
            samples = render(scene, columns, rows, wording=IN_MM, signs=signs).samples()
            errors[word] += float(((as_shown(samples, columns, rows, signs) - fine) ** 2).sum())
    assert errors["sextants"] < errors["blocks"] < errors["halves"]


# -- thin lines -----------------------------------------------------------------------------------


def dots_of(sign: str) -> list[bool]:
    """Which of the eight parts of its cell a sign of braille has dots in, by rows; Unicode names them by number."""
    numbers = unicodedata.name(sign).rpartition("DOTS-")[2]
    return [number in numbers for number in "14253678"]


@pytest.mark.parametrize("angle", range(7, 180, 24))
def test_dots_follow_a_thin_line(angle: int) -> None:
    """Every dot lies within a quarter of a column of the line, and of its whole length none is left without."""
    raster = Raster(24, 12)
    dx, dy = 10 * math.cos(math.radians(angle)), 10 * math.sin(math.radians(angle))
    raster.hairline(12 - dx, 12 - dy, 12 + dx, 12 + dy, Role.MARK)
    chars = raster.cells().chars
    places = [
        (column + (0.25, 0.75)[part % 2], 2 * row + 0.25 + 0.5 * (part // 2))
        for (row, column), sign in np.ndenumerate(chars)
        if sign not in " ─│"
        for part, dot in enumerate(dots_of(sign))
        if dot
    ]
    assert len(places) > 20
    off = [(x - 12) * dy / 10 - (y - 12) * dx / 10 for x, y in places]
    assert max(map(abs, off)) <= 0.25 + 1e-6
    along = sorted((x - 12) * dx / 10 + (y - 12) * dy / 10 for x, y in places)
    strokes = np.isin(chars, ["─", "│"]).any()
    assert strokes or max(b - a for a, b in itertools.pairwise(along)) < 0.8
    assert strokes or (along[0] < -9 and along[-1] > 9)


def test_no_other_pattern_errs_less() -> None:
    """For lines anywhere through a cell: of all 256 patterns and both strokes the one shown has the ink nearest."""
    rng, parts = np.random.default_rng(3), Grid.of(1, 1, 2.0, hairs.ACROSS, hairs.DOWN)
    strokes = {
        "─": hairs.ink(line(parts, -9, 1.0, 9, 1.0, 0.0).d),
        "│": hairs.ink(line(parts, 0.5, -9, 0.5, 9, 0.0).d),
    }
    patterns = {chr(0x2800 + bits): None for bits in range(1, 256)}
    inks = {sign: hairs.FULL * np.reshape(dots_of(sign), (4, 2)) for sign in patterns} | strokes
    for _ in range(60):
        x0, y0, x1, y1 = rng.uniform(-2, 3, 4)
        distance = line(parts, x0, y0, x1, y1, 0.0).d
        hit, chars = hairs.strokes_or_dots(distance, 1, 1, 2.0)
        errors = {sign: ((hairs.ink(distance) - ink) ** 2).sum() for sign, ink in inks.items()}
        blank = (hairs.ink(distance) ** 2).sum()
        assert min(errors.values()) >= (errors[str(chars[0, 0])] if hit[0, 0] else blank) - 2e-6


@pytest.mark.parametrize(("x0", "y0", "x1", "y1", "sign"), [(0, 5, 12, 5, "─"), (4.5, 0, 4.5, 12, "│")])
def test_a_line_through_the_middle_of_cells_is_a_stroke(x0, y0, x1, y1, sign) -> None:
    """Whole rows and columns of strokes, and nothing else."""
    raster = Raster(12, 6)
    raster.hairline(x0, y0, x1, y1, Role.CROSS)
    cells = raster.cells()
    assert set(cells.chars[cells.chars != " "]) == {sign}
    assert (cells.chars == sign).sum() == (12 if sign == "─" else 6)
    assert cells.front[cells.chars == sign][0] == pack(np.array(raster.palette.inks[Role.CROSS].rgb, dtype=float))


# -- what a terminal draws ------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("environ", "signs"),
    [
        ({"TERM": "foot"}, SEXTANTS),
        ({"TERM": "xterm-256color", "TERM_PROGRAM": "WezTerm"}, SEXTANTS),
        ({"TERM": "xterm-256color"}, BLOCKS),
        ({"TERM": "tmux-256color", "TERM_PROGRAM": "WezTerm"}, BLOCKS),
        ({}, BLOCKS),
    ],
)
def test_sixths_only_where_they_are_known_to_be_drawn(environ: dict[str, str], signs: Signs) -> None:
    """By the terminal's own name; never where the person chose the signs, nor where nothing is shown."""
    app = SimpleNamespace(is_headless=False, drawing=Drawing())
    assert pick_signs(app, environ) is signs
    assert pick_signs(SimpleNamespace(is_headless=False, drawing=Drawing(plain=False)), environ) is BLOCKS
    assert pick_signs(SimpleNamespace(is_headless=True, drawing=Drawing()), environ) is BLOCKS
