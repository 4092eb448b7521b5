"""What of a step is shown how large, so that nothing is cut: a pure function of texts and the terminal's size.

The first arrangement that fits is taken.  Before anything else gives way, space between the parts goes, then
the large type shrinks, then the picture goes, then the large type altogether; only in terminals that are smaller
still do the less important cautions go.  What is shown is whole.
"""

import textwrap
from collections.abc import Iterator
from dataclasses import dataclass

from coach.tui.widgets.bigfont import set_text

SMALLEST = (80, 24)
"""Columns and rows from which everything must be in view."""
PICTURE_ROWS = 8
"""A picture lower than this tells nothing."""
SIGN = "⚠"
WIDEST = 100
"""Columns of text; longer rows are hard to follow."""
ALWAYS = 3
"""So many cautions, the last ones, are left out only in the smallest terminals."""
LEAST_TEXT = 3
"""Rows of text that stand before the less important cautions, in the smallest terminals."""


@dataclass(frozen=True)
class Content:
    """What there is to show."""

    action: str
    figure: str
    text: tuple[str, ...]
    """Paragraphs."""
    choices: tuple[str, ...]
    cautions: tuple[str, ...]
    """The step's own, most important first, then those that are always shown."""
    picture: bool
    spare: int = 0
    """So many paragraphs at the end were said a step ago and may be left to the help."""
    ascii_only: bool = False
    needed: tuple[str, ...] = ()
    """Cautions that are shown in the smallest terminal too."""


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
    """Columns for text and choices."""
    picture: bool
    text: tuple[str, ...]
    text_rows: int
    """Rows that the text gets; with fewer than it has it can be scrolled."""
    cautions: tuple[str, ...]

    def as_good_as(self, other: "Plan") -> bool:
        """Whether nothing but space is missing that the other shows."""
        mine, others = (
            (plan.picture, len(" ".join(plan.text)), len(plan.cautions), plan.action_rows > 1)
            for plan in (self, other)
        )
        return all(a >= b for a, b in zip(mine, others, strict=True))


@dataclass(frozen=True)
class _Try:
    gap: int
    action: int
    figure: int
    picture: bool
    listed: bool
    """One row for each caution instead of one paragraph of all."""
    cautions: int
    whole: bool = True
    """With the text that can be left out."""
    plain: bool = False
    """Whether the action may be in plain letters."""


def fit(content: Content, width: int, height: int) -> Plan:
    """The first arrangement that fits into that many columns and rows."""
    for attempt in _tries(content, width, height):
        plan, rows = _arranged(content, attempt, width)
        least = PICTURE_ROWS if attempt.picture else 0
        middle = max(len(plan.text) + _choice_rows(content, plan.left) + plan.gap, least)
        large = attempt.plain or not _is_plain(content, attempt, width)
        if rows + middle <= height and large:
            return plan
    return _smallest(content, width, height)


