"""From belief to the next action.

The order of the questions: did a pulse leave nothing, or no whole mark? · is a reading in doubt? · is everything
centred and confirmed? · is something wrong that no screw cures? · is enough known to adjust? · otherwise
make the mark that tells most.
"""

from dataclasses import replace
from typing import assert_never

import numpy as np

from coach.advice import reasons
from coach.advice.adjust import Adjustment, mirrors_of
from coach.advice.advice import Advice, Cause
from coach.advice.clipped import after_clipped
from coach.advice.close_call import closest_call, worth_a_mark
from coach.advice.ending import best_there_is, centred
from coach.advice.facts import Outlook, Shot
from coach.advice.moves import MoveChoice, mean_offset, moves
from coach.advice.offset_cost import worst_cost
from coach.advice.outlook import outlook
from coach.advice.remaining import remaining
from coach.advice.shots import Candidate, candidate, first_search, nearer_points, unmarked_candidates, wide_candidates
from coach.advice.silence import after_nothing, dosed
from coach.advice.stops import StopReason, stop_reason
from coach.advice.turns import as_mirror_turns, best_turns, spread_cost
from coach.advice.weigh import Ways, weigh
from coach.belief.belief import Belief
from coach.belief.kalman import Array
from coach.belief.layout import A1_U, A2_U, FIRST_SCREW

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


def _marked_once(belief: Belief, x: float, y: float) -> bool:
    return sum(not sighting.missed for sighting in belief.marks_at(x, y)) == 1


def _doubted_reading(belief: Belief, now: Outlook, todo: list[Candidate]) -> Advice | None:
    """Ask once more for the reading that contradicts the others most."""
    outliers, doubted = belief.outliers, belief.tuning.deciding.doubted
    if outliers.sum() < doubted:
        return None
    for index in np.argsort(-outliers):
        sighting = belief.round_sightings[int(index)]
        twice = sighting.target == "head" and not _marked_once(belief, sighting.x, sighting.y)
        if outliers[index] > doubted * CONTRADICTING_SHARE and not twice:
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
    return _shoot(shot, now, reasons.Confirming(shot))


def _hopeless(belief: Belief, now: Outlook, todo: list[Candidate]) -> Advice | None:
    """A cause that no screw cures; the machine is blamed only after the oddest marks were made again."""
    found = stop_reason(belief)
    if found is None or any(c.safe for c in todo):
        return None
    repeated = len(belief.round_sightings) - len(belief.layout.machine.stations)
    blames_parts = isinstance(found, reasons.GantryYaws | reasons.SomethingLoose)
    if blames_parts and repeated < belief.tuning.deciding.repeats_before_blame:
        again = _oddest(belief)
        if again is not None:
            return _shoot(again.shot, now, reasons.BeforeBlame(again.shot))
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
        if again.safe and _marked_once(belief, sighting.x, sighting.y):
            return again
    return None


def _adjust(belief: Belief, now: Outlook, todo: list[Candidate]) -> Advice | None:
    """Turn if that is expected to help and enough is known; else shift if that is all that is missing."""
    deciding = belief.tuning.deciding
    if belief.rounds >= deciding.most_rounds:
        return None
    if belief.adjustments and not belief.round_sightings:
        return _move_at_once(belief, now)
    markable = any(c.safe for c in todo)
    suspected = belief.cause("yaw") + belief.cause("loose") > deciding.suspected
    if markable and (belief.adjustments == 0 or suspected):
        return None
    if not todo and now.chance >= deciding.done_at_least:
        return None
    ways = weigh(belief, now)
    again = None if todo else closest_call(belief, now)
    if again is not None and worth_a_mark(belief, again, min(ways.turn_cost, ways.move_cost)):
        return None
    if ways.turn is not None and ways.turn.probe:
        probe = _probe(belief, now, ways, markable)
        if probe is not None or markable:
            return probe
    best = ways.best if markable else ways.adjusting
    if best == "move" and markable and len(belief.seen) < len(belief.layout.machine.stations):
        return None
    if best == "turn" and ways.turn is not None:
        return _turn(belief, now, ways)
    if best == "move" and ways.move is not None:
        return _move(belief, now, ways.move)
    return None


def _probe(belief: Belief, now: Outlook, ways: Ways, markable: bool) -> Advice | None:
    """A small turn while a drive is unsettled, once the beam is known well enough to see it."""
    centred = ways.move.then if ways.move else now
    enough = _unknown_share(belief) < belief.tuning.deciding.known_enough or not markable
    if ways.turn is None or not enough or max(now.chance, centred.chance) > belief.tuning.deciding.done:
        return None
    return _turn(belief, now, ways)


def _turn(belief: Belief, now: Outlook, ways: Ways) -> Advice:
    assert ways.turn is not None
    assert ways.turned is not None
    return _turn_to(belief, now, ways.turn, ways.turned)


