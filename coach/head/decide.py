"""From belief to the next action about head, lens and nozzle: a pure function.

The order of the questions is the order of a technician: does it come through at all, is it upright, is it good
already, what is still to be seen, and only then what is to be turned or moved.
"""

from math import hypot

import numpy as np

from coach.advice.facts import MirrorTurn
from coach.head import reasons
from coach.head.advice import HeadAdvice
from coach.head.belief import HeadBelief
from coach.head.layout import NOZZLE, OFFSET
from coach.head.levers import Way, as_it_is, best_way, moved_part
from coach.head.outlook import HeadOutlook, chance_beyond, leaning, outlook
from coach.head.worth import best_look, two_heights
from coach.optics.below import slope_of

SURELY = 0.95
"""How likely something must be out before it is adjusted by itself, or blamed."""
LIKELY = 0.5
"""The same where the beam hardly passes the nozzle: then one of the two is out."""
PROBE_MM = 0.4
"""mm at the nozzle that a small turn is to move the beam, to find out which way screws drive."""


def head_advice(belief: HeadBelief) -> HeadAdvice:
    """What to do next about head, lens and nozzle."""
    now = outlook(belief)
    asked = (_far_off, _upright_first, _good, _same_round, _still_to_see, _badly_seated, _closer_look, _adjust)
    return next(found for question in asked if (found := question(belief, now)) is not None)


def shoot_bed(belief: HeadBelief, now: HeadOutlook, *, lens: bool) -> HeadAdvice:
    """The next mark on the card: first high, then low."""
    marks = belief.on_card(lens=lens)
    high, low = two_heights(belief) if lens else (0.0, two_heights(belief)[1])
    lowered = low if marks and min(m.lowered for m in marks) < low - 1 else high
    reason = reasons.HeightNeeded(lowered, lens, second=bool(marks))
    return HeadAdvice("shoot", reason, now, target="bed", lowered=lowered, lens=lens)


def _far_off(belief: HeadBelief, now: HeadOutlook) -> HeadAdvice | None:
    """The nozzle's rim cuts the beam, or nothing came through: two heights without lens and nozzle."""
    at_nozzle = [mark for mark in belief.marks if mark.target == "nozzle"]
    if not at_nozzle or belief.two_heights(lens=True):
        return None
    newest = at_nozzle[-1]
    off = float(hypot(*newest.place)) if newest.seen else None
    if off is not None and off <= belief.tuning.head.near_hole * belief.layout.lens.nozzle / 2.5:
        return None
    if not belief.two_heights(lens=False):
        shot = shoot_bed(belief, now, lens=False)
        first = not belief.on_card(lens=False)
        return HeadAdvice("shoot", reasons.LensOut(off) if first else shot.reason, now, "bed", shot.lowered, False)
    if "nozzle" in belief.accepted or leaning(belief, belief.layout.slope) >= LIKELY:
        return None
    return HeadAdvice("stop", reasons.BadlySeated("nozzle", off), now, cause="nozzle")


def _upright_first(belief: HeadBelief, now: HeadOutlook) -> HeadAdvice | None:
    """With the lens out the beam leans: mirror 3, before the lens goes in again."""
    if belief.lens_in or not belief.layout.screws:
        return None
    if belief.adjusting or not belief.two_heights(lens=False):
        return shoot_bed(belief, now, lens=False) if _drive_open(belief) or belief.on_card(lens=False) else None
    passes = not any(mark.target == "nozzle" for mark in belief.marks)
    if leaning(belief, belief.layout.slope) < (SURELY if passes else LIKELY):
        return None
    if _drive_open(belief):
        return _probe(belief, now)
    upright = belief.layout.slope / slope_of(belief.tuning.head.lean)
    way = best_way(belief, upright, turning=True, moving=False)
    return _turning(belief, now, way, reasons.LeansWithoutLens(now)) if way.turns else None


def _good(belief: HeadBelief, now: HeadOutlook) -> HeadAdvice | None:
    """Lean and nozzle were seen in this round, and are good."""
    head = belief.tuning.head
    asked = head.done_at_least if len(belief.marks) >= head.most_marks else head.done
    if not _all_seen(belief) or now.chance < asked:
        return None
    return HeadAdvice("done", reasons.Upright(now, adjusted=belief.rounds > 0), now)


def _same_round(belief: HeadBelief, now: HeadOutlook) -> HeadAdvice | None:
    """After the screws the lens, without a mark between, where it is needed whatever they did."""
    if not belief.adjusting or belief.shifted or not belief.lens_in or _drive_open(belief):
        return None
    way = best_way(belief, belief.layout.wanted, turning=False, moving=bool(moved_part(belief, 0, 0)[0]))
    if not way.does or way.minutes > as_it_is(belief).minutes - belief.tuning.adjusting.least_gain:
        return None
    return _moving(belief, now, way, "same round")


def _all_seen(belief: HeadBelief) -> bool:
    """After lock nuts were tightened the nozzle's mark alone confirms what was seen before."""
    nozzle = any(mark.target == "nozzle" and mark.seen for mark in belief.marks)
    return nozzle and (belief.locked or belief.two_heights(lens=True))


def _still_to_see(belief: HeadBelief, now: HeadOutlook) -> HeadAdvice | None:
    """What this round lacks: the nozzle, then two heights with the lens in."""
    if not any(mark.target == "nozzle" for mark in belief.marks):
        return HeadAdvice("shoot", reasons.NozzleFirst(again=belief.rounds > 0), now, target="nozzle")
    return None if _all_seen(belief) or belief.two_heights(lens=True) else shoot_bed(belief, now, lens=True)


