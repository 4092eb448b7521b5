"""What a pulse that left nothing is put down to, and what is believed once it is known whether the laser fires."""

from dataclasses import dataclass, replace

from coach.belief.belief import Belief, since
from coach.belief.measurements import Sighting, off_target
from coach.belief.pulses import Pulsed


@dataclass(frozen=True)
class Rivals:
    """Why a pulse left nothing: probabilities that sum to 1."""

    not_firing: float
    weak: float
    missed: float


def rivals(belief: Belief) -> Rivals | None:
    """Why the newest pulse left nothing; None where it left a mark, or where that is known.

    P(nothing) = P(not firing) + P(too weak) + P(missed): the first two where the beam is on its target.
    """
    newest = belief.round_sightings[-1] if belief.round_sightings else None
    if newest is None or newest.silence is None:
        return None
    off = off_target(belief.layout, since(belief, belief.round_sightings[:-1]), newest)
    likely = off + (1 - off) * newest.silence.chance
    on = (1 - off) / likely
    return Rivals(on * newest.silence.not_firing, on * newest.silence.weak, off / likely)


def flared(belief: Belief, sighting: Sighting) -> Belief:
    """The belief after a pulse that made a flame: it fires, and with less dose next time."""
    return replace(belief, pulses=(*belief.pulses, Pulsed(sighting, "flare", 0.0)))


def fires_again(belief: Belief) -> Belief:
    """The belief once it was found that the laser had not fired: what left nothing tells nothing."""
    sightings = tuple(s for s in belief.round_sightings if not s.unexplained)
    pulses = tuple(p for p in belief.pulses if p.came_to != "nothing")
    return replace(
        belief,
        bank=since(belief, sightings),
        round_sightings=sightings,
        pulses=pulses,
        accepted=belief.accepted - {"not firing"},
    )
