"""Before and after on one picture: what a session gives it, what it shows in every mode, and where it stands."""

import itertools
from dataclasses import replace
from pathlib import Path

import pytest
from app_driving import running, session_at
from machines import make_machine

from coach import Session
from coach.pictures.compare import CompareScene
from coach.pictures.compared import Compared
from coach.pictures.modes import RasterMode
from coach.pictures.palette import PALETTES
from coach.pictures.view import render
from coach.scenes.before_after import before_after
from coach.session.document import Practice
from coach.session.events import Mark, Turn
from coach.shown import IN_MM

STATIONS = (
    Compared("back-left", (1.2, -2.4), (0.4, 0.2)),
    Compared("back-right", (5.5, 3.0), (-0.5, 0.6)),
    Compared("middle", (3.4, 1.9), None, (0.2, 0.1), (0.6, 0.7)),
    Compared("front-right", (6.1, -5.0), (0.7, -0.3)),
    Compared("front-left", None, None, (-0.4, 0.9), (1.5, 1.9)),
)
SCENE = CompareScene(18.0, 1.0, STATIONS)
NEAR = replace(SCENE, stations=(Compared("near", (1.8, -1.2), (-0.4, 0.3)),))
ALONE = CompareScene(18.0, 1.0, tuple(Compared(s.name, after=s.before) for s in STATIONS), adjusted=False)
SCENES = {"whole": SCENE, "near": NEAR, "alone": ALONE, "empty": CompareScene(18.0, 1.0, ())}
SIZES = [(1, 1), (10, 4), (24, 12), (32, 20), (42, 26), (62, 41), (140, 4), (10, 45)]

GOLDEN = """
|○ before: worst 7.9 mm (4 of 5) |
|█ after: worst 0.8 mm (3 of 5)  |
|▒ expected: worst 1.0 ±1.9 mm   |
|            ▄▄▄▄▄▄▄▄▄           |
|        ▄▄█▀▀▀  │  ▀▀▀█▄▄       |
|      ▄▀▀       │       ▀▀▄     |
|    ▄▀          │          ▀▄   |
|   █▀           │           ▀█  |
|  █▀           ▒▒        ○   ▀█ |
| ██          ▒▒ ▒▒▒   ○       ██|
| █           ▒ █░░▒            █|
| █───────────▒░░▒█░────────────█|
| █▄            ▒░             ▄█|
| ▀█             │ ○           █▀|
|  ▀█        tolerance        █▀ |
|   ▀█           │         ○ █▀  |
|    rim         │         ▄▀    |
|       ▀█▄▄     │     ▄▄█▀      |
|          ▀▀██▄▄▄▄▄██▀▀         |
|├──────┤  5 mm                  |
"""
GOLDEN_ASCII = """
|o before: worst 7.9 mm (4 of 5)         |
|@ after: worst 0.8 mm (3 of 5)          |
|% expected: worst 1.0 mm, doubt 1.9 mm  |
|               ###########              |
|           #####    |    #####          |
|         ###        |        ###        |
|       ###          |          ###      |
|      ##            |            ##     |
|     ##         tolerance 3       ##    |
|    ##           %%%%%        o  2 ##   |
|    #            % :::%   o         #   |
|    #------------%:@|@:-------------#   |
|    #            %:::@:             #   |
|    #              1| o             #   |
|    ##              |              ##   |
|     ##             |             ##    |
|      ###           |          o##4     |
|        rim         |         ###       |
|          ####      |      ####         |
|             ###############            |
|1 back-left    2.7 > 0.4 mm             |
|2 back-right   6.3 > 0.8 mm             |
|3 middle       3.9 > 0.2 mm expected    |
|4 front-right  7.9 > 0.8 mm             |
|5 front-left     - > 1.0 mm expected    |
||-------| 5 mm                          |
"""


def lines(scene: CompareScene, columns: int, rows: int, mode: RasterMode = RasterMode.GLYPH) -> list[str]:
    """The characters of the picture, row by row."""
    return render(scene, columns, rows, mode, wording=IN_MM).cells().lines()


