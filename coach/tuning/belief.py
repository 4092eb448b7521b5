"""What is believed before anything is measured: readers, hands, machines.  Common practice, no published source."""

from dataclasses import dataclass
from typing import Literal

CauseBelieved = Literal["", "yaw", "loose"]


@dataclass(frozen=True)
class Readings:
    """How people read marks, and how often they go wrong."""

    sd: float = 0.25
    """mm, each axis, of a mark measured with care on the tape."""
    least_sd: float = 0.01
    """mm: nobody reads finer, whatever is said; far below it arithmetic would give out."""
    wide_sd: float = 0.5
    """The same of a mark on a wide card, whose middle is only roughly known."""
    outlier_probability: float = 0.02
    """How often a reading is simply wrong: wrong tape, slipped callipers, swapped sign."""
    odd_station_probability: float = 0.003
    """How often one place of the bed stands off from the others: a dent in a rail, a bump."""
    outlier_sd: float = 3.0
    """mm, how far out a wrong reading or an odd place is."""
    two_wrong_from: float = 0.3
    """Probability of a faulty machine from which it is asked whether two readings are wrong instead."""
    left_out_from: float = 0.7
    """Probability of being wrong from which a reading is left out of what an adjustment is built on."""


@dataclass(frozen=True)
class Hands:
    """How roughly screws are turned and parts are moved."""

    turn_share: float = 0.10
    """A turn is executed to this share of itself …"""
    turn_floor: float = 0.012
    """… and to this many turns."""
    backlash_mean: float = 0.015
    """Turns lost when a screw's direction reverses: anything from none to 0.03, so this on average …"""
    backlash_sd: float = 0.009
    """… and this for its doubt."""
    first_turn_reverses: float = 0.3
    """Probability that a screw's first turn reverses the one before, as nobody knows which way it went last."""
    shift_share: float = 0.10
    """A shift is executed to this share of itself …"""
    shift_floor: float = 0.20
    """… and to this many mm, along each direction in which the part is moved."""
    tube_tilt: float = 0.4
    """mrad, each axis: moving the tube tilts the beam this much …"""
    slot_tilt: float = 1.5
    """… and moving a mirror in its slot this much; the head, mark by mark, none."""
    lock_slope_sd: float = 0.15
    """mrad, what tightening a mount's lock nuts tilts …"""
    lock_offset_sd: float = 0.05
    """… and mm, what it moves."""
    disturbed_slope: float = 4.0
    """mrad, each axis: what a mirror that was out, or a part that was bumped, does to what it steers …"""
    disturbed_offset: float = 1.5
    """… and mm, to the offsets behind a part that stands elsewhere."""
    slid_offset: float = 5.0
    """mm, each axis: what a mirror slid along its own face does to where it is hit, and to nothing else."""


@dataclass(frozen=True)
class Explanation:
    """One story about where the marks come from: a hypothesis with its own noise."""

    name: str
    cause: CauseBelieved
    """What no screw cures, or "" where screws do."""
    share: float
    """How often it is so, before the first mark."""
    sd_yaw: float = 0.7
    """Doubt about the yaw term, mrad per m."""
    wander: float = 0.0
    """Beam's wandering from mark to mark after mirror 2, mrad on each axis."""
    reading: float = 1.0
    """The reader's doubt, as a multiple of the stated one."""
    beam: float = 1.0
    """How far the beam is out, as a share of what is usual."""
    mounts: float = 1.0
    """The doubt about the size of the screw responses, as a multiple of the usual one."""


@dataclass(frozen=True)
class Prior:
    """Where a machine stands beforehand: out by a few mrad and a millimetre or two; mounts measured with a ruler."""

    sd_beam: float = 2.5
    """mm, each axis: how far the beam from the tube stands off, felt at every opening."""
    sd_head: float = 1.5
    """mm, each axis, at the head beside that."""
    sd_mirror2: float = 1.5
    """mm, each axis, at mirror 2's own opening beside that …"""
    sd_mirror1: float = 1.0
    """… and at mirror 1's, which stands on the frame as the tube does."""
    sd_slope1: float = 5.0
    """mrad, each axis of leg 1, which leg 2 carries …"""
    sd_slope2: float = 5.0
    """… and what mirror 2 adds to leg 2."""
    scale_common: float = 0.15
    """Relative doubt about the size of the screw responses, shared by a mount's screws …"""
    scale_own: float = 0.12
    """… and each screw's own."""
    angle_common: float = 0.17
    """rad, doubt about the direction of the screw responses, shared …"""
    angle_own: float = 0.12
    """… and each screw's own."""
    rise: float = 0.25
    """Of the screw's advance: doubt about the sideways shift that comes with a turn."""
    wrong_drive: float = 0.03
    """Probability that a profile that says push or pull has it the wrong way round."""
    forget_floor: float = 0.02
    """Relative doubt added to learned screw responses at once …"""
    forget_per_year: float = 0.10
    """… and for every year since."""
    rewired: float = 0.001
    """Probability that a drive that was learned is the other way round now: mixed up, or a mount refitted …"""
    rewired_per_year: float = 0.002
    """… and for every year since."""
    guessed_gap: float = 50.0
    """mm, doubt about a gap that nobody measured: so much longer or shorter is the leg."""
    guessed_mirror: float = 2.5
    """mm, doubt about a mirror's diameter that nobody measured: 20, 25 and 30 mm are usual."""
    guessed_points_scale: float = 0.3
    """Relative doubt about the size of the responses where nobody measured a mount's points …"""
    guessed_points_angle: float = 0.35
    """… and rad about their direction."""
    guessed_thread: float = 0.3
    """Relative doubt about their size where nobody knows the thread: M3 to M6 lie this far around M4."""
    explanations: tuple[Explanation, ...] = (
        Explanation("sound", "", 0.60),
        Explanation("aligned", "", 0.12, beam=0.1),
        Explanation("mount not as described", "", 0.10, mounts=5.0),
        Explanation("rough reader", "", 0.15, reading=1.8),
        Explanation("yaw", "yaw", 0.015, sd_yaw=12.0),
        Explanation("loose", "loose", 0.015, wander=2.5),
    )
    """What may be true of a machine and its reader."""


@dataclass(frozen=True)
class Beam:
    """The beam and the lens of a usual machine, to say what an offset costs where nobody measured them."""

    waist: float = 3.0
    """mm, 1/e² radius of the beam where it leaves the tube."""
    m2: float = 1.2
    """How many times faster than an ideal beam it widens."""
    focal: float = 50.8
    """mm, the lens."""
    harmless_lost: float = 0.01
    """An offset that costs no more of the beam, at the worst station, is harmless …"""
    harmless_lean: float = 1.5
    """… where the focused beam leans by no more degrees: 0.16 mm over 6 mm, no wider than a kerf."""
