"""From belief to the next action.

The order of the questions: did a pulse leave nothing, or no whole mark? · is a reading in doubt? · is everything
centred and confirmed? · is something wrong that no screw cures? · is enough known to adjust? · otherwise
make the mark that tells most.
"""

from dataclasses import replace
from typing import assert_never

import numpy as np

from coach.advice import reasons
from coach.advice.advice import Advice, Cause
from coach.advice.clipped import after_clipped
from coach.advice.close_call import closest_call, worth_a_mark
from coach.advice.ending import best_there_is, centred
from coach.advice.facts import Outlook, Shot
from coach.advice.moves import mean_offset
from coach.advice.offset_cost import worst_cost
from coach.advice.outlook import outlook
from coach.advice.ranking import minutes_to_go
from coach.advice.remaining import remaining
from coach.advice.shots import Candidate, candidate, first_search, nearer_points, unmarked_candidates, wide_candidates
from coach.advice.silence import after_nothing, dosed
from coach.advice.stops import StopReason, stop_reason, unproven_loose
from coach.advice.turns import as_mirror_turns
from coach.advice.weigh import Plan, best_plan, drives, worth_it
from coach.belief.belief import Belief
from coach.belief.layout import A1_U, A2_U
from coach.belief.measurements import Sighting
from coach.belief.pulses import same_place

CONTRADICTING_SHARE = 0.25
"""A single reading must carry this share of the round's doubt to be the one that is asked for again."""


def advise(belief: Belief) -> Advice:
    """The next action.  A pure function of the belief; it says nothing in words or units."""
    now = outlook(belief.layout, belief.settled)
    todo = unmarked_candidates(belief)
    questions = (after_nothing, after_clipped, _doubted_reading, _finished, _hopeless, _adjust)
    answers = (question(belief, now, todo) for question in questions)
    advice = next((answer for answer in answers if answer is not None), None)
    if advice is None:
        advice = _shoot_or_stop(belief, now, todo)
    if advice.kind in ("done", "stop"):
        return advice
    shots = tuple(dosed(belief, shot) for shot in advice.stations)
    return replace(advice, left=remaining(belief, now), stations=shots)


def _shoot(shot: Shot, now: Outlook, reason: reasons.Reason) -> Advice:
    return Advice("shoot", reason, now, stations=(shot,))


def _most_informative(candidates: list[Candidate]) -> Shot:
    return max(candidates, key=lambda c: c.information).shot


def _marked_once(belief: Belief, place: Sighting) -> bool:
    """Whether there is one mark of this round at that place of the head, on that target."""
    return sum(not sighting.missed and same_place(sighting, place) for sighting in belief.round_sightings) == 1


def _doubted_reading(belief: Belief, now: Outlook, todo: list[Candidate]) -> Advice | None:
    """Ask once more for the reading that contradicts the others most."""
    outliers, doubted = belief.outliers, belief.tuning.deciding.doubted
    if outliers.sum() < doubted:
        return None
    for index in np.argsort(-outliers):
        sighting = belief.round_sightings[int(index)]
        if outliers[index] > doubted * CONTRADICTING_SHARE and _marked_once(belief, sighting):
            again = candidate(belief, sighting.station, sighting.x, sighting.y, sighting.target)
            if again.safe:
                return _shoot(again.shot, now, reasons.Contradicts(sighting, again.shot))
    return None


def _finished(belief: Belief, now: Outlook, todo: list[Candidate]) -> Advice | None:
    if now.chance < belief.tuning.deciding.done:
        return None
    if not todo:
        return centred(belief, now)
    safe = [c for c in todo if c.safe]
    if not safe:
        return None
    shot = _most_informative(safe)
    return _shoot(shot, now, reasons.Confirming(shot, belief.locked))


