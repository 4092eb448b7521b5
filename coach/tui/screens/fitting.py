"""What of a step is shown how large, so that nothing is cut: a pure function of texts and the terminal's size.

The first arrangement that fits is taken; which are tried, in which order, stands in `arrangements.py`.  What is shown
is whole, and no caution ever gives way.
"""

import textwrap
from dataclasses import dataclass, replace
from functools import lru_cache

from coach.tui.screens.arrangements import SMALLEST, TALL, Attempt, Content, attempts
from coach.tui.screens.band import band_rows, briefest
from coach.tui.widgets.bigfont import Setting, set_text

PICTURE_ROWS = 8
"""A picture lower than this tells nothing."""
WIDEST = 100
"""Columns of text; longer rows are hard to follow."""
SCROLLBAR = 1
"""Columns of the bar beside a text that has to be scrolled."""
ROOMY = 118
"""Columns within the margins from which large choices may take more than half."""
NARROW = 0.4
"""Share of the columns that figure, text and choices take at least beside a picture."""
THIRD = 32
"""Columns of a third part, with another picture and what was done so far …"""
PICTURE_WIDE = 40
"""… where the picture keeps so many."""
SECOND, SECOND_ROWS = 24, 10
"""Columns and rows of another picture below the first, beside what was done so far."""
PICTURE_AND_MORE = 14
"""Rows that a picture keeps where something else stands below it."""


@dataclass(frozen=True)
class Plan:
    """How it is shown; all rows are wrapped already."""

    where: bool
    keys: bool
    gap: int
    """Empty rows between the parts."""
    action_rows: int
    figure_rows: int
    left: int
    """Columns for figure, text and choices."""
    picture: bool
    text: tuple[str, ...]
    text_rows: int
    """Rows that the text gets; with fewer than it has it can be scrolled."""
    cautions: tuple[str, ...]
    large_choices: bool = False
    side: tuple[str, ...] = ()
    lower: int = 0
    """Rows of a part below the picture, with another picture beside `side`; 0: there is no other picture there."""
    third: int = 0
    """Columns of a third part beside the picture; 0: there is none, and `side` stands below the picture."""

    def as_good_as(self, other: "Plan") -> bool:
        """Whether nothing but space is missing that the other shows."""
        mine, others = (
            (
                plan.picture,
                len(" ".join(plan.text)),
                len(plan.cautions),
                plan.action_rows > 1,
                plan.figure_rows > 1,
                plan.large_choices,
            )
            for plan in (self, other)
        )
        return all(a >= b for a, b in zip(mine, others, strict=True))


def fit(content: Content, width: int, height: int) -> Plan:
    """The first arrangement that fits."""
    for attempt in attempts(content, width, height):
        plan, rows, middle = _arranged(content, attempt, width)
        if rows <= height and (attempt.plain or _is_large(content, attempt, plan)):
            return _with_sides(plan, content, width, height - rows + middle) if height >= TALL else plan
    return _smallest(content, width, height)


