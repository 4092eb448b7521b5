"""From belief to the next action.

The order of the questions: is a reading in doubt? · is everything centred and confirmed? · is something
wrong that no screw cures? · is enough known to adjust? · otherwise make the mark that tells most.
"""

from collections.abc import Callable
from dataclasses import replace

import numpy as np

from coach.advice import words
from coach.advice.adjust import (
    Adjustment,
    ShiftChoice,
    best_shift,
    likeliest_drives,
)
from coach.advice.advice import ENOUGH, Advice, Outlook, Shot
from coach.advice.close_call import closest_call, worth_a_mark
from coach.advice.outlook import outlook
from coach.advice.remaining import remaining
from coach.advice.shots import (
    Candidate,
    candidate,
    first_search,
    marked_at,
    mixture_cov,
    nearer_points,
    unmarked,
)
from coach.advice.stops import stop_cause
from coach.advice.turns import as_mirror_turns, best_turns, spread_cost
from coach.advice.weigh import Ways, weigh
from coach.belief.belief import Belief, mixture
from coach.belief.layout import FIRST_SCREW

SURE = 0.97
"""Probability of every station within tolerance from which the coach says "done" at once; from `ENOUGH`
it says so when nothing is expected to make it surer."""
MOST_ROUNDS = 12
"""Rounds of adjusting after which the screws have had their chance."""
FIRST_RISK = 0.015
"""Chance of leaving a small tape that the very first mark at the head may carry, as nothing could make it surer."""
AT_ONCE = 1.5
"""A shift follows a turn at once when the mean offset is this many times its doubt."""
DOUBTED = 0.30
"""Probability of being wrong from which a reading is asked for again."""
KNOWN_ENOUGH = 0.35
"""Share of the cost after turning that may come from not knowing the beam well enough."""
SUSPECTED = 0.5
"""Probability of a yaw or a loose part from which every station is marked before anything is adjusted again."""
PROOFS = 2
"""Marks made again before a yaw or a loose part is named."""


def advise(belief: Belief) -> Advice:
    """The next action.  A pure function of the belief."""
    now = outlook(belief.layout, belief.settled)
    todo = unmarked(belief)
    questions = (_doubted_reading, _finished, _hopeless, _adjust)
    answers = (question(belief, now, todo) for question in questions)
    advice = next((answer for answer in answers if answer is not None), None)
    if advice is None:
        advice = _shoot_or_stop(belief, now, todo)
    if advice.kind in ("done", "stop"):
        return advice
    return replace(advice, left=remaining(belief, now, len(todo)))


def _doubted_reading(belief: Belief, now: Outlook, todo: list[Candidate]) -> Advice | None:
    """Ask once more for the reading that contradicts the others most."""
    sightings = belief.round_sightings
    suspicion = belief.suspicion
    if suspicion.sum() < DOUBTED:
        return None
    for index in np.argsort(-suspicion):
        sighting = sightings[int(index)]
        if suspicion[index] > DOUBTED / 4 and marked_at(belief, sighting.x, sighting.y) < 2:
            again = candidate(belief, sighting.station, sighting.x, sighting.y, sighting.target)
            if again.safe:
                return Advice("shoot", words.again(sighting, again.shot), now, stations=(again.shot,))
    return None


def _finished(belief: Belief, now: Outlook, todo: list[Candidate]) -> Advice | None:
    if now.chance < SURE:
        return None
    if not todo:
        return Advice("done", words.done(belief, now), now)
    safe = [c for c in todo if c.safe]
    return _shoot(belief, now, safe, words.confirm) if safe else None


def _hopeless(belief: Belief, now: Outlook, todo: list[Candidate]) -> Advice | None:
    """A cause that no screw cures; the machine is blamed only after the oddest marks were made again."""
    found = stop_cause(belief)
    if found is None or (todo and any(c.safe for c in todo)):
        return None
    repeated = len(belief.round_sightings) - len(belief.layout.machine.stations)
    if found.cause in ("yaw", "loose") and repeated < PROOFS:
        again = _oddest(belief)
        if again is not None:
            return Advice("shoot", words.proof(again.shot), now, stations=(again.shot,))
    return Advice("stop", found.why, now, cause=found.cause, look_at=found.look_at)


def _oddest(belief: Belief) -> Candidate | None:
    """The place of the mark that fits least, among those marked only once."""
    for index in np.argsort(-belief.suspicion):
        sighting = belief.round_sightings[int(index)]
        again = candidate(belief, sighting.station, sighting.x, sighting.y, sighting.target)
        if again.safe and marked_at(belief, sighting.x, sighting.y) == 1:
            return again
    return None


