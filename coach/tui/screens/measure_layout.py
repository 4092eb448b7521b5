"""Where everything of a measurement stands: a pure function of texts and the terminal's size.

Gaps are typed around the picture, each at the side where it is measured; other numbers stand beside it.  What is read
back stands below the picture, or beside it where it is long.  Nothing ever lies over the picture or the cautions.
"""

import textwrap
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from coach.steps.cautions import Caution
from coach.tui.screens.arrangements import LISTED, SMALLEST, TALL
from coach.tui.screens.band import band_rows, briefest
from coach.tui.screens.fitting import PICTURE_ROWS, SCROLLBAR, choice_rows
from coach.tui.widgets.bigfont import set_text

Way = Literal["around", "beside", "alone"]
"""Fields around the picture, beside it, or without one."""
Box = tuple[int, int, int, int]
"""Column, row, columns and rows within the form."""
LEAST = 4
"""Rows of the smallest picture, in terminals that have no room for a larger one."""
FIELD, WIDTH_FIELD = 20, 30
"""Columns of a field above or below the picture, and of the mark's width."""
BETWEEN = " "
"""Between options in one row."""
RIM = ("left", "right", "top", "bottom", "mark")
"""The fields around the picture."""


@dataclass(frozen=True)
class Needs:
    """What there is to show."""

    action: str
    figure: str
    fields: tuple[str, ...]
    words: Mapping[str, str]
    """By name: ways, options, trouble, bench, hint, seen, asked, side; "" where there is nothing to say."""
    answers: tuple[str, ...]
    """Labels of how it can be answered; () while numbers are typed."""
    own: tuple[Caution, ...]
    hint_rows: int = 0
    """Rows of the keys besides their own."""
    ascii_only: bool = False

    @property
    def around(self) -> bool:
        """Whether the fields stand around the picture."""
        return self.fields == RIM


@dataclass(frozen=True)
class Plan:
    """How it is shown."""

    where: bool
    action_rows: int
    figure: bool
    cautions: tuple[str, ...]
    boxes: Mapping[str, Box]
    """Where in the form each part stands; what is not named is not shown."""
    large: bool
    """Whether the answers are in large letters."""
    keys: bool
    """Whether the keys are told."""


def planned(needs: Needs, width: int, height: int) -> Plan:
    """The first arrangement that fits: large letters and every caution, then fewer of them, then no picture."""
    roomy = width >= SMALLEST[0] and height >= SMALLEST[1]
    ways: tuple[Way, ...] = ("around", "beside") if needs.around else ("beside",)
    tries: list[tuple[Way, bool, bool]] = [
        (way, large, True) for way in ways for large in (True, False)[height < TALL :]
    ]
    tries += (("alone", False, True),) if roomy else (("alone", False, True), ("alone", False, False))
    for way, large, keys in tries:
        for action, figure in _headlines(roomy, height):
            for cautions in _bands(needs.own, width, height):
                head = len(set_text(needs.action, width - 2, action, ascii_only=needs.ascii_only).rows)
                rows = height - roomy - head - figure - len(cautions) - keys * (1 + needs.hint_rows)
                boxes = _arranged(needs, width - 2, rows, way, large, roomy)
                if boxes is not None:
                    return Plan(roomy, action, figure, cautions, boxes, large, keys)
    cautions = briefest(needs.own[:1], width - 2)
    boxes = _listed(needs, width - 2, height - len(cautions), False, beside=False)[0]
    return Plan(False, 0, False, cautions, boxes, False, False)


def _headlines(roomy: bool, height: int) -> Iterator[tuple[int, bool]]:
    """Rows of the large type, and whether the line below it is there."""
    if roomy:
        yield from ((5, True),) if height >= LISTED else ()
        yield 3, True
        yield 1, True
    yield 1, False


def _bands(own: Sequence[Caution], width: int, height: int) -> Iterator[tuple[str, ...]]:
    """The cautions, most rows first; none is left out but in the smallest terminals."""
    inner = width - 2
    if height >= LISTED:
        yield band_rows(own, inner, listed=True, whole=False)
    yield band_rows(own, inner, listed=False, whole=False)
    yield band_rows(own, inner, listed=False, whole=False, sentences=1)
    yield band_rows(own, inner, listed=False, whole=False, sentences=0)
    if width < SMALLEST[0] or height < SMALLEST[1]:
        yield briefest(own[:2], inner)
        yield briefest(own[:1], inner)


def _arranged(needs: Needs, width: int, rows: int, way: Way, large: bool, roomy: bool) -> Mapping[str, Box] | None:
    """Where everything stands in so many columns and rows; None where it does not fit."""
    least = PICTURE_ROWS if roomy else LEAST
    if way == "around" or (way == "alone" and needs.around):
        boxes = _round_it(needs, width, rows, least if way == "around" else 1, large)
        if boxes is not None or way == "around":
            return boxes
    beside = way == "beside" and width >= 56
    for under in (False, True) if beside else (False,):
        listed, whole = _listed(needs, width, rows, large, beside=beside, under=under, roomy=roomy)
        if whole and (way == "alone" or listed.get("picture", (0, 0, 0, 0))[3] >= least):
            return listed
    return None


