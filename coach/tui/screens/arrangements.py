"""What is tried to fit a step into a terminal, and in which order: what gives way first, and what next.

Large letters come first: they are what is read from the machine.  Then space between the parts goes, then the large
type shrinks, choices and caution before figure and action; then the picture goes, then the later cautions are said in
a few words, then the large type goes altogether, and last the line that says how far the job is.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product

from coach.steps.cautions import Caution

SMALLEST = (80, 24)
"""Columns and rows from which everything must be in view."""
TALL = 36
"""Rows from which plain letters are too small to be read standing: choices and the first caution are large too."""
LISTED = 28
"""Rows from which each caution has a row of its own."""


@dataclass(frozen=True)
class Content:
    """What there is to show."""

    action: str
    figure: str
    text: tuple[str, ...]
    """Paragraphs."""
    choices: tuple[str, ...]
    own: tuple[Caution, ...]
    """The step's own cautions, most important first."""
    whole: bool
    """Whether the three that always stand are said in whole sentences."""
    picture: bool
    spare: int = 0
    """So many paragraphs at the end were said a step ago and may be left to the help."""
    ascii_only: bool = False
    side: tuple[str, ...] = ()
    """Rows beside the picture or below it: what was done so far."""
    second: bool = False
    """Whether there is a second picture, for where there is room."""


@dataclass(frozen=True, kw_only=True)
class Attempt:
    """One arrangement: letters in rows, and what is left out."""

    gap: int = 0
    action: int = 1
    figure: int = 1
    picture: bool = False
    listed: bool = False
    """One row for each caution instead of one paragraph of all."""
    choices: bool = False
    """Choices in large letters."""
    caution: bool = False
    """The first caution in large letters too."""
    whole: bool = True
    """With the text that can be left out."""
    brief: bool = False
    """The three that always stand in a few words, where the step would have them in whole sentences."""
    plain: bool = False
    """Whether action and figure may be in plain letters."""
    sentences: int | None = None
    """So many of the step's own cautions in whole sentences, the later ones in a few words; None: all of them."""
    where: bool = True
    """With the line that says how far the job is."""


def attempts(content: Content, width: int, height: int) -> Iterator[Attempt]:
    """Arrangements from the one with most to the one with least, for terminals of 60 columns and more."""
    if width < 60:
        return
    pictures = [True, False] if content.picture and width >= SMALLEST[0] else [False]
    for picture in pictures:
        for figures in ((7, 5, 3), (1,)) if content.figure else ((1,),):
            yield from _spacious(content, height, picture, figures)
    for picture, action in product(pictures, _actions(height)):
        yield Attempt(picture=picture, action=action, whole=not content.spare, brief=True)
    fewer = range(len(content.own) - 1, 0, -1)
    for sentences, action in product(fewer, _actions(height)):
        yield Attempt(action=action, whole=not content.spare, brief=True, sentences=sentences)
    for brief, picture, whole in product((False, True), pictures, _texts(content)):
        yield Attempt(picture=picture, whole=whole, plain=True, brief=brief)
    for where, sentences in product((True, False), fewer):
        yield Attempt(whole=not content.spare, plain=True, brief=True, sentences=sentences, where=where)


def _spacious(content: Content, height: int, picture: bool, figures: tuple[int, ...]) -> Iterator[Attempt]:
    """With these sizes of the figure: letters before space; the action outlives the first caution's letters."""
    tall, roomy = height >= TALL, height >= LISTED
    letters = [(True, True), (False, True), (True, False), (False, False)] if tall else [(False, False)]
    spaces = [(1, True), (0, True)] if roomy else [(1, False), (0, False)]
    large = [action for action in _actions(height) if action > 3]
    for (caution, choices), figure, action in (
        *product(letters[:2], figures, large if tall else _actions(height)),
        *(product(letters, figures, _actions(height)) if tall else ()),
    ):
        for whole, (gap, listed) in product(_texts(content), spaces):
            yield Attempt(
                gap=gap, action=action, figure=figure, picture=picture, listed=listed, choices=choices,
                caution=caution, whole=whole,
            )  # fmt: skip


def _actions(height: int) -> list[int]:
    """Rows that the action may take, most first."""
    return sorted({max(height // 4, 7), 5, 3}, reverse=True)


def _texts(content: Content) -> list[bool]:
    """With the text that can be left out; where there is some, without it too."""
    return [True, False] if content.spare else [True]
