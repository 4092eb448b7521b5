"""What is believed of the head, its lens and its nozzle beforehand, and when they are good.  Common practice."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Head:
    """Mirror 3 to nozzle."""

    lean: float = 0.3
    """Degrees by which the focused beam may lean: 0.03 mm over 6 mm …"""
    nozzle: float = 0.2
    """… and mm by which it may pass beside the middle of the nozzle's hole."""
    card_sd: float = 0.18
    """mm, each axis, of a mark measured on a card on the bed, against others on the same card …"""
    nozzle_sd: float = 0.1
    """… and of one on the tape under the nozzle, against the rim's imprint."""
    cut_sd: float = 0.3
    """mm, more of a nozzle's mark that the rim cut: its middle is not the beam's."""
    bed_play: float = 0.1
    """mm, each axis, by which the bed stands elsewhere each time it went up or down …"""
    bed_lean: float = 1.0
    """… and mrad, each axis, by which its way down may lean after its card was set by a square."""
    slope: float = 25.0
    """mrad, each axis, by which the beam below mirror 3 may lean …"""
    offset: float = 1.2
    """… mm, by which it may pass beside the lens's middle …"""
    nozzle_off: float = 0.5
    """… and mm, by which nozzle and lens may stand beside each other."""
    still_good: float = 0.1
    """How likely a head is beforehand to be as somebody once set it …"""
    as_set: float = 0.6
    """… and to what share of what is good, each axis, lean and nozzle were set then."""
    mirror_distance: float = 70.0
    """mm from mirror 3 to the lens where nobody measured it …"""
    mirror_distance_sd: float = 20.0
    """… and its doubt …"""
    measured_sd: float = 4.0
    """… and mm of doubt where somebody did: of the lens counts a plane within it."""
    seat_sd: float = 0.15
    """mm, each axis: how differently a lens lies once it was out and is in again."""
    shift_share: float = 0.10
    """The lens tube is moved to this share of what was wanted …"""
    shift_floor: float = 0.10
    """… and to this many mm."""
    lens_reach: float = 3.0
    """mm each way that the lens tube is taken to go where nobody said; farther off it is not the tube."""
    focal: float = 50.8
    """mm, the lens where nobody described one …"""
    nozzle_distance: float = 8.0
    """… mm from the nozzle down to the focus …"""
    hole: float = 2.5
    """… and mm, the diameter of the nozzle's hole."""
    lowered: float = 170.0
    """mm by which the bed is to go down for the second mark, where it can …"""
    off_focus: float = 20.0
    """… and for the first one with the lens in, well off the focus."""
    near_hole: float = 1.1
    """mm off the nozzle's middle from which the rim cuts so much that no mark on the bed can be trusted."""
    nozzle_most: float = 1.0
    """mm that nozzle and lens may stand beside each other for screws to make up for it; else one is badly seated."""
    beam_slope: float = 10.0
    """mrad, each axis, that work on mirrors 1 and 2 or the tube may tilt the beam that comes into the head."""
    pointer: float = 0.5
    """mm that the pointer's spot may lie beside the mark."""
    done: float = 0.94
    """Probability of lean and nozzle being good from which it is done …"""
    done_at_least: float = 0.91
    """… and, when nothing more is expected to help, at least."""
    left_alone: float = 0.5
    """Such a probability from which nothing is touched before every mark that tells was made …"""
    another_round: float = 80.0
    """… minutes that a round is reckoned to cost which did not end well: hands, marks, and what may follow …"""
    most_marks: int = 16
    """… and marks in one round after which more would tell little."""
    most_rounds: int = 6
    """Rounds of adjusting after which the screws have had their chance."""
