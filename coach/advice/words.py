"""The one plain sentence that goes with every advice."""

import numpy as np

from coach.advice.adjust import Adjustment, ShiftChoice
from coach.advice.advice import Outlook, Shot
from coach.belief.belief import Belief, Sighting, mixture
from coach.belief.gaussian import Array

OFF_TAPE_LOOK_AT = (
    "whether the beam comes out of the tube and reaches mirror 1",
    "mirror 1's and mirror 2's screws: turned right out, or a mirror fallen out of its mount",
    "a wider piece of tape at mirror 2",
)
COARSE_LOOK_AT = (
    "a wider tolerance in the machine's profile, if the lens's opening allows it",
    "finer screws or longer arms on the mounts",
    "play in the mounts: do the screws' springs press?",
)


def again(sighting: Sighting, shot: Shot) -> str:
    """A reading that contradicts the others."""
    return (
        f"The mark at {sighting.station} reads ({sighting.u:+.1f}, {sighting.v:+.1f}) mm, but the others say "
        f"({shot.expected_u:+.1f}, {shot.expected_v:+.1f}) ± {shot.expected_sd:.1f}: pulse and measure it once more."
    )


def done(belief: Belief, now: Outlook) -> str:
    """Every station is centred."""
    return (
        f"Every station is within {belief.layout.machine.tolerance:g} mm with {_percent(now.chance)} probability, "
        "confirmed by a mark at each: stop turning."
    )


def confirm(belief: Belief, shot: Shot) -> str:
    """A mark that confirms what is believed."""
    return f"All stations are probably centred; {shot.name} still needs its confirming mark."


def explore(belief: Belief, shot: Shot) -> str:
    """A mark that tells most."""
    if not belief.round_sightings and not belief.adjustments:
        return f"Both legs of the beam are short at {shot.name}: the mark will land on the tape there."
    return (
        f"A mark at {shot.name} tells most now; expected at ({shot.expected_u:+.1f}, {shot.expected_v:+.1f}) "
        f"± {shot.expected_sd:.1f} mm."
    )


def nearer(belief: Belief, shot: Shot) -> str:
    """A point on the way, because the stations may miss the tape."""
    return "At the farther stations the mark could miss the tape: come nearer first."


def repeat(belief: Belief, shot: Shot) -> str:
    """Another mark at a station that has one."""
    return f"It is too close to call: one more mark at {shot.name} settles most."


def search() -> str:
    """A first search at mirror 2's own tape."""
    return "Even the nearest mark may miss the head's tape: look for the beam at mirror 2 first, on a wide tape."


def off_tape() -> str:
    """Nothing safe is left to shoot."""
    return "No pulse is left whose mark is sure to land on a tape: the beam is far off its path."


def turn(belief: Belief, adjustment: Adjustment) -> str:
    """Where the offsets grow, and so which mirror."""
    if adjustment.probe:
        return (
            "Nobody knows yet which way these screws drive: a small turn and the next mark will tell "
            f"(push so far {_drives(belief)})."
        )
    return f"{_growth(belief)}: the turn should leave {adjustment.then.worst:.1f} mm at worst, after centring."


def shift(belief: Belief, choice: ShiftChoice) -> str:
    """All marks are off the same way."""
    mean, _ = mixture(belief.settled, belief.layout.station_rows.mean(axis=0))
    return (
        f"All marks lie off the same way, by ({mean[0]:+.1f}, {mean[1]:+.1f}) mm, which no tilt cures: "
        f"moving the {choice.part} centres them."
    )


def coarse(belief: Belief, now: Outlook) -> str:
    """Nothing more is expected to help."""
    return (
        f"No further turn is expected to help: the worst station is at {now.worst:.1f} mm, and these screws "
        f"cannot be set finely enough to promise {belief.layout.machine.tolerance:g} mm everywhere."
    )


def _growth(belief: Belief) -> str:
    """The strongest growth of the offset along a leg, in mm over the travel, and its mirror."""
    bank = belief.settled
    mean = bank.weights @ bank.gaussian.mean
    bed = belief.layout.machine.bed
    leg1 = mean[4:6] * bed.depth / 1000
    leg2 = mean[6:8] * bed.width / 1000
    if np.hypot(*leg1) >= np.hypot(*leg2):
        return _grows("from back to front", leg1, "mirror 1")
    return _grows("along the gantry, away from mirror 2,", leg2, "mirror 2 (and what mirror 1 adds)")


def _grows(where: str, by: Array, mirror: str) -> str:
    sideways, upward = float(by[0]), float(by[1])
    if abs(upward) >= abs(sideways):
        return f"{where} the mark {'climbs' if upward > 0 else 'sinks'} {abs(upward):.1f} mm: {mirror}".capitalize()
    direction = "right" if sideways > 0 else "left"
    return f"{where} the mark moves {abs(sideways):.1f} mm to the {direction}: {mirror}".capitalize()


def _drives(belief: Belief) -> str:
    mirrors = sorted({screw.mirror for screw in belief.layout.screws})
    return ", ".join(f"mirror {m}: {_percent(belief.drive_push(m))}" for m in mirrors)


def _percent(chance: float) -> str:
    """A probability without false certainty."""
    return "more than 99 %" if chance > 0.99 else f"{100 * chance:.0f} %"
