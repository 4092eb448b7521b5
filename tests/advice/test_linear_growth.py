"""Thousands of entries: what is computed from them grows with their number, not with its square.

Calls of functions are counted, not seconds: twice the entries may make little more than twice the calls.
"""

import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from contradicting import ASKED
from extremes_below import played_below
from machines import make_machine

from coach import Session
from coach.session.contradictions import contradictions
from coach.session.document import Document
from coach.steps.cut_progress import cut_progress

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
@pytest.mark.sweep
def test_what_is_computed_grows_with_the_entries(what: str) -> None:
    """For the beam, doses, the head, cuts and what changed: entered one by one, and asked of what a file held."""
    make, ask = ASKED[what]
    entered, anew = [], []
    for number in (FEW, 2 * FEW):
        made: list[Session] = []
        entered.append(calls(lambda number=number, made=made: made.append(make(number))))
        session = Session(made[0]._doc)  # as it comes from its file: nothing is remembered
        anew.append(calls(lambda session=session: ask(session)))
    assert entered[1] <= TWICE * entered[0]
    assert anew[1] <= TWICE * anew[0]


def test_a_file_of_corrections_is_read_as_quickly() -> None:
    """Each points to a mark before it, which is not looked for in all of them."""

    def corrected(number: int) -> Document:
        session = Session.start(make_machine())
        session.mark("middle", u=1.0, v=0.0)
        for index in range(number):
            session.amend(1, u=index / 100, v=0.0)
        return session._doc

    few, many = corrected(8 * FEW), corrected(16 * FEW)
    assert calls(lambda: [*contradictions(many, Path())]) <= TWICE * calls(lambda: [*contradictions(few, Path())])


def test_a_cut_check_is_not_looked_through_for_every_mark_after_it() -> None:
    """Once whole it stays so, however much is done to the machine before it is cut again."""

    def visited(number: int) -> Session:
        session = Session.start(make_machine())
        session.begin("cut check")
        for place in session.machine.stations:
            session.cut(place.name, fastest=18.0, next=20.0, material="ply 6 mm, lot 3")
        session.begin("beam path")
        for _ in range(number):
            session.lock(1)
        return session

    few, many = visited(FEW), visited(2 * FEW)
    assert calls(lambda: cut_progress(many, "cut check")) <= TWICE * calls(lambda: cut_progress(few, "cut check"))
    assert cut_progress(many, "cut check").station is None


def test_what_grows_with_the_square_is_seen() -> None:
    """The count can fail: of pairs there are four times as many."""

    def pairs(number: int) -> object:
        return [len((one, other)) for one in range(number) for other in range(number)]

    assert calls(lambda: pairs(2 * FEW)) > 3.5 * calls(lambda: pairs(FEW))


@pytest.mark.parametrize("seed", range(2))
def test_extreme_heads_cuts_and_doses_hold(seed: int) -> None:
    """Belief finite, symmetric, positive; advice within what entries take; no number that is none."""
    assert played_below(seed, 3) > 0
