"""Whom the coach is measured against, on the same machines and with the same hands.

The all-knowing goes by the coach's own advice and knows every screw's true answer: it shows what that is worth.  The
technician knows the same and goes by a rule of its own: it shows the limit.  The habit is written down from common
practice: one screw at a time, an eighth of a turn to see what it does, then in proportion; back again when the mark
is lost; mirror 1, then mirror 2, then centre.
"""

import math
from collections.abc import Callable, Generator
from dataclasses import replace
from datetime import date

import numpy as np

from coach.advice.decide import advise
from coach.advice.facts import MirrorTurn, Shot
from coach.belief.belief import Belief
from coach.belief.kalman import Array
from coach.machine import Machine, Station
from coach.mount import Learned
from coach.optics.shifts import shift_effect
from coach.parts import Direction, Part
from coach.practice.action import Action
from coach.practice.bench import Bench
from coach.practice.conduct import Adviser, Conduct, Mark, conducted
from coach.practice.kinds import Trouble
from coach.practice.technician import Technician
from coach.session.replay import advance
from coach.session.session import Session
from coach.tuning import TUNING, Tuning

Peer = Callable[[Machine, Bench], tuple[Machine, Adviser]]
"""From a machine and its bench to the profile the peer starts with, and its advice."""

TRY = 0.125
"""Turns: "give it an eighth and see"."""
SAME_SPOT = 0.5
"""mm: marks closer together than this pass for one spot."""
_WITH: dict[str, tuple[tuple[Part, Direction], ...]] = {
    "head_u": (("mirror 2", "right"), ("head", "back"), ("mirror 1", "right"), ("tube", "back")),
    "head_v": (("head", "up"), ("tube", "up")),
}
"""What centres, sideways and in height, in the order in which an owner would rather move it."""
PASSES = 4
"""How often the habit goes over both mirrors before it gives up."""


def _as_advised(session: Session) -> Action:
    return Action.of(session.advice())


def the_coach(machine: Machine, bench: Bench) -> tuple[Machine, Adviser]:
    """The coach itself."""
    return machine, _as_advised


def oracle(machine: Machine, bench: Bench) -> tuple[Machine, Adviser]:
    """The coach's own advice, for someone who knows every screw's true answer and how rough the hands really are."""
    mounts = []
    for mount in machine.mounts:
        true = bench.true_responses(mount.mirror)
        tiny = np.diag((0.001 * np.abs(true.ravel()) + 1e-6) ** 2)
        lesson = Learned(
            on=date.today().isoformat(),
            push=1.0 if bench.true_drive(mount.mirror) > 0 else 0.0,
            mean=tuple(true.ravel().tolist()),
            cov=tuple(tuple(row) for row in tiny.tolist()),
        )
        mounts.append(mount.model_copy(update={"learned": lesson}))
    known = machine.model_copy(update={"mounts": tuple(mounts)})
    return known, _Knowing(known, _true_hands(bench.trouble))


def _true_hands(trouble: Trouble) -> Tuning:
    """The tuning of someone who knows how roughly this owner turns, moves and reads."""
    hands = replace(
        TUNING.hands,
        turn_share=trouble.turn_fraction,
        turn_floor=trouble.turn_absolute,
        backlash_mean=trouble.backlash / 2,
        backlash_sd=trouble.backlash / math.sqrt(12),
        shift_share=trouble.shift_fraction,
        shift_floor=trouble.shift_absolute,
    )
    return replace(TUNING, hands=hands, readings=replace(TUNING.readings, sd=math.hypot(trouble.reading, 0.03)))


class _Knowing:
    """The coach's advice from a belief with another tuning than the session's own."""

    def __init__(self, machine: Machine, tuning: Tuning) -> None:
        self._belief = Belief.initial(machine, date.today(), tuning)
        self._heard = 0

    def __call__(self, session: Session) -> Action:
        """The advice after what was entered since the last call."""
        events = session.events
        self._belief, self._heard = advance(self._belief, events[self._heard :]), len(events)
        return Action.of(advise(self._belief))


def baseline(machine: Machine, bench: Bench) -> tuple[Machine, Adviser]:
    """The careful habit, without any model of the screws."""
    return machine, conducted(_habit(machine, bench))


