"""Every number that somebody chose rather than derived, in one frozen object that is handed to whoever decides.

docs/model.md lists each with its value, its meaning and where it comes from; a test holds the two together in both
directions.  What only says how finely something is computed stays beside the computation.
"""

from dataclasses import dataclass, field

from coach.tuning.belief import Beam, Explanation, Hands, Prior, Readings
from coach.tuning.cutting import Cutting
from coach.tuning.deciding import Adjusting, Costs, Deciding, Shooting
from coach.tuning.doses import Doses
from coach.tuning.drifting import Drifting
from coach.tuning.head import Head

__all__ = [
    "TUNING",
    "Adjusting",
    "Beam",
    "Costs",
    "Cutting",
    "Deciding",
    "Doses",
    "Drifting",
    "Explanation",
    "Hands",
    "Head",
    "Prior",
    "Readings",
    "Shooting",
    "Tuning",
]


@dataclass(frozen=True)
class Tuning:
    """What is believed beforehand, and from where on the coach decides."""

    readings: Readings = field(default_factory=Readings)
    hands: Hands = field(default_factory=Hands)
    prior: Prior = field(default_factory=Prior)
    beam: Beam = field(default_factory=Beam)
    doses: Doses = field(default_factory=Doses)
    cutting: Cutting = field(default_factory=Cutting)
    head: Head = field(default_factory=Head)
    drifting: Drifting = field(default_factory=Drifting)
    deciding: Deciding = field(default_factory=Deciding)
    shooting: Shooting = field(default_factory=Shooting)
    adjusting: Adjusting = field(default_factory=Adjusting)
    costs: Costs = field(default_factory=Costs)


TUNING = Tuning()
"""As the coach is delivered."""
