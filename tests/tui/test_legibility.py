"""From how far the screens can be read: letter heights by distance, for every step at 24 and at 45 rows.

ISO 9241-303 asks for letters of at least 16 minutes of arc (from memory).  A full-screen terminal on a 14-inch laptop
is about 175 mm high, and a capital in plain text about 0.7 of its row (common terminal fonts, from memory).
"""

import math
from dataclasses import replace

import built_steps
import pytest
from built_steps import built
from sweeps import sampled

from coach.shown import IN_MM
from coach.steps.current import current_step
from coach.tui.screens.arrangements import Content
from coach.tui.screens.fitting import PICTURE_ROWS, Plan, choice_rows, fit
from coach.tui.widgets.bigfont import Setting, set_text, spelled, text_width

SCREEN = 175.0
"""mm."""
ARC = 16 / 60
"""Degrees."""
CAPITAL = {"plain": 0.7, "small": 2.5, "large": 5.0}
"""A capital's height in rows: of plain text, and of our own letters as they are drawn (five half rows, five rows)."""
STANDING = 2.0
"""m, from the machine to the screen."""


def distance(setting: Setting, rows: int) -> float:
    """From how far letters of that size can be read on a screen of so many rows, in m."""
    height = CAPITAL[setting.size] * SCREEN / rows
    return height / math.tan(math.radians(ARC)) / 1000


def content_of(name: str) -> Content:
    """What a step has to show, with its picture."""
    step = current_step(built(name), IN_MM)
    return Content(
        step.action,
        step.figure,
        (*step.do, *filter(None, (step.why, step.then))),
        tuple(choice.label for choice in step.choices),
        step.kind.own_cautions,
        whole=step.kind.danger_begins,
        picture=step.kind.picture != "none",
        spare=int(step.kind.why_was_said and bool(step.why)) + bool(step.then),
    )


def rows_used(content: Content, plan: Plan, width: int) -> int:
    """All rows that a plan without gaps takes, as they come on the screen."""
    action = len(set_text(content.action, width - 2, plan.action_rows).rows)
    figure = len(set_text(content.figure, plan.left, plan.figure_rows).rows)
    choices = sum(len(choice_rows(1, label, plan.left, plan.large_choices)) for label in content.choices)
    middle = max(figure + len(plan.text) + choices, PICTURE_ROWS if plan.picture else 0)
    return plan.where + action + middle + len(plan.cautions) + plan.keys


def drawn(text: str) -> bool:
    """Whether our own letters know all of its signs."""
    return set_text(text, 10_000).size != "plain"


@pytest.mark.parametrize("name", built_steps.NAMES)
@pytest.mark.parametrize(("width", "rows"), sampled([(80, 24), (140, 45)], (80, 24)))
def test_what_to_do_is_read_from_two_metres(name: str, width: int, rows: int) -> None:
    """Action and figure; choices and the step's own first caution too: wherever letters of three rows have room."""
    content = content_of(name)
    plan = fit(content, width, rows)
    action = set_text(content.action, width - 2, plan.action_rows)
    assert distance(action, rows) >= STANDING or rows_used(content, plan, width) + 2 > rows
    if content.figure and drawn(content.figure) and text_width(spelled(content.figure), "small") <= plan.left:
        figure = set_text(content.figure, plan.left, plan.figure_rows)
        assert distance(figure, rows) >= STANDING or rows_used(content, plan, width) + 2 > rows
    if rows >= 45:
        used = rows_used(content, plan, width)
        large = [choice_rows(1, label, plan.left, large=True) for label in content.choices]
        assert all(len(choice) >= 3 for choice in large)
        plain = [choice_rows(1, label, plan.left) for label in content.choices]
        more = sum(map(len, large)) - sum(map(len, plain))
        assert plan.large_choices or used + more > rows
        brief = set_text(content.own[0].brief, width - 2, largest="small")
        assert distance(brief, rows) >= STANDING
        assert set(brief.rows) <= set(plan.cautions) or used + len(brief.rows) > rows


@pytest.mark.parametrize("name", built_steps.NAMES)
def test_nothing_has_to_be_scrolled_at_80x24(name: str) -> None:
    """Also on the practice bench, with two rows of what it shows and one of what was just done."""
    content = content_of(name)
    shown = "the bench shows something here, in so many words " * 3
    at = len(content.text) - content.spare
    content = replace(content, text=(*content.text[:at], shown, *content.text[at:]))
    plan = fit(content, 80, 24 - 1)
    assert plan.keys
    assert plan.text_rows == len(plan.text)


def test_plain_text_is_not_enough_and_three_rows_are() -> None:
    """The distances themselves, from the angle: at 45 rows plain text is read from 0.6 m, three rows from 2.1 m."""
    plain, small = Setting("plain", (), ()), Setting("small", (), ())
    assert round(distance(plain, 45), 1) == 0.6
    assert round(distance(plain, 24), 1) == 1.1
    assert round(distance(small, 45), 1) == 2.1
    assert round(distance(small, 24), 1) == 3.9


@pytest.mark.parametrize(("width", "height"), [(80, 24), (100, 30), (140, 45), (60, 20), (40, 12)])
def test_both_directions_are_whole_and_of_one_size(width: int, height: int) -> None:
    """No word of a direction is broken, the sign stays with it, and one way is as large as the other.

    From 80x24 on both are large, with the picture.
    """
    content = content_of("screw")
    sizes = set()
    for way in ("↻ CLOCKWISE", "↺ COUNTERCLOCKWISE"):
        turned = Content(**{**vars(content), "action": f"MIRROR 1 SCREW C {way}"})
        plan = fit(turned, width, height)
        setting = set_text(turned.action, width - 2, plan.action_rows)
        assert any(way in line for line in setting.lines)
        sizes.add((setting.size, plan.picture, len(plan.text)))
        if width >= 80:
            assert setting.size != "plain"
            assert plan.picture
    assert len(sizes) == 1