def golden(text: str) -> list[str]:
    """The rows of an inline picture: a bar at either end keeps the blanks."""
    return [row.strip()[1:-1] for row in text.strip().splitlines()]


def test_golden() -> None:
    """Beside the list at 80 by 24, without colour: hollow before, solid after, an outline for what is expected."""
    assert lines(SCENE, 32, 20) == golden(GOLDEN)


def test_golden_ascii() -> None:
    """In a taller place without Unicode: the stations' own figures beneath, their numbers beside the marks."""
    assert lines(SCENE, 40, 26, RasterMode.ASCII) == golden(GOLDEN_ASCII)


@pytest.mark.parametrize("name", SCENES)
def test_every_mode_draws_at_every_size(name: str) -> None:
    """Every cell is filled exactly, in every mode and palette, also absurdly small; ASCII is ASCII."""
    for (columns, rows), mode, palette in itertools.product(SIZES, RasterMode, PALETTES.values()):
        drawn = render(SCENES[name], columns, rows, mode, palette, aspect=2.1, wording=IN_MM).cells().lines()
        assert [len(row) for row in drawn] == [columns] * rows
        assert mode is not RasterMode.ASCII or "".join(drawn).isascii()


@pytest.mark.parametrize("mode", RasterMode)
def test_words_figures_and_scale_stand_in_every_mode(mode: RasterMode) -> None:
    """Worst before 7.9 mm = |(6.1, −5.0)|, worst after 0.8 mm = |(0.7, −0.3)| or |(−0.5, 0.6)| (by hand)."""
    text = "\n".join(lines(SCENE, 32, 20, mode))
    for words in (
        "before: worst 7.9 mm",
        "after: worst 0.8 mm",
        "expected: worst 1.0 ",
        "tolerance",
        "rim",
        "5 mm",
    ):
        assert words in text
    alone = "\n".join(lines(ALONE, 32, 20, mode))
    assert "marks: worst 7.9 mm" in alone
    assert "nothing adjusted yet" in alone
    assert "before" not in alone


@pytest.mark.parametrize("mode", RasterMode)
def test_before_and_after_differ_by_shape(mode: RasterMode) -> None:
    """One and the same place, once before and once after: other characters or other holes, not only other colours."""
    scenes = (Compared("s", before=(4.0, 3.0)), Compared("s", after=(4.0, 3.0)))
    marked = []
    for station in scenes:
        scene = CompareScene(18.0, 1.0, (station,))
        with_mark, without = (
            render(s, 62, 41, mode, wording=IN_MM).cells() for s in (scene, replace(scene, stations=()))
        )
        differs = (with_mark.chars != without.chars) | (with_mark.front != without.front)
        marked.append((differs | (with_mark.back != without.back))[6:-4].sum())
        if mode in (RasterMode.GLYPH, RasterMode.ASCII):
            marked[-1] = "".join(with_mark.chars[6:-4][differs[6:-4]])
    assert marked[0] != marked[1]


def test_all_near_the_centre_is_magnified_and_says_so() -> None:
    """Where everything lies within a third of the rim, the rim gives way, and words say so."""
    assert SCENE.magnification() == 1
    assert NEAR.magnification() == 4  # 1.04 · 9 mm / (1.06 · 2.16 mm) = 4.09, by hand
    assert "magnified 4×, rim out of view" in "\n".join(lines(NEAR, 32, 20))
    far = replace(SCENE, stations=(Compared("far", after=(12.0, 0.0)),))
    assert far.magnification() == pytest.approx(9.36 / 12.72)  # beyond the rim: more is shown


# from a session


def marked_session() -> Session:
    """Four stations marked and one missed, nothing adjusted."""
    session = Session.start(make_machine())
    for name, u, v in (
        ("back-left", 1.2, -0.4),
        ("middle", 3.0, 4.0),
        ("back-right", 2.4, 2.4),
        ("front-left", 1, 0),
    ):
        session.mark(name, u=u, v=v)
    session.mark("back-left", u=1.3, v=-0.5)
    session.miss("front-right")
    return session


