"""The kinds of trouble that a practice machine can have: how large its hidden errors are.

All "rms" sizes are standard deviations of normal distributions.
"""

from dataclasses import dataclass, replace


@dataclass(frozen=True)
class Trouble:
    """Sizes of everything that a practice machine hides or does roughly."""

    slope: float = 3.0
    """Slope of each leg in each axis at the start, mrad rms."""
    offset: float = 1.2
    """Constant offset at the head in each axis, mm rms, made by tube, mirror 2 and head standing off."""
    tube_slope: float = 1.0
    """Slope of the beam from the tube, mrad rms; mirror 1 makes up for it in leg 1's slope."""
    scale: float = 0.20
    """A mount's points stand off the profile by this part of their distance from the centre, rms."""
    scale_most: float = 0.40
    """No point is off by more than this part."""
    rotation: float = 10.0
    """A mount's points are turned about the mirror's centre against the profile, degrees rms."""
    rotation_most: float = 25.0
    opposite: bool = False
    """One or both mounts are driven the other way than the profile says."""
    turn_fraction: float = 0.10
    """A turn is executed to this part of it, rms …"""
    turn_absolute: float = 0.006
    """… and to this, in turns rms."""
    backlash: float = 0.03
    """Up to this many turns are lost when a screw's direction is reversed."""
    reading: float = 0.25
    """u and v are each read to this, mm rms …"""
    rounding: float = 0.1
    """… and rounded to multiples of this, mm."""
    shift_fraction: float = 0.05
    shift_absolute: float = 0.05
    """A shift is executed to this, mm rms, and to `shift_fraction` of it."""
    lock: float = 0.05
    """Tightening the lock nuts tilts the plate by this in each axis, mrad rms."""
    yaw: float = 0.0
    """Gantry yaw per metre of its travel, mrad; either sense."""
    wander: float = 0.0
    """Mirror 2's plate lies differently for every pulse, mrad rms in each axis."""
    outlier: float = 0.0
    """One of the first five readings is wrong by this, mm."""
    worst_at_most: float | None = None
    """All errors are made smaller until no station's offset is larger than this, mm."""


_PLAIN = Trouble()

KINDS: dict[str, Trouble] = {
    "plain": _PLAIN,
    "drive": replace(_PLAIN, opposite=True),
    "far": replace(_PLAIN, slope=6.0),
    "rough": replace(
        _PLAIN,
        scale=0.40,
        scale_most=0.60,
        rotation=25.0,
        rotation_most=60.0,
        turn_fraction=0.15,
        backlash=0.08,
        reading=0.4,
    ),
    "fine": replace(
        _PLAIN,
        scale=0.10,
        scale_most=0.20,
        rotation=5.0,
        rotation_most=12.5,
        turn_absolute=0.003,
        backlash=0.0,
        reading=0.1,
        rounding=0.05,
    ),
    "aligned": replace(_PLAIN, slope=0.3, offset=0.12, tube_slope=0.1, worst_at_most=0.35),
    "yaw": replace(_PLAIN, yaw=12.0),
    "loose": replace(_PLAIN, wander=1.5),
    "outlier": replace(_PLAIN, outlier=3.0),
}
"""Name to sizes."""
