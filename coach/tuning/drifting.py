"""What is believed of drifts between visits beforehand, and from where on one is named."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Drifting:
    """Slopes of the beam in mrad, the centre in mm, times in years; one axis each."""

    still: float = 0.7
    """Probability beforehand that a part does not drift."""
    slow_slope: float = 2.0
    """Of a mirror that drifts: the beam behind it turns by about so many mrad a year …"""
    fast_slope: float = 8.0
    """… or so many, either as likely …"""
    even_slope: float = 0.4
    """… with a wandering of so many mrad in a year beside it …"""
    uneven_slope: float = 2.0
    """… or so many."""
    slow_centre: float = 1.0
    """Of a centre that drifts the same, mm a year …"""
    fast_centre: float = 4.0
    """… or so many …"""
    even_centre: float = 0.2
    """… and its wandering, mm in a year …"""
    uneven_centre: float = 1.0
    """… or so many."""
    rest_slope: float = 0.3
    """What does not drift wanders by so many mrad in a year all the same …"""
    rest_centre: float = 0.15
    """… and by so many mm."""
    day_slope: float = 0.1
    """mrad by which a beam lies elsewhere from day to day, warm or cold …"""
    day_centre: float = 0.05
    """… and mm."""
    power: float = 0.15
    """Logarithm of the cut speed: what is lost in a year by a machine that gets weaker …"""
    rest_power: float = 0.03
    """… and by how much one that does not wanders in a year."""
    named_from: float = 0.95
    """A part is said to drift from this probability …"""
    doubts: float = 2.0
    """… where what it moved is more than so many standard deviations, else it is called none."""
    fewest: int = 3
    """Visits below which no drift is told and nothing forecast."""
    most: int = 24
    """So many of the newest visits are weighed."""
    interval: float = 0.9
    """Probability that a forecast's interval holds what comes."""
    check_at: float = 0.1
    """The next check is proposed for when the tolerance is left with this probability …"""
    soonest: int = 7
    """… though no sooner than in so many days …"""
    latest: int = 180
    """… nor later than in so many."""
    horizon: int = 730
    """Days that are looked ahead."""
