"""Sessions with as many entries as wanted, which contradict each other, and what is asked of each."""

import random
from collections.abc import Callable

from heads import head_machine
from machines import make_machine

from coach import Session


def marked(number: int) -> Session:
    """So many contradictory marks of one round, with doses."""
    session, chance = Session.start(make_machine()), random.Random(1)
    names = [place.name for place in session.machine.stations]
    for index in range(number):
        u, v = (round(chance.uniform(-3, 3), 2) for _ in range(2))
        session.mark(names[index % len(names)], u=u, v=v, ms=70.0, power=12.0, layers=1, width=2.0 + chance.random())
    return session


def below(number: int) -> Session:
    """So many contradictory marks on a card."""
    session, chance = Session.start(head_machine()), random.Random(1)
    for index in range(number):
        right, back = (round(chance.uniform(-3, 3), 2) for _ in range(2))
        session.bed_mark(right, back, lowered=(0.0, 170.0)[index % 2])
    return session


def cut(number: int) -> Session:
    """So many cuts, each station again and again."""
    session = Session.start(make_machine())
    names = [place.name for place in session.machine.stations]
    for index in range(number):
        fastest = float(10 + index % 9)
        session.cut(names[index % len(names)], fastest=fastest, next=30.0, material="ply 6 mm, lot 3", power=60.0)
    return session


def answered(number: int) -> Session:
    """So many answers, checks and looks that contradict each other."""
    session = Session.start(make_machine())
    for index in range(number):
        session.answer("weak", ("everywhere alike", "at one place")[index % 2])
        session.check("bed", ("good", "bad")[index % 2], front_left=5.0, front_right=6.0)
        session.care("lens", ("clean", "haze")[index % 2])
    return session


ASKED: dict[str, tuple[Callable[[int], Session], Callable[[Session], object]]] = {
    "beam": (marked, lambda session: session.advice()),
    "dose": (marked, lambda session: (session.doses(), session.power())),
    "head": (below, lambda session: session.head_advice()),
    "cuts": (cut, lambda session: session.cuts()),
    "triage": (answered, lambda session: (session.suspects(), session.verdict(), session.questions())),
}