def _tries(content: Content, width: int, height: int) -> Iterator[_Try]:
    if width < 60:
        return
    everything = len(content.cautions)
    fewest = min(everything, ALWAYS + 1)
    sizes = sorted({max(height // 4, 7), 5, 3}, reverse=True)
    figures = [3, 1] if height >= 36 else [1]
    pictures = [True, False] if content.picture and width >= SMALLEST[0] else [False]
    for picture in pictures:
        for gap, listed in ((1, True), (1, False), (0, False)):
            if listed and height < 28:
                continue
            for figure in figures:
                yield from (_Try(gap, size, figure, picture, listed, everything) for size in sizes)
        if content.spare:
            yield from (_Try(0, size, 1, picture, False, everything, whole=False) for size in reversed(sizes))
    yield _Try(0, 1, 1, False, False, everything, plain=True)
    if content.spare:
        yield _Try(0, 1, 1, False, False, everything, whole=False, plain=True)
    for count in range(everything - 1, fewest - 1, -1):
        for picture in pictures:
            yield from (_Try(0, size, 1, picture, False, count) for size in sizes)
            yield _Try(0, 1, 1, picture, False, count, plain=True)


def _is_plain(content: Content, attempt: _Try, width: int) -> bool:
    setting = set_text(content.action, width - 2, attempt.action, ascii_only=content.ascii_only)
    return setting.size == "plain"


def _arranged(content: Content, attempt: _Try, width: int) -> tuple[Plan, int]:
    """The plan of an attempt, and the rows that all but text, choices and picture take."""
    inner = width - 2
    action = _large(content.action, inner, attempt.action, content.ascii_only)
    figure = _large(content.figure, inner, attempt.figure, content.ascii_only)
    left = inner if not attempt.picture else max(40, round(0.5 * inner))
    left = min(left, WIDEST)
    paragraphs = content.text if attempt.whole else content.text[: -content.spare]
    text = _paragraphs(paragraphs, left, attempt.gap)
    shown = content.cautions[-attempt.cautions :]
    if attempt.cautions < len(content.cautions):
        shown = (content.cautions[0], *content.cautions[-attempt.cautions + 1 :])
    cautions = caution_rows(shown, inner, listed=attempt.listed)
    where = width >= SMALLEST[0]
    rows = where + action + figure + (attempt.figure > 1) + len(cautions) + 3 * attempt.gap + 1
    plan = Plan(
        where, True, attempt.gap, attempt.action, attempt.figure, left, attempt.picture, text, len(text), cautions
    )
    return plan, rows


def _smallest(content: Content, width: int, height: int) -> Plan:
    """Action, figure, choices and the cautions that are needed; then keys, some text, more cautions, more text."""
    inner = max(width - 2, 1)
    taken = _large(content.figure, inner, 1, content.ascii_only) + _choice_rows(content, inner)
    needed = caution_rows(content.needed, inner, listed=False)
    for action in (3, 1):
        rows = height - taken - _large(content.action, inner, action, content.ascii_only)
        if rows >= len(needed):
            break
    rows = max(rows, 0)
    text = _paragraphs(content.text, inner, 0)
    keys = rows > len(needed)
    kept = keys + min(len(text), LEAST_TEXT)
    cautions: tuple[str, ...] = ()
    shown: tuple[str, ...] = ()
    for caution in (*content.needed, *(c for c in content.cautions if c not in content.needed)):
        more = caution_rows((*shown, caution), inner, listed=False)
        if len(more) <= rows - (0 if caution in content.needed else kept):
            shown, cautions = (*shown, caution), more
    rows -= len(cautions) + keys
    return Plan(False, keys, 0, action, 1, inner, False, text, max(rows, 0), cautions)


def _large(text: str, width: int, most: int, ascii_only: bool) -> int:
    return len(set_text(text, width, most, ascii_only=ascii_only).rows) if text else 0


def _choice_rows(content: Content, width: int) -> int:
    return sum(len(choice_rows(1, label, width)) for label in content.choices)


def choice_rows(number: int | None, label: str, width: int) -> list[str]:
    """A choice's rows: its number, then its words, with room for the sign of the highlighted one."""
    first = f"{number} " if number is not None else "  "
    return textwrap.wrap(first + label, max(width - 3, 8), subsequent_indent="  ", break_on_hyphens=False) or [first]


def _paragraphs(texts: tuple[str, ...], width: int, gap: int) -> tuple[str, ...]:
    rows: list[str] = []
    for text in texts:
        if rows and gap:
            rows.append("")
        rows += textwrap.wrap(text, width, break_on_hyphens=False)
    return tuple(rows)


def caution_rows(texts: tuple[str, ...], width: int, *, listed: bool) -> tuple[str, ...]:
    """The cautions' rows, each caution with the sign, the whole with the word."""
    if not texts:
        return ()
    width = max(width, 12)
    first, rest = f"{SIGN}\N{NO-BREAK SPACE}CAUTION ", f"{SIGN}\N{NO-BREAK SPACE}"
    if not listed:
        flow = first + f"  {rest}".join(texts)
        return tuple(textwrap.wrap(flow, width, subsequent_indent="  ", break_on_hyphens=False))
    rows: list[str] = []
    for number, text in enumerate(texts):
        start = first if number == 0 else rest
        rows += textwrap.wrap(start + text, width, subsequent_indent="  ", break_on_hyphens=False)
    return tuple(rows)
