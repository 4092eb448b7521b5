"""The band of cautions: the step's own first, each with its signal word, then the three that always stand."""

import re
import textwrap
from collections.abc import Sequence
from itertools import pairwise
from typing import get_args

from coach.steps.cautions import ALWAYS, Caution, Signal
from coach.tui.widgets.bigfont import set_text

SIGN = "⚠"
JOINED = "\N{NO-BREAK SPACE}"
"""Keeps the sign, the signal word and the first word after them in one row."""
SIGNALLED = re.compile(rf"(?:{SIGN}\s)?\b({'|'.join(get_args(Signal))})\s")
"""A signal word, with its sign where it has one, as it stands in a row."""


def signalled(caution: Caution, text: str) -> str:
    """The text behind its signal word."""
    return f"{SIGN}{JOINED}{caution.signal}{2 * JOINED}{text}"


def band_rows(
    own: Sequence[Caution],
    width: int,
    *,
    listed: bool,
    whole: bool,
    large: bool = False,
    ascii_only: bool = False,
    sentences: int | None = None,
) -> tuple[str, ...]:
    """The rows of the step's own cautions, then of the three; all of them wrapped.

    `listed`: a row for each instead of one paragraph of all.  `whole`: the three in whole sentences; without it they
    are said in brief.  `large`: the first one is said in large letters too, below its sentence.  `sentences`: so many
    of the step's own in whole sentences, the others in a few words; None: all of them.
    """
    width = max(width, 12)
    rows: list[str] = []
    first = own[:1] if large else ()
    for caution in first:
        rows += _wrapped(signalled(caution, caution.text), width)
        rows += set_text(caution.brief, width, ascii_only=ascii_only, largest="small").rows
    rest = (*own[len(first) :], *(ALWAYS if whole else ()))
    said = [caution.text for caution in rest]
    if sentences is not None:
        said[sentences : len(own)] = [f"{caution.brief}." for caution in own[sentences:]]
    texts = [signalled(caution, text) for caution, text in zip(rest, said, strict=True)]
    for paragraph in texts if listed else filter(None, ["  ".join(texts)]):
        rows += _wrapped(paragraph, width)
    if not whole:
        rows += _wrapped(standing_text(), width)
    return tuple(rows)


def briefest(own: Sequence[Caution], width: int) -> tuple[str, ...]:
    """These and the three in a few words each, for the smallest terminals."""
    width = max(width, 12)
    rows = [row for caution in own for row in _wrapped(signalled(caution, f"{caution.brief}."), width)]
    return (*rows, *_wrapped(standing_text(), width))


def standing_text() -> str:
    """The three in a few words each, the signal word said where it changes."""
    parts = [signalled(ALWAYS[0], ALWAYS[0].brief)]
    for before, caution in pairwise(ALWAYS):
        parts.append(caution.brief if caution.signal == before.signal else f"{caution.signal}{JOINED}{caution.brief}")
    return " · ".join(parts)


def _wrapped(text: str, width: int) -> list[str]:
    return textwrap.wrap(text, width, subsequent_indent="  ", break_on_hyphens=False)