def _hopeless(belief: Belief, now: Outlook, todo: list[Candidate]) -> Advice | None:
    """A cause that no screw cures; the machine is blamed only after the oddest marks were made again."""
    found = stop_reason(belief)
    if any(c.safe for c in todo):
        return None
    repeated = len(belief.round_sightings) - len(belief.layout.machine.stations)
    blames_parts = isinstance(found, reasons.GantryYaws | reasons.SomethingLoose) or unproven_loose(belief)
    if blames_parts and repeated < belief.tuning.deciding.repeats_before_blame:
        again = _oddest(belief)
        if again is not None:
            return _shoot(again.shot, now, reasons.BeforeBlame(again.shot))
    if found is None:
        return None
    reachable = max(found.residual, 0.0) if isinstance(found, reasons.GantryYaws) else now.worst
    return Advice("stop", found, now, cause=_cause(found), reachable=reachable)


def _cause(found: StopReason) -> Cause:
    match found:
        case reasons.NoScrews():
            return "no screws"
        case reasons.OddStation():
            return "station"
        case reasons.SomethingLoose():
            return "loose"
        case reasons.GantryYaws():
            return "yaw"
        case _:
            assert_never(found)


def _oddest(belief: Belief) -> Candidate | None:
    """The place of the mark that fits least, among those marked only once."""
    for index in np.argsort(-belief.outliers):
        sighting = belief.round_sightings[int(index)]
        again = candidate(belief, sighting.station, sighting.x, sighting.y, sighting.target)
        if again.safe and _marked_once(belief, sighting):
            return again
    return None


def _adjust(belief: Belief, now: Outlook, todo: list[Candidate]) -> Advice | None:
    """Turn and move by the plan that costs the fewest minutes, once the marks that should come first are made."""
    deciding = belief.tuning.deciding
    if belief.rounds >= deciding.most_rounds:
        return None
    if belief.adjustments and not belief.round_sightings:
        return _move_at_once(belief, now) if belief.adjusting else None  # after a repair marks come first
    if _marks_first(belief, now, todo):
        return None
    if not todo and now.chance >= deciding.done_at_least:
        return None
    plan = best_plan(belief, may_turn=True, may_move=_all_seen(belief))
    if plan is None:
        return None
    again = None if todo else closest_call(belief, now)
    if not (plan.probe or worth_it(belief, now, plan)):
        # marks first; where no mark settles it, early on rather another try than giving up so near the aim
        tries = again is None and not todo and belief.rounds < deciding.early_rounds
        untaught = belief.rounds < deciding.rounds_before_coarse or now.chance >= deciding.perhaps_in
        return _by_plan(belief, now, plan) if tries and untaught else None
    if again is not None and worth_a_mark(belief, again, plan.minutes):
        return None
    return _by_plan(belief, now, plan)


def _by_plan(belief: Belief, now: Outlook, plan: Plan) -> Advice:
    return _turn(belief, now, plan) if plan.turns.any() else _move(belief, now, plan)


def _marks_first(belief: Belief, now: Outlook, todo: list[Candidate]) -> bool:
    """Whether more stations are marked before anything is touched: always at first, later while it may be in.

    Where none can be marked safely, the points nearer by teach something first.
    """
    deciding = belief.tuning.deciding
    marks = sum(not sighting.missed for sighting in belief.round_sightings)
    enough = marks >= deciding.enough_marks
    if not any(c.safe for c in todo):
        blind = marks == 0 and belief.adjustments == 0
        return blind or (bool(todo) and not enough and any(c.safe for c in nearer_points(belief)))
    suspected = belief.cause("yaw") + belief.cause("loose") > deciding.suspected
    return belief.adjustments == 0 or suspected or not enough or now.chance >= deciding.surely_out


def _all_seen(belief: Belief) -> bool:
    """No part is moved before every station has had its mark."""
    return len(belief.seen) == len(belief.layout.machine.stations)


def _turn(belief: Belief, now: Outlook, plan: Plan) -> Advice:
    turns = as_mirror_turns(belief.layout, plan.turns)
    drifts = tuple(_drift(belief, turn.mirror) for turn in turns)
    later = tuple(move.part for move in plan.moves)
    reason: reasons.Reason = reasons.Drifting(drifts, plan.first, len(belief.stated), later, plan.then)
    if plan.probe:
        reason = reasons.DriveUnknown(drives(belief), plan.first)
    return Advice("turn", reason, now, then=plan.first, turns=turns)


