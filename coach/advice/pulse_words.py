"""Why, and what next, after a pulse that left nothing, or no whole mark."""

from typing import assert_never

from coach.advice import reasons as r
from coach.advice.chance_words import percent
from coach.belief.firing import Rivals

PulseReason = r.NothingSeen | r.NothingSeenWide | r.Clipped

FIRING_LOOK_AT = (
    "the current's needle (or figure): it moves with a pulse that fires",
    "lid switch, other interlocks, key, emergency stop",
    "the water: it has to flow, or its sensor keeps the laser off",
    "the power set: below a few per cent no tube strikes, however long",
)


def why_pulse(reason: PulseReason) -> str:
    """The reason in one or two plain sentences."""
    match reason:
        case r.NothingSeen(shot, rivals):
            return f"Nothing was seen at {shot.name}: {rivals_words(rivals)}. So once more there, one step stronger."
        case r.NothingSeenWide(shot, rivals):
            return (
                f"Nothing was seen at {shot.name}: {rivals_words(rivals)}. A wide card there catches what may have "
                "missed the tape, one step stronger."
            )
        case r.Clipped(station, shot):
            return (
                f"The mark at {station} is not whole: the beam is cut off on its way, so its middle is not the "
                f"beam's. Where it lies on {shot.target} tells where it is cut."
            )
        case _:
            assert_never(reason)


def why_not_firing(reason: r.NotFiring) -> str:
    """Why no more dose is advised."""
    times = "One pulse" if reason.pulses == 1 else f"{reason.pulses} pulses, each stronger,"
    why = rivals_words(reason.rivals)
    return f"{times} left nothing at {reason.shot.name}: {why}. No more dose before that is known."


def rivals_words(rivals: Rivals) -> str:
    """The three rivals with their probabilities, likeliest first."""
    named = [
        (rivals.weak, "too weak"),
        (rivals.missed, "missed the target"),
        (rivals.not_firing, "did not fire"),
    ]
    return ", ".join(f"{words} {percent(chance)}" for chance, words in sorted(named, reverse=True))


def after_locks(reason: r.Confirming | r.TellsMost) -> str:
    """What goes before the reason of a mark that lock nuts ask for (common practice)."""
    return "Tightening lock nuts moves a mount a little: marks from before no longer count. " if reason.locked else ""
