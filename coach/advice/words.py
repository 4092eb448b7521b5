"""The one plain sentence that goes with every advice."""

from coach.advice.adjust import Adjustment, ShiftChoice
from coach.advice.advice import Outlook, Shot
from coach.belief.belief import Belief, Sighting, mixture
from coach.belief.gaussian import Array
from coach.belief.layout import A1_U, A2_U
from coach.shown import show_exact, show_length, show_place

OFF_TAPE_LOOK_AT = (
    "whether the beam comes out of the tube and reaches mirror 1",
    "mirror 1's and mirror 2's screws: turned right out, or a mirror fallen out of its mount",
    "a wider piece of tape, at mirror 2 and at the head (and its radius in the machine's profile)",
)
COARSE_LOOK_AT = (
    "a wider tolerance in the machine's profile, if the lens's opening allows it",
    "finer screws or longer arms on the mounts",
    "play in the mounts: do the screws' springs press?",
)


def again(sighting: Sighting, shot: Shot) -> str:
    """A reading that contradicts the others."""
    read = show_place(sighting.u or 0.0, sighting.v or 0.0)
    return (
        f"The mark at {sighting.station} reads {read}, but the others say {expected_words(shot)}: "
        "pulse and measure it once more."
    )


def done(belief: Belief, now: Outlook) -> str:
    """Every station is centred."""
    tolerance = show_exact(belief.layout.machine.tolerance)
    return (
        f"Every station is within {tolerance} with {percent(now.chance)} probability, "
        "confirmed by a mark at each: stop turning."
    )


def confirm(belief: Belief, shot: Shot) -> str:
    """A mark that confirms what is believed."""
    return f"All stations are probably centred; {shot.name} still needs its confirming mark."


def explore(belief: Belief, shot: Shot) -> str:
    """A mark that tells most."""
    if not belief.round_sightings and not belief.adjustments:
        return f"Both legs of the beam are short at {shot.name}: the mark will land on the tape there."
    return f"A mark at {shot.name} tells most now; expected {expected_words(shot)}."


def expected_words(shot: Shot) -> str:
    """Where a mark is expected and how surely: "1.5 mm left, 0.9 mm up, give or take 0.8 mm" (two deviations)."""
    return f"{show_place(shot.expected_u, shot.expected_v)}, give or take {show_length(2 * shot.expected_sd)}"


def nearer(belief: Belief, shot: Shot) -> str:
    """A point on the way, because the stations may miss the tape."""
    return "At the farther stations the mark could miss the tape: come nearer first."


def repeat(belief: Belief, shot: Shot) -> str:
    """Another mark at a station that has one."""
    return f"It is too close to call: one more mark at {shot.name} settles most."


def proof(shot: Shot) -> str:
    """A mark made again before the machine itself is blamed."""
    return f"The marks do not fit together. Before blaming the machine, make the oddest one again, at {shot.name}."


def search() -> str:
    """A first search at mirror 2's own tape."""
    return "Even the nearest mark may miss the head's tape: look for the beam at mirror 2 first, on a wide tape."


def surest(shot: Shot, risk: float) -> str:
    """The first mark at the head on a small tape."""
    return f"The tape at the head is small: {shot.name} is the surest place for a first mark ({risk:.0%} could miss)."


def off_tape() -> str:
    """Nothing safe is left to shoot."""
    return "No pulse is left whose mark is sure to land on a tape: the beam is far off its path."


def turn(belief: Belief, adjustment: Adjustment) -> str:
    """Where the offsets grow, and so which mirror; and what to expect."""
    if adjustment.probe:
        return (
            "Nobody knows yet which way these screws drive: a small turn and the next mark will tell "
            f"(that clockwise pushes: {_drives(belief)})."
        )
    return f"{_growth(belief, adjustment)}. Once centred, the worst mark should then be {_then(adjustment.then)} off."


def _then(outlook: Outlook) -> str:
    return f"{show_length(outlook.worst)} ({show_length(outlook.worst_high)} with bad luck)"


def shift(belief: Belief, choice: ShiftChoice) -> str:
    """All marks are off the same way."""
    mean, _ = mixture(belief.settled, belief.layout.station_rows.mean(axis=0))
    after = " Whatever the turns did, this is needed." if not belief.round_sightings else ""
    return (
        f"All marks lie off the same way, {show_place(*mean)} on average. Tilting a mirror cannot cure that; moving "
        f"the {choice.part} does.{after} The worst mark should then be {_then(choice.then)} off."
    )


def coarse(belief: Belief, now: Outlook) -> str:
    """Nothing more is expected to help."""
    return (
        f"No further turn is expected to help: the worst station is at {show_length(now.worst)}, and these screws "
        f"cannot be set finely enough to promise {show_exact(belief.layout.machine.tolerance)} everywhere."
    )


def tried_enough(belief: Belief, now: Outlook) -> str:
    """So many rounds that another is no better hope."""
    return (
        f"{belief.rounds} rounds of adjusting have not brought every station within "
        f"{show_exact(belief.layout.machine.tolerance)}: the worst is at {show_length(now.worst)}, and these screws "
        "do not answer finely or steadily enough."
    )


def _growth(belief: Belief, adjustment: Adjustment) -> str:
    """How the mark wanders along each leg whose mirror is turned, in mm over the travel."""
    bank = belief.settled
    mean = bank.weights @ bank.gaussian.mean
    bed = belief.layout.machine.bed
    turned = {screw.mirror for screw, n in zip(belief.layout.screws, adjustment.turns, strict=True) if n}
    parts = []
    if 1 in turned:
        parts.append(_grows("from back to front", mean[A1_U : A1_U + 2] * bed.depth / 1000, "mirror 1"))
    if 2 in turned:
        parts.append(_grows("from mirror 2 outwards", mean[A2_U : A2_U + 2] * bed.width / 1000, "mirror 2"))
    sentence = "; ".join(parts)
    return sentence[:1].upper() + sentence[1:]


def _grows(where: str, by: Array, mirror: str) -> str:
    sideways, upward = float(by[0]), float(by[1])
    if abs(upward) >= abs(sideways):
        return f"{where} the mark {'climbs' if upward > 0 else 'sinks'} {show_length(abs(upward))}: {mirror}"
    return (
        f"{where} the mark drifts {show_length(abs(sideways))} to the {'right' if sideways > 0 else 'left'}: {mirror}"
    )


def _drives(belief: Belief) -> str:
    mirrors = sorted({screw.mirror for screw in belief.layout.screws})
    return ", ".join(f"mirror {m}: {percent(belief.drive_push(m))}" for m in mirrors)


def percent(chance: float) -> str:
    """A probability without false certainty."""
    if chance > 0.99:
        return "more than 99 %"
    return "less than 1 %" if chance < 0.01 else f"{100 * chance:.0f} %"