def test_nothing_pulsed_gives_no_picture() -> None:
    """Without a pulse at the head there is nothing to compare; mirror 2's own tape is another opening."""
    session = Session.start(make_machine())
    assert before_after(session) is None
    session.mark("search", u=1.0, v=1.0, x=0.0, y=400.0, target="mirror 2")
    assert before_after(session) is None


def test_before_anything_is_adjusted_the_marks_stand_alone() -> None:
    """The newest reading of every station, no expectation; a turn of nothing is no adjustment."""
    session = marked_session()
    session.turn(1, {"B": 0.0})
    scene = before_after(session)
    assert scene is not None
    assert not scene.adjusted
    by_name = {s.name: s for s in scene.stations}
    assert by_name["back-left"] == Compared("back-left", after=(1.3, -0.5))
    assert by_name["front-right"] == Compared("front-right", missed_after=True)


def test_after_adjusting_the_first_marks_are_kept_and_missing_ones_are_expected() -> None:
    """First round against newest; without a new mark the belief's own expectation with two of its deviations."""
    session = marked_session()
    session.turn(1, {"B": -0.125})
    session.mark("middle", u=0.3, v=0.4)
    session.turn(2, {"C": 0.125})
    session.mark("middle", u=0.1, v=0.2)
    session.miss("back-left")
    scene = before_after(session)
    assert scene is not None
    by_name = {s.name: s for s in scene.stations}
    assert by_name["middle"] == Compared("middle", before=(3.0, 4.0), after=(0.1, 0.2))
    assert by_name["back-left"] == Compared("back-left", before=(1.3, -0.5), missed_after=True)
    assert by_name["front-right"].missed_before
    mark = session.belief.expected(20.0, 20.0)
    front_left = by_name["front-left"]
    assert front_left.expected == pytest.approx((mark.u, mark.v))
    assert front_left.doubt == pytest.approx((2 * mark.cov[0, 0] ** 0.5, 2 * mark.cov[1, 1] ** 0.5))
    text = "\n".join(lines(scene, 42, 26))
    assert "before: worst off the tape" in text
    assert "back-left    1.4 → off" in text


def test_undoing_the_only_adjustment_gives_the_marks_alone_again() -> None:
    """The picture follows from what still counts."""
    session = marked_session()
    session.shift("tube", up=1.0)
    scene = before_after(session)
    assert scene is not None
    assert scene.adjusted
    session.undo()
    scene = before_after(session)
    assert scene is not None
    assert not scene.adjusted


# in the review


@pytest.mark.sweep
async def test_beside_the_list_from_80_columns_on(tmp_path: Path) -> None:
    """At 80 by 24 and above the figures stand beside whole entries; below, the list has all the room."""
    path = session_at(tmp_path, "done", Practice(kind="plain", seed=11))
    session = Session.load(path)
    turned = next(i for i, e in enumerate(session.effective) if isinstance(e, Turn))
    first = {e.station: e for e in session.effective[:turned] if isinstance(e, Mark)}
    worst = max((e.u**2 + e.v**2) ** 0.5 for e in first.values())
    async with running(tmp_path, session=path) as driver:
        await driver.pass_gates()
        await driver.press("r")
        for size in ((80, 24), (100, 30), (140, 45), (79, 24), (80, 12), (40, 12)):
            await driver.resize(*size)
            room = size[0] >= 80 and size[1] >= 24
            assert (f"before: worst {worst:.1f} mm" in driver.text()) == room
            assert ("back-right" in driver.part("#picture")) == (room and size[1] >= 30)
            assert "rim pressed in" in driver.part("#list")


async def test_it_follows_what_is_taken_back_in_the_review(tmp_path: Path) -> None:
    """U in the review changes the list and the picture alike; without any mark the list has all the room."""
    path = session_at(tmp_path, "go", Practice(kind="plain", seed=11), marks=1)
    async with running(tmp_path, session=path) as driver:
        await driver.press("r")
        assert "nothing adjusted yet" in driver.part("#picture")
        await driver.press("u")
        assert driver.part("#picture") == ""
