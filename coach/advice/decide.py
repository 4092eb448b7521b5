"""From belief to the next action.

The order of the questions: is a reading in doubt? · is everything centred and confirmed? · is something
wrong that no screw cures? · is enough known to adjust? · otherwise make the mark that tells most.
"""

from collections.abc import Callable

import numpy as np

from coach.advice import words
from coach.advice.adjust import (
    Adjustment,
    ShiftChoice,
    best_adjustment,
    best_shift,
    likeliest_drives,
)
from coach.advice.advice import Advice, Outlook, Shot
from coach.advice.outlook import outlook
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
from coach.belief.belief import Belief, mixture

DONE_CHANCE = 0.93
"""Probability of every station within tolerance from which the coach says "done"."""
GAIN = 0.15
"""An adjustment must raise that probability by this much to be advised."""
SMALLER = 0.8
"""... or shrink the squared spread, or the worst offset, to this share of itself."""
AT_ONCE = 1.5
"""A shift follows a turn at once when the mean offset is this many times its doubt."""
DOUBTED = 0.30
"""Probability of being wrong from which a reading is asked for again."""
KNOWN_ENOUGH = 0.35
"""Share of the cost after turning that may come from not knowing the beam well enough."""
REPEATS = 3
"""Marks at one station in one round; more would tell little."""


def advise(belief: Belief) -> Advice:
    """The next action.  A pure function of the belief."""
    now = outlook(belief.layout, belief.settled)
    todo = unmarked(belief)
    for question in (_doubted_reading, _finished, _hopeless, _adjust):
        advice = question(belief, now, todo)
        if advice is not None:
            return advice
    return _shoot_or_stop(belief, now, todo)


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
            return Advice("shoot", words.again(sighting, again.shot), now, stations=(again.shot,))
    return None


def _finished(belief: Belief, now: Outlook, todo: list[Candidate]) -> Advice | None:
    if now.chance < DONE_CHANCE:
        return None
    if not todo:
        return Advice("done", words.done(belief, now), now)
    safe = [c for c in todo if c.safe]
    return _shoot(belief, now, safe, words.confirm) if safe else None


def _hopeless(belief: Belief, now: Outlook, todo: list[Candidate]) -> Advice | None:
    found = stop_cause(belief)
    if found is None or (todo and any(c.safe for c in todo)):
        return None
    return Advice("stop", found.why, now, cause=found.cause, look_at=found.look_at)


def _adjust(belief: Belief, now: Outlook, todo: list[Candidate]) -> Advice | None:
    """Turn if that is expected to help and enough is known; else shift if that is all that is missing."""
    if belief.adjustments and not belief.round_sightings:
        return _shift_at_once(belief, now)
    if not _enough_marks(belief, todo):
        return None
    shift = best_shift(belief)
    adjustment = best_adjustment(belief)
    if adjustment is not None and _worth_turning(belief, adjustment, shift.then if shift else now):
        turns = as_mirror_turns(belief.layout, adjustment.turns)
        why = words.turn(belief, adjustment)
        return Advice("turn", why, now, then=adjustment.then, turns=turns)
    if shift is not None and helps(now, shift.then):
        return _move(belief, now, shift)
    return None


def _shift_at_once(belief: Belief, now: Outlook) -> Advice | None:
    """Right after a turn, without a mark between: only a shift that is needed whatever the turn did."""
    mean, cov = mixture(belief.settled, belief.layout.station_rows.mean(axis=0))
    far_off = np.hypot(*mean) > AT_ONCE * np.sqrt(np.linalg.eigvalsh(cov)[-1])
    shift = best_shift(belief)
    return _move(belief, now, shift) if far_off and shift is not None and helps(now, shift.then) else None


def _move(belief: Belief, now: Outlook, shift: ShiftChoice) -> Advice:
    why = words.shift(belief, shift)
    amounts = {"up": shift.up, "right": shift.right, "back": shift.back}
    return Advice("shift", why, now, then=shift.then, part=shift.part, **amounts)


def _enough_marks(belief: Belief, todo: list[Candidate]) -> bool:
    """In the first round every safe station; later as soon as the beam's own doubt matters little."""
    if belief.adjustments == 0 and any(c.safe for c in todo):
        return False
    return _unknown_share(belief) < KNOWN_ENOUGH or not any(c.safe for c in todo)


def _unknown_share(belief: Belief) -> float:
    """Of the cost expected after the best turn, the share that more marks could take away."""
    bank = likeliest_drives(belief.settled)
    cost = spread_cost(belief.layout, bank)
    after = cost.of(best_turns(cost))
    rows = belief.layout.station_rows
    apart = (rows - rows.mean(axis=0)).reshape(-1, belief.layout.size)[:, :9]
    unknown = np.einsum("in,nm,im->", apart, mixture_cov(belief)[:9, :9], apart) / len(rows)
    return float(unknown / max(after, 1e-9))


def _worth_turning(belief: Belief, adjustment: Adjustment, by_shift: Outlook) -> bool:
    """Whether the spread is expected to shrink, and centring alone would not do."""
    if by_shift.chance > DONE_CHANCE:
        return False
    if adjustment.probe:
        return True
    return adjustment.spread_share < SMALLER and adjustment.then.chance > by_shift.chance - GAIN / 3


def helps(before: Outlook, then: Outlook) -> bool:
    """Whether an adjustment is expected to gain enough to be worth a person's turn of the hand."""
    return then.chance > before.chance + GAIN or then.worst < SMALLER * before.worst


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
        return Advice("stop", words.off_tape(), now, cause="off the tape", look_at=words.OFF_TAPE_LOOK_AT)
    return _repeat_or_stop(belief, now)


def _repeat_or_stop(belief: Belief, now: Outlook) -> Advice:
    again = [
        candidate(belief, s.name, s.x, s.y)
        for s in belief.layout.machine.stations
        if marked_at(belief, s.x, s.y) < REPEATS
    ]
    again = [c for c in again if c.safe]
    if again and now.chance > 0.2:
        return _shoot(belief, now, again, words.repeat)
    return Advice("stop", words.coarse(belief, now), now, cause="coarse", look_at=words.COARSE_LOOK_AT)


def _shoot(belief: Belief, now: Outlook, candidates: list[Candidate], why: Callable[[Belief, Shot], str]) -> Advice:
    best = max(candidates, key=lambda c: c.tells)
    return Advice("shoot", why(belief, best.shot), now, stations=(best.shot,))
