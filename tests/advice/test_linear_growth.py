"""Thousands of entries: what is computed from them grows with their number, not with its square.

Calls of functions are counted, not seconds: twice the entries may make little more than twice the calls.
"""

import sys
from collections.abc import Callable

import pytest
from contradicting import ASKED, below
from extremes_below import played_below

from coach import Session

FEW = 24
TWICE = 2.2
"""Times as many calls for twice as many entries: what does not grow makes it less, a square four."""


def calls(deed: Callable[[], object]) -> int:
    """How many functions are called for it."""
    counted = 0

    def count(_: object, event: str, __: object) -> None:
        nonlocal counted
        counted += event in ("call", "c_call")

    before = sys.getprofile()
    sys.setprofile(count)
    try:
        deed()
    finally:
        sys.setprofile(before)
    return counted


@pytest.mark.parametrize("what", ASKED)
def test_what_is_computed_grows_with_the_entries(what: str) -> None:
    """For the beam, doses, the head, cuts and what changed: from the file, and for one entry more."""
    make, ask = ASKED[what]
    anew = []
    for number in (FEW, 2 * FEW):
        session = Session(make(number)._doc)  # as it comes from its file: nothing is remembered
        anew.append(calls(lambda session=session: ask(session)))
    assert anew[1] <= TWICE * anew[0]


def test_one_more_mark_below_the_head_costs_as_much_as_the_first() -> None:
    """What was believed after the marks before is gone on from; only where they are looked through it grows."""
    few, many = (calls(lambda number=number: below(number)) for number in (FEW, 2 * FEW))
    assert many <= 3.2 * few  # each replayed from the first: 3.9


def test_what_grows_with_the_square_is_seen() -> None:
    """The count can fail: of pairs there are four times as many."""

    def pairs(number: int) -> object:
        return [len((one, other)) for one in range(number) for other in range(number)]

    assert calls(lambda: pairs(2 * FEW)) > 3.5 * calls(lambda: pairs(FEW))


@pytest.mark.parametrize("seed", range(2))
def test_extreme_heads_cuts_and_doses_hold(seed: int) -> None:
    """Belief finite, symmetric, positive; advice within what entries take; no number that is none."""
    assert played_below(seed, 3) > 0