def _with_sides(plan: Plan, content: Content, width: int, room: int) -> Plan:
    """What was done so far beside the picture with so many rows, or below it, or not at all."""
    if not plan.picture:
        return plan
    right = width - 2 - plan.left
    if right >= PICTURE_WIDE + THIRD and (content.side or content.second):
        return replace(plan, side=content.side, third=max(THIRD, right // 3))
    lower = max(len(content.side), SECOND_ROWS)
    wide = SECOND + 2 + max(map(len, content.side), default=0)
    if content.second and right >= wide and room - lower - 1 >= PICTURE_AND_MORE:
        return replace(plan, side=content.side, lower=lower)
    return replace(plan, side=content.side if room - len(content.side) - 1 >= PICTURE_AND_MORE else ())


def _is_large(content: Content, attempt: Attempt, plan: Plan) -> bool:
    """Whether action and figure got the large letters that were tried."""
    figure = plan.figure_rows > 1 or attempt.figure == 1
    return figure and (not content.action or plan.action_rows > 1)


def _arranged(content: Content, attempt: Attempt, width: int) -> tuple[Plan, int, int]:
    """The plan of an attempt, all the rows that it takes, and those of them beside the picture."""
    inner = width - 2
    left = _left(content, attempt, inner) if attempt.picture else min(inner, WIDEST)
    action = _set(content.action, inner, attempt.action, content.ascii_only)
    figure = _set(content.figure, left, attempt.figure, content.ascii_only)
    paragraphs = content.text if attempt.whole else content.text[: -content.spare]
    text = _paragraphs(paragraphs, left, attempt.gap)
    cautions = band_rows(
        content.own, inner, listed=attempt.listed, whole=content.whole and not attempt.brief, large=attempt.caution,
        ascii_only=content.ascii_only, sentences=attempt.sentences,
    )  # fmt: skip
    where = attempt.where and width >= SMALLEST[0]
    gap = attempt.gap
    choices = _choice_rows(content, left, attempt.choices)
    beside = len(figure.rows) * bool(content.figure) + len(text) + choices + gap * (1 + bool(content.figure))
    middle = max(beside, PICTURE_ROWS if attempt.picture else 0)
    rows = where + len(action.rows) + gap + middle + gap + len(cautions) + 1
    plan = Plan(
        where=where, keys=True, gap=gap, left=left, picture=attempt.picture, text=text, text_rows=len(text),
        action_rows=_rows_of(action), figure_rows=_rows_of(figure), cautions=cautions,
        large_choices=attempt.choices,
    )  # fmt: skip
    return plan, rows, middle


def _left(content: Content, attempt: Attempt, inner: int) -> int:
    """Columns of the part beside the picture: where there are many, no more than its large letters need."""
    most = min(max(40, round((0.55 if inner >= ROOMY else 0.5) * inner)), WIDEST)
    if inner < ROOMY:
        return most
    large = [*_set(content.figure, most, attempt.figure, content.ascii_only).rows]
    if attempt.choices:
        large += [f"   {row}" for label in content.choices for row in choice_rows(
            1, label, most, large=True, ascii_only=content.ascii_only)]  # fmt: skip
    return min(max(round(NARROW * inner), *map(len, large)), most)


def _rows_of(setting: Setting) -> int:
    """The rows that a text may take; 1 where it stands in plain letters."""
    return 1 if setting.size == "plain" else len(setting.rows)


def _smallest(content: Content, width: int, height: int) -> Plan:
    """Action, figure, choices and the cautions; then keys and some text; whole cautions before more text."""
    inner = max(width - 2, 1)
    rows = height - _choice_rows(content, inner, False)
    rows -= len(_set(content.figure, inner, 1, content.ascii_only).rows) if content.figure else 0
    whole = band_rows(content.own, inner, listed=False, whole=False)
    some = band_rows(content.own[:1], inner, listed=False, whole=False)
    brief = briefest(content.own[:1], inner)
    text = _paragraphs(content.text, max(inner - SCROLLBAR, 1), 0)
    fewest = min(len(text), 2) + 1
    for action, cautions, kept in (
        *((3, band, fewest) for band in (whole, some)),
        *((1, band, fewest) for band in (whole, some, brief)),
        *((1, band, 0) for band in (whole, some, brief)),
    ):
        taken = len(_set(content.action, inner, action, content.ascii_only).rows) + len(cautions)
        if taken + kept <= rows:
            break
    rows = max(rows - taken, 0)
    keys = rows > 0
    return Plan(
        where=False, keys=keys, gap=0, action_rows=action, figure_rows=1, left=inner, picture=False, text=text,
        text_rows=max(rows - keys, 0), cautions=cautions,
    )  # fmt: skip


@lru_cache(512)  # many arrangements set the same texts
def _set(text: str, width: int, most: int, ascii_only: bool) -> Setting:
    return set_text(text, width, most, ascii_only=ascii_only)


def _choice_rows(content: Content, width: int, large: bool) -> int:
    return sum(len(choice_rows(1, label, width, large, content.ascii_only)) for label in content.choices)


@lru_cache(512)
def choice_rows(
    number: int | None, label: str, width: int, large: bool = False, ascii_only: bool = False
) -> tuple[str, ...]:
    """A choice's rows: its number, then its words, with room for the sign of the highlighted one.

    `large`: in letters three rows high, as far as its words fit so.
    """
    room = max(width - 3, 8)
    if large:
        setting = set_text(
            label if number is None else f"{number} {label}", room, ascii_only=ascii_only, largest="small"
        )
        if setting.size != "plain":
            return setting.rows
    first = f"{number} " if number is not None else "  "
    return tuple(textwrap.wrap(first + label, room, subsequent_indent="  ", break_on_hyphens=False)) or (first,)


def _paragraphs(texts: tuple[str, ...], width: int, gap: int) -> tuple[str, ...]:
    rows: list[str] = []
    for text in texts:
        if rows and gap:
            rows.append("")
        rows += textwrap.wrap(text, width, break_on_hyphens=False)
    return tuple(rows)
