"""Hands go to the tube last of all, and only by what marks show."""

from coach.advice.weigh import in_order
from coach.practice.bench import Bench
from coach.practice.owner import Owner
from coach.practice.peers import the_coach
from coach.practice.zoo import case_named
from coach.session.events import Mark, Shift, Turn
from coach.session.session import Session

CASE = case_named("tube-only")


def _played(seed: int) -> Session:
    """One job on a machine of which nothing but the tube can be moved."""
    machine = CASE.machine(seed)
    bench = Bench(machine, seed, CASE.kind, travel=CASE.travel)
    session = Session.start(machine)
    owner, (_, adviser) = Owner(session, bench), the_coach(machine, bench)
    for _ in range(120):
        action = adviser(session)
        if action.kind in ("done", "stop"):
            return session
        if action.kind == "shoot":
            owner.shoot(action.stations)
        else:
            owner.adjust(action)
    raise AssertionError("the job does not end")


def test_no_tube_is_moved_unseen_after_hands_were_elsewhere() -> None:
    """Whatever was turned or moved before it, a mark has shown what that did; and it is moved often enough."""
    moved = 0
    for seed in range(7100, 7112):
        newest = ""
        for event in _played(seed).effective:
            if isinstance(event, Shift) and event.part == "tube":
                assert newest == "mark", seed
                moved += 1
            if isinstance(event, Mark | Turn | Shift):
                newest = event.kind
    assert moved >= 4


def test_of_several_parts_the_tube_comes_last() -> None:
    """In whatever order the machine names them."""
    ways = (("tube", "back"), ("mirror 1", "right"), ("head", "up"), ("mirror 2", "right"))
    parts = [move.part for move in in_order(ways, [1.0, 1.0, 1.0, 1.0])]
    assert parts == ["mirror 2", "head", "mirror 1", "tube"]
