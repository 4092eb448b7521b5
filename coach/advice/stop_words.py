"""Why no screw will help, in words, and what to look at instead."""

from typing import assert_never

from coach.advice import mirror_words
from coach.advice import reasons as r
from coach.advice.chance_words import percent
from coach.advice.cost_words import cost_words
from coach.advice.pulse_words import FIRING_LOOK_AT
from coach.shown import IN_MM, Wording

COARSE_LOOK_AT = (
    "a wider tolerance in the machine's profile, if the lens's opening allows it",
    "finer screws or longer arms on the mounts",
    "play in the mounts: do the screws' springs press?",
)


StopReason = (
    r.TooCoarse
    | r.TriedEnough
    | r.BeamNotFound
    | r.NoScrews
    | r.OddStation
    | r.SomethingLoose
    | r.GantryYaws
    | r.MirrorAtEdge
)


def why_stop(reason: StopReason, wording: Wording) -> str:
    """What no screw will help, and how sure that is."""
    match reason:
        case r.TooCoarse(worst, tolerance, lost, lean):
            return (
                f"No further turn is expected to help: the worst station is at {wording.length(worst)}, and these "
                f"screws cannot be set finely enough to promise {wording.exact(tolerance)} everywhere. "
                f"Left as it is, that costs {cost_words(lost, lean)} there."
            )
        case r.TriedEnough(rounds, worst, tolerance):
            return (
                f"{rounds} rounds of adjusting have not brought every station within {wording.exact(tolerance)}: "
                f"the worst is at {wording.length(worst)}, and these screws do not answer finely or steadily enough."
            )
        case r.BeamNotFound():
            return "No place is left where a mark would surely land on a tape: the beam is far off its path."
        case r.NoScrews():
            return "This machine's profile has no screws to turn."
        case r.OddStation(station, chance):
            return (
                f"The marks at {station} agree with each other but with none of the others ({percent(chance)} sure): "
                "the machine itself is out of line there."
            )
        case r.SomethingLoose(chance):
            return (
                f"The marks jump about more than any reading does ({percent(chance)} sure): "
                "something moves between pulses, most likely mirror 2 in its mount."
            )
        case r.GantryYaws(chance, residual):
            return (
                f"Diagonal corners are off alike, neighbours the other way ({percent(chance)} sure): the gantry "
                "turns a little as it travels, it yaws. "
                f"That alone leaves {wording.length(residual)} at a corner whatever the screws do."
            )
        case r.MirrorAtEdge():
            return mirror_words.why_at_edge(reason, wording)
        case _:
            assert_never(reason)


def look_at(reason: r.Reason, wording: Wording = IN_MM) -> tuple[str, ...]:
    """After a stop: what to look at, likeliest first."""
    match reason:
        case r.MirrorAtEdge():
            return mirror_words.cures(reason, wording)
        case r.BeamNotFound():
            return (
                "whether the beam comes out of the tube and reaches mirror 1",
                "mirror 1's and mirror 2's screws: turned right out, or a mirror fallen out of its mount",
                "a wider piece of tape, at mirror 2 and at the head (and its radius in the machine's profile)",
            )
        case r.TooCoarse() | r.TriedEnough():
            return COARSE_LOOK_AT
        case r.NotFiring():
            return FIRING_LOOK_AT
        case r.NoScrews():
            return ("the machine's profile",)
        case r.OddStation(station):
            return (
                f"the rails and the gantry at {station}: dirt, a dent, a bump",
                "the belts and bearings there",
            )
        case r.SomethingLoose():
            return ("mirror 2's mount and its lock nuts", "the gantry's bearings and belts", "the head's play")
        case r.GantryYaws():
            return ("the gantry's squareness to its rails", "both drive belts' tension", "a bent or dirty rail")
        case _:
            return ()
