"""How far a visit is, for whoever shows it."""

from dataclasses import dataclass


@dataclass(frozen=True)
class VisitStanding:
    """How far a visit is."""

    now: str
    """The part that the person is in, as it is said; "" between two parts."""
    done: int
    """Parts that are done or left out."""
    of: int
    on_the_beam: bool
    """Whether the beam's path is what the person is at."""