def _drift(belief: Belief, mirror: int) -> reasons.Drift:
    """How far the believed mark wanders along the leg behind that mirror."""
    (mean, cov), bed = belief.settled.mixture.moments, belief.layout.machine.bed
    slope, travel = (A1_U, bed.depth) if mirror == 1 else (A2_U, bed.width)
    u, v = mean[slope : slope + 2] * travel / 1000
    sd = np.sqrt(np.diag(cov)[slope : slope + 2].max()) * travel / 1000
    return reasons.Drift(mirror, float(u), float(v), float(sd))


def _move_at_once(belief: Belief, now: Outlook) -> Advice | None:
    """Right after an adjustment, without a mark between: only a move that is needed whatever the adjustment did."""
    if not _all_seen(belief):
        return None
    mean, cov = mean_offset(belief, belief.settled)
    if np.hypot(*mean) <= belief.tuning.deciding.shift_at_once * np.sqrt(np.linalg.eigvalsh(cov)[-1]):
        return None
    plan = best_plan(belief, may_turn=False, may_move=True)
    as_it_is = minutes_to_go(belief, now.chance, now.worst)
    if plan is None or plan.minutes > as_it_is - belief.tuning.adjusting.least_gain:
        return None
    if plan.moves[0].part == "tube":
        return None  # only by what marks show
    return _move(belief, now, plan)


def _move(belief: Belief, now: Outlook, plan: Plan) -> Advice:
    mean, cov = mean_offset(belief, belief.settled)
    move, sd = plan.moves[0], np.sqrt(np.linalg.eigvalsh(cov)[-1])
    blind = not belief.round_sightings
    reason = reasons.OffTheSameWay(float(mean[0]), float(mean[1]), float(sd), move.part, blind, plan.first)
    return Advice("shift", reason, now, then=plan.first, part=move.part, up=move.up, right=move.right, back=move.back)


def _shoot_or_stop(belief: Belief, now: Outlook, todo: list[Candidate]) -> Advice:
    safe = [c for c in todo if c.safe]
    if safe:
        shot = _most_informative(safe)
        first = not belief.round_sightings and not belief.adjustments
        return _shoot(shot, now, reasons.FirstMark(shot) if first else reasons.TellsMost(shot, belief.locked))
    return _come_nearer(belief, now, todo) if todo else _repeat_or_stop(belief, now)


def _come_nearer(belief: Belief, now: Outlook, todo: list[Candidate]) -> Advice:
    """No station can be marked safely: a nearer point, mirror 2's own tape, or the surest first mark."""
    points = nearer_points(belief)
    nearer = [c for c in points if c.safe]
    if nearer:
        shot = _most_informative(nearer)
        return _shoot(shot, now, reasons.Nearer(shot))
    wide = [c for c in wide_candidates(belief) if c.safe]
    if wide:
        shot = _most_informative(wide)
        return _shoot(shot, now, reasons.WideFirst(shot))
    search = first_search(belief)
    if search.safe and not any(s.target == "mirror 2" for s in belief.round_sightings):
        return _shoot(search.shot, now, reasons.SearchMirror2(search.shot))
    return Advice("stop", reasons.BeamNotFound(), now, cause="off the tape")


def _repeat_or_stop(belief: Belief, now: Outlook) -> Advice:
    """Every station has its mark, and no adjustment is expected to help."""
    again = closest_call(belief, now)
    if again is not None:
        return _shoot(again.shot, now, reasons.TooClose(again.shot))
    deciding, tolerance = belief.tuning.deciding, belief.layout.machine.tolerance
    if now.chance >= deciding.done_at_least:
        return centred(belief, now)
    best = best_there_is(belief, now)
    if best is not None:
        return best
    if belief.rounds >= deciding.most_rounds:
        reason: reasons.Reason = reasons.TriedEnough(belief.rounds, now.worst, tolerance)
    else:
        reason = reasons.TooCoarse(now.worst, tolerance, *worst_cost(belief))
    return Advice("stop", reason, now, cause="coarse", reachable=now.worst)
