"""What is believed of cuts beforehand, and from where on their pattern is named."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Cutting:
    """Speeds are compared as logarithms: a step of the ladder is 0.095."""

    step: float = 1.1
    """The ladder's speeds rise to so many times the one before."""
    place_sd: float = 0.04
    """Relative doubt of the fastest speed that falls through, from place to place of one sheet …"""
    place_factor: float = 1.6
    """… which may be so many times smaller or larger, no one knows of a sheet …"""
    sheet_sd: float = 0.03
    """… and from one sheet of a batch to the next, with the focus gauged anew."""
    alike: float = 0.4
    """Probability beforehand that all stations get the same; else each does so …"""
    alike_each: float = 0.5
    """… with this probability, and those that do not differ …"""
    least_spread: float = 0.03
    """… by a relative deviation from this …"""
    most_spread: float = 0.8
    """… to this, each factor as likely."""
    named_from: float = 3.0
    """A pattern is named once it explains the cuts so many times better than stations that cut alike …"""
    falls_from: float = 0.05
    """… a fall counts from this logarithm …"""
    falls_to: float = 1.5
    """… to this."""
    again: float = 0.85
    """It cuts again where no station's speed fell below this share of the baseline's …"""
    again_sure: float = 0.7
    """… with this probability; with as much it does not where one did."""
    nearly: float = 0.75
    """It nearly does where none fell below this share, as surely: some two or three steps of the ladder."""
    radius: float = 3.5
    """mm, the beam's 1/e² radius at the lens, where nobody measured it …"""
    m2: float = 1.3
    """… and how many times wider its focus is than an ideal beam's, the lens's own faults counted."""
