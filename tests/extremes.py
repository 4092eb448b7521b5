"""Machines at the edge of what a profile may say, and entries that contradict each other: does the coach hold?"""

import random
from dataclasses import dataclass, field
from typing import Any

import numpy as np
from machines import machine_table

from coach import Machine, Session
from coach.advice.advice import Advice, Shot
from coach.machine import Learned
from coach.parts import FARTHEST_AT_ONCE

ROUNDS = 10
SIZES = (100.0, 300.0, 600.0, 1500.0, 4000.0)
"""mm of travel: from a desk engraver to a flat bed of four metres."""
REACHES: list[dict[str, Any]] = [
    {"part": "head", "up": 50.0, "back": 50.0},
    {"part": "mirror 2", "right": 50.0},
    {"part": "tube", "up": 50.0, "back": 50.0},
]
POSITIVE = -1e-9
"""The least eigenvalue of a covariance by its largest, rounding allowed for."""


def extreme_machine(chance: random.Random) -> Machine:
    """A machine that a profile may describe, however odd: bed, path, levers, pitch, tape, three to 25 stations."""
    width, depth = chance.choice(SIZES), chance.choice(SIZES)
    table = machine_table(chance.choice(("left", "right")))
    table["bed"] = {"width": width, "depth": depth}
    table["path"] |= {"mirror1_gap": chance.choice((0.0, 50.0, 3000.0)), "mirror2_gap": chance.choice((0.0, 2000.0))}
    table["tape"]["radius"] = chance.choice((1.0, 11.0, 100.0))
    table["aperture"]["head"] = chance.choice((5.0, 18.0, 60.0))
    table["tolerance"] = chance.choice((0.05, 1.0, 20.0))
    table["moves"] = REACHES
    corners = [(0.0, 0.0), (width, 0.0), (width / 2, depth)]  # never on one line
    more = [(chance.uniform(0, width), chance.uniform(0, depth)) for _ in range(chance.choice((0, 2, 22)))]
    places = enumerate([*corners, *more])
    table["stations"] = [{"name": f"s{number}", "x": x, "y": y} for number, (x, y) in places]
    arm, flat = chance.choice((0.5, 5.0, 20.0, 300.0)), chance.choice((1.0, 0.1))  # nearly collinear points too
    for mount in table["mounts"]:
        mount.pop("thread", None)
        mount["pitch"] = chance.choice((0.05, 0.7, 5.0))
        mount["points"] = [
            {"name": "A", "x": -arm, "y": -arm, "kind": "pivot"},
            {"name": "B", "x": arm, "y": -arm, "kind": "screw"},
            {"name": "C", "x": -arm, "y": -arm + 2 * arm * flat, "kind": "screw"},
        ]
    return Machine.model_validate(table)


@dataclass
class Held:
    """What one session on an extreme machine came to; anything that does not hold raises."""

    entries: int = 0
    advised: dict[str, int] = field(default_factory=dict)
    farthest: float = 0.0
    """mm, the largest shift that was advised."""


def played(seed: int, rounds: int = ROUNDS) -> Held:
    """Advice followed with marks anywhere on the tape, doubts of any size, and stops talked away.

    Raises AssertionError for a belief that is not finite, symmetric and positive or for advice out of bounds, and
    whatever the coach raises.
    """
    chance, held = random.Random(seed), Held()
    session = Session.start(extreme_machine(chance))
    for _ in range(rounds):
        advice = session.advice()
        held.advised[advice.kind] = held.advised.get(advice.kind, 0) + 1
        held.farthest = max(held.farthest, *(abs(mm) for mm in (advice.up, advice.right, advice.back)))
        assert held.farthest <= FARTHEST_AT_ONCE
        if advice.kind == "done":
            break
        _entered(session, advice, chance)
        _check(session)
    lessons = [mount.learned for mount in session.learned().mounts if mount.learned]
    assert all(Learned.model_validate(lesson.model_dump()) for lesson in lessons)
    held.entries = len(session.events)
    return held


def _entered(session: Session, advice: Advice, chance: random.Random) -> None:
    for shot in advice.stations[:3]:
        _pulsed(session, shot, chance)
    for turn in advice.turns:
        session.turn(turn.mirror, turn.screws)
    if advice.kind == "shift":
        session.shift(advice.part, up=advice.up, right=advice.right, back=advice.back)
    if advice.kind == "stop":
        session.mended(advice.cause) if chance.random() < 0.5 else session.best(advice.cause)


def _pulsed(session: Session, shot: Shot, chance: random.Random) -> None:
    spot = {"x": shot.x, "y": shot.y, "target": shot.target, "wide": shot.wide}
    if chance.random() < 0.15:
        session.miss(shot.name, **spot)
        return
    radius = session.machine.tape.readable(shot.target, shot.wide)
    u, v = (round(chance.uniform(-radius, radius), 2) for _ in range(2))
    session.mark(shot.name, u=u, v=v, sd=chance.choice((None, 0.01, 50.0)), **spot)


def _check(session: Session) -> None:
    mixture = session.belief.bank.mixture
    assert np.isfinite(mixture.mean).all()
    assert np.isfinite(mixture.cov).all()
    assert np.allclose(mixture.cov, np.swapaxes(mixture.cov, -1, -2))
    values = np.linalg.eigvalsh(mixture.cov)
    assert (values[:, 0] >= POSITIVE * values[:, -1]).all(), values.min()
