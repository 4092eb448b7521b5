"""The one plain sentence that goes with every advice, made from its reason in the wanted unit."""

from math import hypot
from typing import assert_never

from coach.advice import mirror_words
from coach.advice import reasons as r
from coach.advice.chance_words import percent
from coach.advice.cost_words import cost_words
from coach.advice.facts import Outlook, Shot
from coach.advice.pulse_words import after_locks, why_not_firing, why_pulse
from coach.advice.stop_words import StopReason, why_stop
from coach.shown import Wording

ShootReason = (
    r.FirstMark
    | r.TellsMost
    | r.Confirming
    | r.Nearer
    | r.TooClose
    | r.BeforeBlame
    | r.SearchMirror2
    | r.WideFirst
    | r.MirrorUnsure
    | r.Contradicts
)


def why(reason: r.Reason, wording: Wording) -> str:
    """What was seen or is believed, and what follows, in plain words."""
    if isinstance(reason, ShootReason):
        return _why_shoot(reason, wording)
    if isinstance(reason, StopReason):
        return why_stop(reason, wording)
    match reason:
        case r.NothingSeen() | r.NothingSeenWide() | r.Clipped():
            return why_pulse(reason)
        case r.NotFiring():
            return why_not_firing(reason)
        case r.DriveUnknown() | r.Drifting() | r.OffTheSameWay():
            return _why_adjust(reason, wording)
        case r.AllCentred() | r.BestThereIs():
            return _why_done(reason, wording)
        case _:
            assert_never(reason)


STAYING = {
    "yaw": "the gantry yaws as it travels",
    "loose": "something moves between pulses",
    "station": "one station is out of line",
    "coarse": "the screws cannot be set more finely",
    "edge": "a mirror is hit near its edge",
}
"""Faults that were taken as they are."""


def staying(faults: tuple[str, ...]) -> str:
    """The faults that stay, in words."""
    return " and ".join(STAYING.get(fault, fault) for fault in faults)


def _why_done(reason: r.AllCentred | r.BestThereIs, wording: Wording) -> str:
    match reason:
        case r.AllCentred(tolerance, chance, turned, left):
            then = "stop turning" if turned else "the alignment was not your trouble"
            return (
                f"Every station is within {wording.exact(tolerance)} with {percent(chance)} probability, "
                f"confirmed by a mark at each: {then}.{mirror_words.left_so(left, wording)}"
            )
        case r.BestThereIs(faults, worst, tolerance, lost, lean):
            return (
                f"This is the best that can be had while {staying(faults)}: the worst station is at about "
                f"{wording.length(worst)} of {wording.exact(tolerance)}, which costs {cost_words(lost, lean)} there."
            )
        case _:
            assert_never(reason)


def _why_shoot(reason: ShootReason, wording: Wording) -> str:
    shot = reason.shot
    match reason:
        case r.FirstMark():
            return (
                "Nothing is marked yet. Of the places where a mark is all but sure to land on its tape, "
                f"{shot.name} tells most."
            )
        case r.TellsMost():
            return f"{after_locks(reason)}A mark at {shot.name} tells most now; expected {expected(shot, wording)}."
        case r.Confirming():
            return f"{after_locks(reason)}All stations are probably centred; {shot.name} needs its confirming mark."
        case r.Nearer():
            return "At the farther stations the mark could miss the tape: come nearer first."
        case r.TooClose():
            return (
                f"Whether {shot.name} is within the tolerance is too close to call: one more mark there settles most."
            )
        case r.BeforeBlame():
            return (
                "The marks do not fit together. Before blaming the machine, make the oddest one again, "
                f"at {shot.name}."
            )
        case r.SearchMirror2():
            return (
                "Even the nearest mark may miss the head's tape: look for the beam at mirror 2 first, on a wide tape."
            )
        case r.WideFirst():
            return "No mark is sure enough to land on the tape: a wide card in front of the opening catches it first."
        case r.MirrorUnsure():
            return mirror_words.why_unsure(reason)
        case r.Contradicts(sighting):
            read = wording.place(sighting.u or 0.0, sighting.v or 0.0)
            return (
                f"The mark at {sighting.station} reads {read}, but the others say {expected(shot, wording)}: "
                "pulse and measure it once more."
            )
        case _:
            assert_never(reason)


