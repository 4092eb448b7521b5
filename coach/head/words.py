"""The one plain sentence that goes with an advice about the head, made from its reason in the wanted unit."""

from math import hypot
from typing import assert_never

from coach.head import reasons as r
from coach.head.outlook import HeadOutlook
from coach.shown import Wording

SEAT_LOOK_AT = (
    "the lens: flat in its ring, the ring tight, the curved side as the manual says",
    "the nozzle: its thread clean, its rim without a dent, the right one for this head",
    "the lens tube: its clamp tight, nothing bent by a collision",
)
COARSE_LOOK_AT = (
    "play in mirror 3's mount: do its springs press?",
    "the lens tube: does it stay where it was put once it is tight?",
    "the bed: does it go straight down? Set the card by a square at both heights",
)
LEVER_LOOK_AT = (
    "mirror 3's mount: describe its screws in the machine's profile",
    "the lens tube: whether it can be moved on the head",
)


def why(reason: r.HeadReason, wording: Wording) -> str:
    """What was seen or is believed, and what follows."""
    match reason:
        case r.NozzleFirst() | r.HeightNeeded() | r.LensOut() | r.TooCloseToTell():
            return _why_shoot(reason, wording)
        case r.DriveOpen() | r.LeansWithoutLens() | r.OffBelow():
            return _why_adjust(reason, wording)
        case r.Upright():
            return _why_done(reason, wording)
        case r.BadlySeated() | r.NothingToTurn() | r.HeadTooCoarse():
            return _why_stop(reason, wording)
        case _:
            assert_never(reason)


def look_at(reason: r.HeadReason) -> tuple[str, ...]:
    """After a stop: what to look at, likeliest first; nothing after anything else."""
    match reason:
        case r.BadlySeated():
            return SEAT_LOOK_AT
        case r.NothingToTurn():
            return LEVER_LOOK_AT
        case r.HeadTooCoarse():
            return COARSE_LOOK_AT
        case _:
            return ()


def lean_words(now: HeadOutlook) -> str:
    """ "leans 0.9° (give or take 0.2°)"."""
    return f"leans {hypot(*now.lean):.1f}° (give or take {2 * max(now.lean_sd):.1f}°)"


def nozzle_words(now: HeadOutlook, wording: Wording) -> str:
    """ "passes 0.4 mm beside the nozzle's middle (give or take 0.2 mm)"."""
    off, doubt = wording.length(hypot(*now.nozzle), 1), wording.length(2 * max(now.nozzle_sd), 1)
    return f"passes {off} beside the nozzle's middle (give or take {doubt})"


def _why_shoot(reason: r.NozzleFirst | r.HeightNeeded | r.LensOut | r.TooCloseToTell, wording: Wording) -> str:
    match reason:
        case r.NozzleFirst(again=True):
            return "Something was adjusted since the last mark under the nozzle, so one there comes first."
        case r.NozzleFirst():
            return "One mark on tape under the nozzle tells whether the beam comes through its middle."
        case r.HeightNeeded(second=False):
            lens = "with the lens in" if reason.lens else "with lens and nozzle out"
            return f"Two marks on one card, at two heights of the bed, tell how the beam leans {lens}: the first."
        case r.HeightNeeded():
            return "The same card, the head not moved, the bed lower: the mark moves as far as the beam leans."
        case r.LensOut(off=None):
            return "Nothing came through the nozzle: two heights without lens and nozzle tell whether it is upright."
        case r.LensOut(off):
            return (
                f"The beam is {wording.length(off or 0.0, 1)} off the nozzle's middle, where its rim cuts it: two "
                "heights without lens and nozzle tell whether it is upright."
            )
        case r.TooCloseToTell(now):
            stands = f"The beam {lean_words(now)} and {nozzle_words(now, wording)}"
            return f"{stands}: too close to tell without one more mark."
        case _:
            assert_never(reason)


def _why_adjust(reason: r.DriveOpen | r.LeansWithoutLens | r.OffBelow, wording: Wording) -> str:
    match reason:
        case r.DriveOpen(screw):
            return f"Nobody knows yet which way mirror 3's screws drive: a small turn of {screw} tells."
        case r.LeansWithoutLens(now):
            leans, doubt = hypot(*now.slope), 2 * max(now.slope_sd)
            return f"Without the lens the beam leans {leans:.1f}° (give or take {doubt:.1f}°): that is mirror 3."
        case r.OffBelow(now, suspect, unmarked):
            named = f"; {WRONG[suspect]}" if suspect else "; which part is out is not known"
            stands = f"The beam {lean_words(now)} and {nozzle_words(now, wording)}{named}."
            if now.chance < MAY_BE_GOOD:
                return stands
            return f"{stands} It may be good as it is ({100 * now.chance:.0f} %). {WORTH_IT[unmarked]}"
        case _:
            assert_never(reason)


MAY_BE_GOOD = 0.1
"""Chance of being good as it is from which that is said beside what is to be done about it."""
WORTH_IT: dict[r.NoMoreMarks, str] = {
    "longer": "More marks first are expected to take longer than adjusting and marking what that did.",
    "enough": "After so many marks more would tell little; those after it tell what it did.",
    "cut": "The nozzle's rim cuts the mark, so that another one tells no more before it is adjusted.",
    "same round": "It is part of this round: the marks after it tell what both did.",
}
WRONG = {
    "mirror 3": "it leans before the lens, so mirror 3 is out",
    "lens": "it leans only with the lens in, so the lens is beside the beam",
    "nozzle": "the nozzle stands beside the lens's middle",
}


def _why_done(reason: r.Upright, wording: Wording) -> str:
    now = reason.now
    stands = f"The beam {lean_words(now)} and {nozzle_words(now, wording)}"
    if reason.as_it_is:
        return f"{stands}; nothing more is expected to help."
    return f"{stands}: good with {100 * now.chance:.0f} % probability" + (
        "." if reason.adjusted else "; nothing had to be turned."
    )


def _why_stop(reason: r.BadlySeated | r.NothingToTurn | r.HeadTooCoarse, wording: Wording) -> str:
    match reason:
        case r.BadlySeated(off=None):
            return (
                "Without lens and nozzle the beam is upright, with them nothing comes through: one of the two is "
                "badly seated. Seat them anew before anything is turned."
            )
        case r.BadlySeated(part, off):
            what = "The nozzle stands" if part == "nozzle" else "The lens's middle is"
            beside = "the lens's middle" if part == "nozzle" else "the beam"
            far = wording.length(off or 0.0, 1)
            return f"{what} about {far} beside {beside}: seat it anew before anything is turned on."
        case r.NothingToTurn(now):
            return (
                f"The beam {lean_words(now)} and {nozzle_words(now, wording)}, and nothing that is known to turn or "
                "move cures it."
            )
        case r.HeadTooCoarse(now, rounds):
            tried = f"after {rounds} round{'s' if rounds != 1 else ''} of adjusting " if rounds else ""
            stands = f"The beam {tried}{lean_words(now)} and {nozzle_words(now, wording)}"
            return f"{stands}; nothing further is expected to help."
        case _:
            assert_never(reason)
