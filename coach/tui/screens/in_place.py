"""Where a box over a step stands: in place of its text and choices, never over what is to be done or the cautions."""

from collections.abc import Callable
from typing import Any, TypeVar

from textual.containers import Vertical
from textual.events import Resize
from textual.geometry import Region
from textual.screen import ModalScreen, Screen
from textual.widgets import Input, Static

from coach.tui.screens.choices import Choices
from coach.tui.screens.leaving import GO_BACK, LEAVING, clickable
from coach.tui.widgets.bigtype import BigText

ResultT = TypeVar("ResultT")

BESIDE = 52
"""Columns from which the part beside the picture is wide enough; in narrower ones the picture gives way."""
LEAST = 6
"""Rows in which a field can be typed into; in lower ones the large type gives way."""
TIGHT = 16
"""Rows below which there are no empty ones, and the figure gives way."""
CRAMPED = 10
"""Rows below which words are scrolled, so that what can be chosen stays in view."""
ENTRY = 12
"""Columns of a field beside its label."""


def _inside(width: int) -> int:
    """Columns within a box so wide: one at least, also while a terminal is drawn narrower than its frame."""
    return max(width - 2, 1)


def free_region(below: Screen[Any], rows_needed: Callable[[int], int]) -> Region | None:
    """What a box may cover of the screen below it; None where there is no band of cautions to keep free.

    `rows_needed` says for so many columns how many rows it needs; with fewer what is to be done gives way, the
    cautions never.
    """
    bands = [band for band in below.query("#cautions") if band.display and band.region]
    if not bands:
        return None
    bottom = bands[0].region.y
    left = next(iter(below.query("#left")), None)
    beside = left is not None and left.region.width >= BESIDE and any(p.display for p in below.query("#right"))
    width = left.region.right + 1 if beside and left is not None else below.size.width
    needed = rows_needed(_inside(width))
    heads = [head for head in below.query("#where, #action") if head.display]
    top = max((head.region.bottom for head in heads), default=0)
    texts = [text.region.y for text in below.query("#scroll") if text.region.height]
    if texts and bottom - texts[0] >= max(TIGHT, needed):
        top = texts[0]
    if bottom - top < needed:
        top = 0
    return Region(0, top, width, bottom - top)


class PlacedBox(ModalScreen[ResultT]):
    """A box that stands in that place, where there is such a place; else in the middle of the screen."""

    label_columns = 0
    """Columns of the longest label of a field."""

    def rows_needed(self, columns: int) -> int:
        """Rows without which something of it, set into so many columns, could only be seen by scrolling."""
        return LEAST

    def on_mount(self) -> None:
        if self._below is not None:
            self._below.screen_layout_refresh_signal.subscribe(self, lambda below: self.stand())
        self.stand()

    def on_resize(self, event: Resize) -> None:
        self.stand()

    @property
    def _below(self) -> Screen[Any] | None:
        stack = self.app.screen_stack
        return stack[stack.index(self) - 1] if self in stack else None

    @property
    def columns(self) -> int:
        """Columns for what can be chosen."""
        if self.has_class("-placed"):
            return max(self.query_one(".box").size.width, 10)
        return max(min(self.app.size.width - 6, 70), 10)

    def stand(self) -> None:
        """Stand in its place."""
        region = free_region(self._below, self.rows_needed) if self._below is not None else None
        box = self.query_one(".box", Vertical)
        self._say_heading_once(region)
        self.set_class(region is not None, "-placed")
        self.set_class(region is not None and region.height < TIGHT, "-tight")
        least = 0 if region is None else max(CRAMPED, self.rows_needed(_inside(region.width)))
        self.set_class(region is not None and region.height < least, "-cramped")
        self.set_class(region is not None and self.label_columns + ENTRY <= region.width, "-inline")
        if region is None:
            for rule in ("offset", "width", "height"):
                box.styles.clear_rule(rule)
        else:
            box.styles.offset = region.offset
            box.styles.width, box.styles.height = region.size
        self.call_after_refresh(self.fit_choices)

    def _say_heading_once(self, region: Region | None) -> None:
        """Without its heading where that stands above it already, as what is to be done."""
        stands = {
            headline.text
            for headline in (self._below.query(BigText) if self._below is not None and region is not None else ())
            if headline.display and region is not None and headline.region.bottom <= region.y
        }
        for heading in self.query(".heading").results(Static):
            heading.display = str(heading.content) not in stands

    def on_choices_not_said(self, event: Choices.NotSaid) -> None:
        """Say what the key chose, or why it took nothing."""
        event.stop()
        self.mention(event.words)

    def mention(self, words: str, *, lasts: bool = False) -> None:
        """Say something where the keys stand, whether it `lasts` or not until the box says its keys anew."""
        self.query_one(".hint", Static).update(clickable(f"{words} · {LEAVING}", (LEAVING, GO_BACK)))

    def fit_choices(self) -> None:
        """Set what can be chosen into the columns that there are; what is typed into stays in view."""
        if isinstance(self.focused, Input):
            self.focused.scroll_visible(animate=False)
        for choices in self.query(Choices):
            choices.fit_to(self.columns)
