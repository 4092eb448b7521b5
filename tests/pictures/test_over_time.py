"""The worst station over time: what is drawn is where and when it was, and its words say the same."""

from datetime import date, timedelta

import pytest

from coach.pictures.modes import RasterMode
from coach.pictures.over_time import OverTimeScene, VisitShown
from coach.pictures.spoken import spoken
from coach.pictures.view import render
from coach.shown import IN_MM

FIRST = date(2026, 1, 1)


def scene(**changed: object) -> OverTimeScene:
    """Left in the middle, found 2 mm off a hundred days later, put right, found as left after two hundred."""
    visits = (
        VisitShown(FIRST, 3.0, 0.2, 1),
        VisitShown(FIRST + timedelta(days=100), 2.0, 0.2, 2, chosen=True),
        VisitShown(FIRST + timedelta(days=200), 0.2, 0.2, 3),
    )
    leaves = (FIRST + timedelta(days=210), FIRST + timedelta(days=250))
    return OverTimeScene(visits, 1.0, (FIRST + timedelta(days=100),), leaves, **changed)  # type: ignore[arg-type]


@pytest.mark.parametrize("mode", [RasterMode.GLYPH, RasterMode.ASCII])
def test_what_is_drawn_is_where_and_when_it_was(mode: RasterMode) -> None:
    """The chosen visit stands halfway to the last one; its arrow over it, what happened under it, the forecast after
    the last, at the tolerance's height."""
    lines = render(scene(), 80, 20, mode, wording=IN_MM).cells().lines()
    chosen = next(line for line in lines if "2" in line and ("▼" in line or "v 2" in line))
    happened = next(line for line in reversed(lines) if "↑" in line or "^" in line)
    days = lines[-1]
    assert str(FIRST) in days
    at = chosen.index("▼" if "▼" in chosen else "v 2")
    under = happened.index("↑" if "↑" in happened else "^")
    assert abs(at - under) <= 1
    first, last = days.index(str(FIRST)), days.index("2026-07-20") + 5
    assert abs(under - (first + last) / 2) <= 2
    ahead = "▒" if mode is RasterMode.GLYPH else "%"
    band = next(number for number, line in enumerate(lines) if ahead in line)
    assert lines[band].index(ahead) > last
    assert band > lines.index(chosen)  # 1 mm lies lower than 2 mm
    assert any("tolerance 1 mm" in line for line in lines[band - 2 : band + 1])


def test_too_small_or_nothing_to_see() -> None:
    """Below its least size, and without a visit that can be told, nothing is drawn."""
    for columns, rows in ((29, 20), (80, 5)):
        assert not "".join(render(scene(), columns, rows, RasterMode.ASCII, wording=IN_MM).cells().lines()).strip()
    empty = OverTimeScene((VisitShown(FIRST, None, None, 1),), 1.0)
    assert not "".join(render(empty, 80, 20, RasterMode.ASCII, wording=IN_MM).cells().lines()).strip()
    render(OverTimeScene(scene().visits[:1], 1.0), 80, 20, RasterMode.ASCII, wording=IN_MM)  # one visit, one day


def test_its_words() -> None:
    """Every visit, the tolerance, what happened and what comes are told."""
    title, told = spoken(scene(), IN_MM)
    assert "worst station" in title
    assert "2026-04-11: found 2.0 mm, left 0.2 mm" in told
    assert "between 2026-07-30 and 2026-09-08" in told