def _adjust(belief: Belief, now: Outlook, todo: list[Candidate]) -> Advice | None:
    """Turn if that is expected to help and enough is known; else shift if that is all that is missing."""
    if belief.rounds >= MOST_ROUNDS:
        return None
    if belief.adjustments and not belief.round_sightings:
        return _shift_at_once(belief, now)
    markable = any(c.safe for c in todo)
    suspected = belief.cause("yaw") + belief.cause("loose") > SUSPECTED
    if markable and (belief.adjustments == 0 or suspected):
        return None
    if not todo and now.chance >= ENOUGH:
        return None
    ways = weigh(belief, now)
    again = None if todo else closest_call(belief, now)
    if again is not None and worth_a_mark(belief, again, min(ways.turn_cost, ways.shift_cost)):
        return None
    if ways.turn is not None and ways.turn.probe:
        probe = _probe(belief, now, ways, todo)
        if probe is not None or markable:
            return probe
    best = ways.best if markable else ways.best_adjustment(now)
    if best == "turn" and ways.turn is not None:
        return _turn(belief, now, ways.turn)
    if best == "shift" and ways.shift is not None:
        return _move(belief, now, ways.shift)
    return None


def _probe(belief: Belief, now: Outlook, ways: Ways, todo: list[Candidate]) -> Advice | None:
    """A small turn while a drive is unsettled, once the beam is known well enough to see it."""
    centred = ways.shift.then if ways.shift else now
    enough = _unknown_share(belief) < KNOWN_ENOUGH or not any(c.safe for c in todo)
    if ways.turn is None or not enough or max(now.chance, centred.chance) > SURE:
        return None
    return _turn(belief, now, ways.turn)


def _turn(belief: Belief, now: Outlook, adjustment: Adjustment) -> Advice:
    turns = as_mirror_turns(belief.layout, adjustment.turns)
    return Advice("turn", words.turn(belief, adjustment), now, then=adjustment.then, turns=turns)


def _shift_at_once(belief: Belief, now: Outlook) -> Advice | None:
    """Right after a turn, without a mark between: only a shift that is needed whatever the turn did."""
    mean, cov = mixture(belief.settled, belief.layout.station_rows.mean(axis=0))
    far_off = np.hypot(*mean) > AT_ONCE * np.sqrt(np.linalg.eigvalsh(cov)[-1])
    shift = best_shift(belief)
    return _move(belief, now, shift) if far_off and shift is not None and shift.then.better_than(now) else None


def _move(belief: Belief, now: Outlook, shift: ShiftChoice) -> Advice:
    why = words.shift(belief, shift)
    up, right, back = shift.up, shift.right, shift.back
    return Advice("shift", why, now, then=shift.then, part=shift.part, up=up, right=right, back=back)


def _unknown_share(belief: Belief) -> float:
    """Of the cost expected after the best turn, the share that more marks could take away."""
    bank = likeliest_drives(belief.settled)
    cost = spread_cost(belief.layout, bank)
    after = cost.of(best_turns(cost, belief.last_direction))
    rows = belief.layout.station_rows
    apart = (rows - rows.mean(axis=0)).reshape(-1, belief.layout.size)[:, :FIRST_SCREW]
    unknown = np.einsum("in,nm,im->", apart, mixture_cov(belief)[:FIRST_SCREW, :FIRST_SCREW], apart) / len(rows)
    return float(unknown / max(after, 1e-9))


def _shoot_or_stop(belief: Belief, now: Outlook, todo: list[Candidate]) -> Advice:
    safe = [c for c in todo if c.safe]
    if safe:
        return _shoot(belief, now, safe, words.explore)
    if todo:
        nearer = [c for c in nearer_points(belief) if c.safe]
        if nearer:
            return _shoot(belief, now, nearer, words.nearer)
        search = first_search(belief)
        if search.safe and not any(s.target == "mirror 2" for s in belief.round_sightings):
            return Advice("shoot", words.search(), now, stations=(search.shot,))
        surest = min((*todo, *nearer_points(belief)), key=lambda c: c.risk)
        begun = belief.adjustments or any(s.target == "head" for s in belief.round_sightings)
        if surest.risk < FIRST_RISK and not begun:
            return Advice("shoot", words.surest(surest.shot, surest.risk), now, stations=(surest.shot,))
        return Advice("stop", words.off_tape(), now, cause="off the tape", look_at=words.OFF_TAPE_LOOK_AT)
    return _repeat_or_stop(belief, now)


def _repeat_or_stop(belief: Belief, now: Outlook) -> Advice:
    """Every station has its mark, and no adjustment is expected to help."""
    again = closest_call(belief, now)
    if again is not None:
        return Advice("shoot", words.repeat(belief, again.shot), now, stations=(again.shot,))
    if now.chance >= ENOUGH:
        return Advice("done", words.done(belief, now), now)
    why = words.tried_enough if belief.rounds >= MOST_ROUNDS else words.coarse
    return Advice("stop", why(belief, now), now, cause="coarse", look_at=words.COARSE_LOOK_AT)


def _shoot(belief: Belief, now: Outlook, candidates: list[Candidate], why: Callable[[Belief, Shot], str]) -> Advice:
    best = max(candidates, key=lambda c: c.tells)
    return Advice("shoot", why(belief, best.shot), now, stations=(best.shot,))
