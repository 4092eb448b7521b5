"""Heads at the edge of what a profile may say, and entries below mirror 3 that contradict each other, with cuts,
doses and answers that do: does the coach hold?"""

import math
import random
from collections.abc import Iterable

import numpy as np
from extremes import POSITIVE, extreme_machine
from heads import LENS
from machines import mount_table

from coach import Machine, Session
from coach.errors import CoachError, InputError
from coach.parts import FARTHEST_AT_ONCE
from coach.triage.cleaned import Cleaned
from coach.units import MOST_TURNS_AT_ONCE

ROUNDS = 8
SHEETS = ("ply 6 mm, lot 3", "ply 6 mm, lot 4", "acrylic 3 mm")
DEPTHS = (0.0, 40.0, 170.0, 300.0)
LOOKS: tuple[Cleaned, ...] = ("clean", "haze", "burnt")


def extreme_head(chance: random.Random) -> Machine:
    """An extreme machine with an extreme lens, and a mirror 3 of any lever."""
    table = extreme_machine(chance).to_table()
    focal = chance.choice((1.0, 38.1, 500.0))
    gap = chance.choice((0.01, 0.15, 0.9)) * focal
    table["lens"] = LENS | {"focal": focal, "nozzle_distance": gap, "nozzle": chance.choice((0.1, 2.5, 20.0))}
    third = mount_table(3, chance.choice(("push", "pull", "unknown")))
    table["mounts"] = [*table["mounts"][:2], {**third, "points": table["mounts"][0]["points"]}]
    return Machine.model_validate(table)


def played_below(seed: int, rounds: int = ROUNDS) -> int:
    """Advice followed with marks that contradict each other; how many entries were taken.

    Raises AssertionError for a belief that is not finite, symmetric and positive, or advice out of bounds; and
    whatever the coach raises but a refusal of one entry.
    """
    chance = random.Random(seed)
    session = Session.start(extreme_head(chance))
    for _ in range(rounds):
        advice = session.head_advice()
        _bounded(session, (advice.up, advice.right, advice.back), advice.chance if hasattr(advice, "chance") else 0.5)
        _entered(session, chance)
        for turn in advice.turns:
            session.turn(turn.mirror, turn.screws)
        if advice.kind == "shift":
            session.shift(advice.part, up=advice.up, right=advice.right, back=advice.back)
        if advice.kind == "stop":
            session.best(advice.cause)
        for turn in advice.turns:
            assert all(abs(amount) <= MOST_TURNS_AT_ONCE for amount in turn.screws.values())
        _sound(session)
    return len(session.events)


def _entered(session: Session, chance: random.Random) -> None:
    for _ in range(4):
        right, back = (round(chance.uniform(-12, 12), 2) for _ in range(2))
        deed = chance.randrange(5)
        try:
            if deed == 0:
                session.nozzle_mark(right / 10, back / 10, cut=chance.random() < 0.3)
            elif deed == 1:
                session.nozzle_mark()
            else:
                doubt = chance.choice((None, 0.01, 50.0))
                session.bed_mark(right, back, chance.choice(DEPTHS), lens=chance.random() < 0.5, sd=doubt)
        except InputError:  # two heights that tell no lean
            continue
    names = [station.name for station in session.machine.stations]
    for name in chance.sample(names, min(len(names), 4)):
        _cut_and_marked(session, name, chance)
    session.check("bed", chance.choice(("good", "bad")), front_left=chance.uniform(0, 40), front_right=5.0)
    session.care(chance.choice(("lens", "mirror 1", "mirror 3")), chance.choice(LOOKS))


def _cut_and_marked(session: Session, name: str, chance: random.Random) -> None:
    low, wider = chance.choice((None, 0.1, 18.0, 900.0)), chance.choice((1.01, 1.2, 1.1))
    try:
        session.cut(name, fastest=low, next=(low or 1.0) * wider, material=chance.choice(SHEETS), power=60.0)
    except InputError:  # another sheet than the stations before, or cuts too fast to be any
        session.cut(name, fastest=None, next=0.1, material=SHEETS[0], power=chance.choice((1.0, 100.0)), anew=True)
    where = {"u": 0.5, "v": -0.5, "ms": chance.choice((2.0, 70.0, 500.0)), "power": chance.choice((1.0, 100.0))}
    session.mark(name, **where, layers=chance.choice((1, 20)), width=chance.choice((0.3, 3.0, 11.0)))


def _bounded(session: Session, moves: Iterable[float], chance: float) -> None:
    assert all(abs(mm) <= FARTHEST_AT_ONCE for mm in moves)
    assert 0.0 <= chance <= 1.0 + 1e-9
    _finite(session.head_advice().lean, session.head_advice().lean_sd, (session.head_advice().clipped,))


def _finite(*figures: Iterable[float | None]) -> None:
    for number in (number for some in figures for number in some if number is not None):
        assert math.isfinite(number), number


def _sound(session: Session) -> None:
    mixture = session.head_belief.bank.mixture
    assert np.isfinite(mixture.mean).all()
    assert np.allclose(mixture.cov, np.swapaxes(mixture.cov, -1, -2))
    values = np.linalg.eigvalsh(mixture.cov)
    assert (values[:, 0] >= POSITIVE * values[:, -1]).all(), values.min()
    try:
        check = session.cuts()
    except CoachError:  # too few stations in this check
        pass
    else:
        _finite(vars(check.uniformity).values() if hasattr(check.uniformity, "__dict__") else check.uniformity)
    for dose in session.doses().values():
        _finite((dose.needed, dose.low, dose.high, dose.expected))
    _finite(session.power().values())
    _finite(suspect.minutes for suspect in session.suspects())
    assert session.verdict() is not None