def expected(shot: Shot, wording: Wording) -> str:
    """Where a mark is expected and how surely: "1.5 mm left, 0.9 mm up, give or take 0.8 mm" (two deviations)."""
    place = wording.place(shot.expected_u, shot.expected_v)
    return f"{place}, give or take {wording.length(2 * shot.expected_sd)}"


def _why_adjust(reason: r.DriveUnknown | r.Drifting | r.OffTheSameWay, wording: Wording) -> str:
    match reason:
        case r.DriveUnknown(push):
            drives = ", ".join(f"mirror {mirror}: {percent(chance)}" for mirror, chance in push)
            return (
                "Nobody knows yet which way these screws drive: a small turn and the next mark will tell "
                f"(that clockwise pushes: {drives})."
            )
        case r.Drifting(drifts, then, marks, later, in_the_end):
            told = "; ".join(_drift(drift, wording) for drift in drifts)
            worst = f"The worst mark should then be {_then(then, wording)} off"
            if later:
                worst += f", and {_then(in_the_end, wording)} once {_are(later)} moved as well"
            worst += "."
            return f"{_guessed(marks)}{told[:1].upper()}{told[1:]}. {worst}"
        case r.OffTheSameWay(u, v, sd, part, right_after_turns, then):
            after = " This goes by the turns as told: no mark has shown them yet." if right_after_turns else ""
            off = f"{wording.place(u, v)} (give or take {wording.length(2 * sd)})"
            doubted = f" {AS_LARGE}" if hypot(u, v) <= 2 * sd else ""
            return (
                f"On average the stations are believed to lie {off}. Screws cannot cure everywhere what all "
                f"have in common; moving {the(part)} can.{doubted}{after} "
                f"The worst mark should then be {_then(then, wording)} off."
            )
        case _:
            assert_never(reason)


AS_LARGE = (
    "That doubt is as large as the move; with it the end is still expected sooner than without, and the marks after "
    "it tell."
)
"""Of a move that is less than two deviations: it is advised by expected minutes (`coach.advice.ranking`)."""
_FEW = {
    0: "No mark so far: all of it is a guess. ",
    1: "One mark so far; the rest is a guess. ",
    2: "Two marks so far; the rest is a guess. ",
}


def _guessed(marks: int) -> str:
    """What goes before a reason that hardly anything was seen of."""
    return _FEW.get(marks, "")


def the(part: str) -> str:
    """A part's name in a sentence: "the tube", but "mirror 2"."""
    return part if part[-1].isdigit() else f"the {part}"


def _then(outlook: Outlook, wording: Wording) -> str:
    return f"{wording.length(outlook.worst)} ({wording.length(outlook.worst_high)} with bad luck)"


def _are(parts: tuple[str, ...]) -> str:
    """ "the head is", "mirror 2 and the head are": in a sentence."""
    return " and ".join(the(part) for part in parts) + (" is" if len(parts) == 1 else " are")


LEGS = {1: "from back to front", 2: "from mirror 2 outwards"}
"""How one walks along the leg behind each mirror."""


def _drift(drift: r.Drift, wording: Wording) -> str:
    start, doubt = f"{LEGS[drift.mirror]} the mark", f"(give or take {wording.length(2 * drift.sd)})"
    if abs(drift.v) >= abs(drift.u):
        how = f"{'climbs' if drift.v > 0 else 'sinks'} {wording.length(abs(drift.v))} {doubt}"
    else:
        how = f"drifts {wording.length(abs(drift.u))} {doubt} to the {'right' if drift.u > 0 else 'left'}"
    return f"{start} {how}: mirror {drift.mirror}"