def _below(needs: Needs, width: int, large: bool) -> list[tuple[str, int]]:
    """What stands over the whole width below the fields, and its rows."""
    asked = [
        ("asked", rows_of(needs.words["asked"], width - SCROLLBAR)),
        ("answers", answer_rows(needs, width, large)),
    ]
    typed = [("bench", rows_of(needs.words["bench"], width)), ("trouble", rows_of(needs.words["trouble"], width))]
    return [part for part in (asked if needs.answers else typed) if part[1]]


def _round_it(needs: Needs, width: int, rows: int, least: int, large: bool) -> dict[str, Box] | None:
    """The fields around the picture."""
    below = _below(needs, width, large)
    middle = rows - sum(high for _, high in below)
    ways = int(bool(needs.words["ways"]) and middle - 3 >= least)
    middle -= ways
    entry = 3 if large else 1
    if middle - 2 * entry < least:
        return None
    boxes: dict[str, Box] = {"ways": (0, 0, width, 1)} if ways else {}
    side = min(max(round(0.26 * width), 14), 36)
    field = min(FIELD, width - 2 * side + 8)
    if large:
        field = 36
    centre, right = (width - field) // 2, width - side + 1
    last, level = ways + middle - entry, ways + (middle - entry) // 2
    marked = min(WIDTH_FIELD, width - field - 1)
    boxes |= {
        "picture": (side, ways + entry, width - 2 * side, middle - 2 * entry),
        "top": (centre, ways, field, entry),
        "bottom": (min(centre, width - marked - field - 1), last, field, entry),
        "left": (0, level, side - 1, entry),
        "right": (right, level, side - 1, entry),
        "mark": (width - marked, last, marked, entry),
    }
    if middle - 2 * entry < LEAST:
        del boxes["picture"]
    above, under, next_row = level - ways, last - level - entry, level + entry
    _put(boxes, "options", needs, (0, ways, side - 1), above)
    _put(boxes, "side", needs, (right, ways, side - 1), above - 1)
    seen = rows_of(needs.words["seen"], side - 1)
    _put(boxes, "seen", needs, (0, next_row, side - 1), under)
    _put(boxes, "hint", needs, (0, next_row + seen, side - 1), under - seen)
    at = ways + middle
    for name, high in below:
        boxes[name] = (0, at, width, high)
        at += high
    return boxes


def _put(boxes: dict[str, Box], name: str, needs: Needs, place: tuple[int, int, int], room: int) -> None:
    """Words at a place, if there are any and they fit whole."""
    x, y, width = place
    high = rows_of(needs.words[name], width)
    if 0 < high <= room:
        boxes[name] = (x, y, width, high)


def _listed(
    needs: Needs, width: int, rows: int, large: bool, *, beside: bool, under: bool = False, roomy: bool = False
) -> tuple[dict[str, Box], bool]:
    """The fields, or what is read back, beside the picture or above it; and whether all that must be there is.

    `under`: the bench's callipers and what is wrong over the whole width, where they were too long beside it.
    """
    left = max(40 if width > 70 else 34, round(0.45 * width)) if beside else width
    inner = left - 2 if beside else left
    wide = dict(_below(needs, width, large)) if under and not needs.answers else {}
    rows -= sum(wide.values())
    below = {} if wide else dict(_below(needs, inner, large))
    fields = () if needs.answers else needs.fields
    must = {"options": rows_of(joined(needs.words["options"]), inner)} if roomy and not needs.answers else {}
    needed = len(fields) + sum(below.values()) + sum(must.values())
    whole, free, more = needed <= rows, rows - needed, dict[str, int]()
    for name in () if needs.answers else ("options", "ways", "hint"):
        high = rows_of(needs.words[name], inner)
        if 0 < high <= free + must.get(name, 0):
            free -= high - must.get(name, 0)
            more[name] = high
    if not whole and "asked" in below:  # what is asked can be scrolled, the answers stand there
        below["asked"] = max(below["asked"] + free, 1)
    order = ("ways", "options", "bench", *fields, "trouble", "hint", "asked", "answers")
    heights = {**below, **must, **more, **dict.fromkeys(fields, 1)}
    boxes, at = dict[str, Box](), 0
    for name in (name for name in order if name in heights):
        boxes[name] = (0, at, inner, heights[name])
        at += heights[name]
    _put(boxes, "side", needs, (0, at + 1, inner), free - 1)
    if beside and rows >= LEAST:
        boxes["picture"] = (left, 0, width - left, rows)
    elif not beside and free >= LEAST:
        boxes["picture"] = (0, at, width, free)
    for name, high in wide.items():
        boxes[name] = (0, rows, width, high)
        rows += high
    return boxes, whole


def joined(options: str) -> str:
    """The options in as few rows as they take, where there is none for each."""
    return BETWEEN.join(options.split("\n"))


def answer_rows(needs: Needs, width: int, large: bool) -> int:
    """Rows of the answers."""
    return sum(len(choice_rows(1, label, width, large, needs.ascii_only)) for label in needs.answers)


def rows_of(text: str, width: int) -> int:
    """Rows of a text that is wrapped between words; 0 where there is none."""
    wide = max(width, 1)
    return (
        sum(max(len(textwrap.wrap(row, wide, break_on_hyphens=False)), 1) for row in text.split("\n")) if text else 0
    )