def _badly_seated(belief: HeadBelief, now: HeadOutlook) -> HeadAdvice | None:
    """Lens or nozzle stand farther off than screws should make up for."""
    head, mixture = belief.tuning.head, belief.bank.mixture
    nozzle, lens = belief.layout.own(NOZZLE), belief.layout.own(OFFSET)
    for part, rows, most in (("nozzle", nozzle, head.nozzle_most), ("lens", lens, head.lens_reach)):
        surely = chance_beyond(mixture, rows, most) >= SURELY
        if surely and part not in belief.accepted:
            off = float(hypot(*mixture.project(rows).moments.mean))
            return HeadAdvice("stop", reasons.BadlySeated(part, off), now, cause=part)  # type: ignore[arg-type]
    return None


def _closer_look(belief: HeadBelief, now: HeadOutlook) -> HeadAdvice | None:
    """More marks before anything is touched or left, as long as they bring a proven end nearer than adjusting does.

    Where the rim cut the nozzle's mark the next one would be cut as well.
    """
    head = belief.tuning.head
    if _drive_open(belief) or _no_more_marks(belief) != "longer":
        return None
    way = _best(belief)
    adjusts = way.does and belief.rounds < head.most_rounds
    shot, minutes = best_look(belief, way.prospect if adjusts else None)
    if now.chance < head.left_alone and minutes >= (way.minutes if adjusts else head.another_round):
        return None
    return HeadAdvice("shoot", reasons.TooCloseToTell(now), now, target=shot.target, lowered=shot.lowered)


def _no_more_marks(belief: HeadBelief) -> reasons.NoMoreMarks:
    """Why no mark comes before hands; where marks would tell something, they were weighed and take longer."""
    head = belief.tuning.head
    if any(mark.target == "nozzle" and mark.sd > head.cut_sd for mark in belief.marks):
        return "cut"
    return "enough" if len(belief.marks) >= head.most_marks else "longer"


def _best(belief: HeadBelief) -> Way:
    part = moved_part(belief, 0.0, 0.0)[0]
    return best_way(belief, belief.layout.wanted, turning=bool(belief.layout.screws), moving=bool(part))


def _adjust(belief: HeadBelief, now: HeadOutlook) -> HeadAdvice:
    """Turn, move, or give up."""
    head, part = belief.tuning.head, moved_part(belief, 0.0, 0.0)[0]
    if not belief.layout.screws and not part:
        return HeadAdvice("stop", reasons.NothingToTurn(now), now, cause="no levers")
    if belief.rounds >= head.most_rounds:
        return _enough(belief, now)
    if _drive_open(belief):
        return _probe(belief, now)
    way = _best(belief)
    tried = belief.rounds >= belief.tuning.deciding.rounds_before_coarse
    if not way.does or (tried and way.chance < belief.tuning.adjusting.worth_a_try and _no_gain(belief, way)):
        return _enough(belief, now)
    if way.turns:
        return _turning(belief, now, way, reasons.OffBelow(now, now.suspect, _no_more_marks(belief)))
    return _moving(belief, now, way, _no_more_marks(belief))


def _no_gain(belief: HeadBelief, way: Way) -> bool:
    """It is neither likelier good afterwards nor nearer."""
    stands, adjusting = as_it_is(belief), belief.tuning.adjusting
    return way.minutes > stands.minutes - adjusting.least_gain and way.chance < stands.chance + adjusting.gain


def _enough(belief: HeadBelief, now: HeadOutlook) -> HeadAdvice:
    """Nothing further is expected to help."""
    taken = "head coarse" in belief.accepted
    if now.chance >= belief.tuning.head.done_at_least or taken:
        return HeadAdvice("done", reasons.Upright(now, belief.rounds > 0, as_it_is=taken), now)
    return HeadAdvice("stop", reasons.HeadTooCoarse(now, belief.rounds), now, cause="head coarse")


def _drive_open(belief: HeadBelief) -> bool:
    less = min(belief.bank.pushes, 1 - belief.bank.pushes)
    return bool(belief.layout.screws) and less >= belief.tuning.adjusting.unsettled


def _probe(belief: HeadBelief, now: HeadOutlook) -> HeadAdvice:
    """A small turn of the screw that moves the beam most at the nozzle, in the direction that helps if it pushes."""
    layout, adjusting = belief.layout, belief.tuning.adjusting
    pushing = belief.bank.mixture.subset(belief.bank.push).moments.mean
    answers = layout.screw_maps @ pushing @ layout.nozzle.T  # (screws, 2): mm per turn
    k = int(np.argmax(np.hypot(*answers.T)))
    size = PROBE_MM / float(hypot(*answers[k]))
    toward = -np.sign(float(answers[k] @ (layout.nozzle @ pushing))) or 1.0
    turns = float(toward * adjusting.finest_turn * max(2, round(size / adjusting.finest_turn)))
    named = {layout.screws[k]: float(np.clip(turns, -adjusting.most_turned, adjusting.most_turned))}
    return HeadAdvice("turn", reasons.DriveOpen(layout.screws[k]), now, turns=(MirrorTurn(3, named),))


def _turning(belief: HeadBelief, now: HeadOutlook, way: Way, reason: reasons.HeadReason) -> HeadAdvice:
    return HeadAdvice("turn", reason, now, turns=(MirrorTurn(3, way.turns),), lens=belief.lens_in)


def _moving(belief: HeadBelief, now: HeadOutlook, way: Way, unmarked: reasons.NoMoreMarks) -> HeadAdvice:
    part, amounts = moved_part(belief, way.right, way.back)
    reason = reasons.OffBelow(now, now.suspect, unmarked)
    return HeadAdvice("shift", reason, now, part=part, **amounts)  # type: ignore[arg-type]