def _turn_to(belief: Belief, now: Outlook, adjustment: Adjustment, then: Outlook) -> Advice:
    turns = as_mirror_turns(belief.layout, adjustment.turns)
    if adjustment.probe:
        push = tuple((mirror, belief.drive_push(mirror)) for mirror in mirrors_of(belief))
        reason: reasons.Reason = reasons.DriveUnknown(push, then)
    else:
        drifts = tuple(_drift(belief, turn.mirror) for turn in turns)
        reason = reasons.Drifting(drifts, then)
    return Advice("turn", reason, now, then=then, turns=turns)


def _drift(belief: Belief, mirror: int) -> reasons.Drift:
    """How far the believed mark wanders along the leg behind that mirror."""
    mean, bed = belief.settled.mixture.moments.mean, belief.layout.machine.bed
    slope, travel = (A1_U, bed.depth) if mirror == 1 else (A2_U, bed.width)
    u, v = mean[slope : slope + 2] * travel / 1000
    return reasons.Drift(mirror, float(u), float(v))


def _move_at_once(belief: Belief, now: Outlook) -> Advice | None:
    """Right after a turn, without a mark between: only a move that is needed whatever the turn did."""
    if len(belief.seen) < len(belief.layout.machine.stations):
        return None  # no part is moved before every station has had its mark
    mean, cov = mean_offset(belief, belief.settled)
    sd = np.sqrt(np.linalg.eigvalsh(cov)[-1])
    if np.hypot(*mean) <= belief.tuning.deciding.shift_at_once * sd:
        return None
    cheapest = min(moves(belief, belief.settled), key=lambda c: (-c.then.chance, c.minutes), default=None)
    if cheapest is None or not cheapest.then.better_than(now, belief.tuning.adjusting):
        return None
    return _move(belief, now, cheapest)


def _move(belief: Belief, now: Outlook, choice: MoveChoice) -> Advice:
    mean, _ = mean_offset(belief, belief.settled)
    move = choice.move
    blind = not belief.round_sightings
    reason = reasons.OffTheSameWay(float(mean[0]), float(mean[1]), move.part, blind, choice.then)
    return Advice(
        "shift", reason, now, then=choice.then, part=move.part, up=move.up, right=move.right, back=move.back
    )


def _unknown_share(belief: Belief) -> float:
    """Of the cost expected after the best turn, the share that more marks could take away."""
    layout, tuning = belief.layout, belief.tuning
    cost = spread_cost(layout, belief.settled.likeliest_drives(), tuning, tuning.adjusting.mean_weight)
    after = cost.of(best_turns(cost, belief.last_direction, tuning))
    matrices = layout.station_matrices
    apart: Array = (matrices - matrices.mean(axis=0)).reshape(-1, layout.size)[:, :FIRST_SCREW]
    cov = belief.settled.mixture.moments.cov[:FIRST_SCREW, :FIRST_SCREW]
    unknown = np.einsum("in,nm,im->", apart, cov, apart) / len(matrices)
    return float(unknown / max(after, 1e-9))


def _shoot_or_stop(belief: Belief, now: Outlook, todo: list[Candidate]) -> Advice:
    safe = [c for c in todo if c.safe]
    if safe:
        shot = _most_informative(safe)
        first = not belief.round_sightings and not belief.adjustments
        return _shoot(shot, now, reasons.FirstMark(shot) if first else reasons.TellsMost(shot))
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


def _attempt(belief: Belief, now: Outlook) -> Advice | None:
    """No mark settles it and nothing is sure to help: what may well end within tolerance, before giving up."""
    if belief.rounds >= belief.tuning.deciding.most_attempts or not belief.layout.screws:
        return None
    attempt, adjusting = weigh(belief, now).attempt, belief.tuning.adjusting
    if attempt is None:
        return None
    likelier = attempt.then.chance > now.chance + adjusting.worth_more
    if attempt.then.chance < adjusting.worth_a_try and not likelier:
        return None
    if attempt.turn is not None:
        return _turn_to(belief, now, attempt.turn, attempt.then)
    return _move(belief, now, attempt.move) if attempt.move is not None else None


def _repeat_or_stop(belief: Belief, now: Outlook) -> Advice:
    """Every station has its mark, and no adjustment is expected to help."""
    again = closest_call(belief, now)
    if again is not None:
        return _shoot(again.shot, now, reasons.TooClose(again.shot))
    deciding, tolerance = belief.tuning.deciding, belief.layout.machine.tolerance
    if now.chance >= deciding.done_at_least:
        return centred(belief, now)
    attempt = _attempt(belief, now)
    if attempt is not None:
        return attempt
    best = best_there_is(belief, now)
    if best is not None:
        return best
    if belief.rounds >= deciding.most_rounds:
        reason: reasons.Reason = reasons.TriedEnough(belief.rounds, now.worst, tolerance)
    else:
        reason = reasons.TooCoarse(now.worst, tolerance, *worst_cost(belief))
    return Advice("stop", reason, now, cause="coarse", reachable=now.worst)
