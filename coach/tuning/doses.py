"""What is believed of pulses and doses beforehand, and how doses are raised.  Common practice."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Doses:
    """A dose is time times power; thresholds are logarithms of a dose over the one to begin with."""

    ms: float = 60.0
    """ms, the pulse to begin with where the controller times it."""
    power: float = 12.0
    """Per cent, the power to begin with where it is set so."""
    step: float = 1.4
    """After nothing was seen the dose is raised to so many times itself …"""
    most_times: float = 8.0
    """… up to so many times the dose that marked first …"""
    longest: float = 500.0
    """… and to this many ms."""
    finger: float = 200.0
    """ms that a button pressed as briefly as one can lasts, usually …"""
    finger_longest: float = 300.0
    """… and at most; with it the power is raised no further than the ceiling in ms allows …"""
    finger_sd: float = 0.35
    """… and how much the logarithm of that time varies."""
    threshold: float = -0.9
    """Logarithm of the dose that just marks, over the one to begin with, on average …"""
    threshold_sd: float = 0.8
    """… and its doubt, from machine to machine."""
    places_sd: float = 0.3
    """The same from place to place of one machine: the beam grows along its way, tape and paper differ."""
    not_firing_first: float = 0.03
    """Probability that the laser does not fire, before its first mark: lid, water, key, power below striking …"""
    not_firing: float = 0.005
    """… and once it has marked in this session."""
    cut_sd: float = 0.6
    """mm, each axis: how far the middle of a crescent or a cut-off mark lies from the beam's; of half a disc of 3 mm
    4·r/(3π)."""
    double_sd: float = 2.0
    """mm, the same of a double mark, of which nobody knows which half is the beam's."""
    width_sd: float = 0.2
    """mm, how well a mark's width is measured: two edges judged by eye."""
    tape_sd: float = 0.05
    """How much the logarithm of the dose that just marks varies from piece to piece of the same tape."""
    waist_share: float = 0.15
    """Relative doubt about the beam's radius at the tube where no two doses tell it …"""
    m2_sd: float = 0.15
    """… and about how many times faster than an ideal beam it widens …"""
    radius_share: float = 0.03
    """… and about its radius at one place, beside what grows as it should."""