def technician(machine: Machine, bench: Bench) -> tuple[Machine, Adviser]:
    """Someone who knows screws and hands, and goes by a rule of their own."""
    return machine, conducted(Technician(machine, bench).conduct())


def _habit(machine: Machine, bench: Bench) -> Conduct:
    """Mirror 1 front to back, mirror 2 side to side, centre; again until every station is good."""
    near, far1, far2 = _corners(machine)
    for _ in range(PASSES):
        yield from _one_spot(machine, 1, near, far1)
        yield from _one_spot(machine, 2, near, far2)
        offsets = yield from _all_stations(machine)
        if offsets is not None:
            centre = offsets.mean(axis=0)
            if np.hypot(*centre) > 0.3:
                yield from _centring(machine, bench, centre)
                offsets = yield from _all_stations(machine)
        if offsets is not None and (np.hypot(offsets[:, 0], offsets[:, 1]) <= machine.tolerance).all():
            yield Action("done")
            return


def _corners(machine: Machine) -> tuple[Station, Station, Station]:
    """The station nearest to mirror 2's end at the back, and the farthest along leg 1 and along leg 2."""
    left = machine.path.side == "left"

    def leg2(station: Station) -> float:
        return station.x if left else machine.bed.width - station.x

    near = min(machine.stations, key=lambda s: leg2(s) + machine.bed.depth - s.y)
    far1 = max(machine.stations, key=lambda s: machine.bed.depth - s.y - leg2(s))
    far2 = max(machine.stations, key=lambda s: leg2(s) - (machine.bed.depth - s.y))
    return near, far1, far2


def _shoot(station: Station) -> Generator[Action, Mark, Mark]:
    seen = yield Action("shoot", stations=(Shot(station.name, station.x, station.y),))
    return seen


def _turn(mirror: int, screw: str, amount: float) -> Generator[Action, Mark, None]:
    amount = float(np.clip(round(amount * 64) / 64, -1.0, 1.0))
    if amount:
        yield Action("turn", turns=(MirrorTurn(mirror, {screw: amount}),))


def _difference(near: Station, far: Station) -> Generator[Action, Mark, Array | None]:
    """Far mark minus near mark, or None when one of them is not on the tape."""
    close = yield from _shoot(near)
    distant = yield from _shoot(far)
    return None if close is None or distant is None else np.subtract(distant, close)


def _one_spot(machine: Machine, mirror: int, near: Station, far: Station) -> Conduct:
    """Make the marks at both ends of a leg fall on one spot, screw by screw."""
    apart = yield from _difference(near, far)
    for screw in machine.mount(mirror).screws:
        if apart is not None and np.hypot(*apart) < SAME_SPOT:
            return
        amount = TRY
        yield from _turn(mirror, screw.name, amount)
        after = yield from _difference(near, far)
        if after is None:  # lost the mark: back again and half a try the other way
            yield from _turn(mirror, screw.name, -1.5 * TRY)
            amount = -0.5 * TRY
            after = yield from _difference(near, far)
        if after is None or apart is None:
            apart = after
            continue
        effect = (after - apart) / amount
        strength = float(effect @ effect)
        if strength > 0:
            yield from _turn(mirror, screw.name, -float(after @ effect) / strength)
            apart = yield from _difference(near, far)


def _all_stations(machine: Machine) -> Generator[Action, Mark, Array | None]:
    seen: list[Mark] = []
    for station in machine.stations:
        mark = yield from _shoot(station)
        seen.append(mark)
    return None if any(s is None for s in seen) else np.array(seen, dtype=float)


def _centring(machine: Machine, bench: Bench, centre: Array) -> Conduct:
    """Bring the centre in with the part that an owner would rather move, of those that can be moved so far."""
    moves: dict[str, dict[Direction, float]] = {}
    for axis, off in (("head_u", float(centre[0])), ("head_v", float(centre[1]))):
        for part, way in _WITH[axis]:
            along = {way: 1.0}
            amount = round(-off / float(getattr(shift_effect(machine.path.side, part, **along), axis)), 1)
            if amount and abs(bench.room(part, way, amount)) >= abs(amount) - 0.05:
                moves.setdefault(part, {})[way] = amount
                break
    for moved, by in moves.items():
        yield Action("shift", part=moved, up=by.get("up", 0.0), right=by.get("right", 0.0), back=by.get("back", 0.0))
