"""The kinds of trouble that a practice machine can have: how large its hidden errors are.

All "rms" sizes are standard deviations of normal distributions.  None of them is taken from what the coach believes
(`coach.tuning`): a world that shared its numbers with the adviser would flatter it.  The "standard" kinds are as
rough as a workshop: moved parts tilt, hands are coarse, some readings are plainly wrong, mirrors can be missed.
"""

from dataclasses import dataclass, replace


@dataclass(frozen=True)
class Trouble:
    """Sizes of everything that a practice machine hides or does roughly."""

    slope: float = 3.0
    """Slope of each leg in each axis at the start, mrad rms."""
    carried: bool = False
    """Leg 2 carries what mirror 1 does to leg 1: `slope` is then each mirror's own, and leg 2's is √2 as large."""
    offset: float = 1.2
    """Constant offset at the head in each axis, mm rms, made by tube, mirror 2 and head standing off."""
    opening1: float = 0.5
    """Mirror 1's own opening stands off its mirror by this in each axis, mm rms; mirror 2's by `offset`."""
    tube_slope: float = 1.0
    """Slope of the beam from the tube, mrad rms; mirror 1 makes up for it in leg 1's slope."""
    scale: float = 0.20
    """A mount's points stand off the profile by this part of their distance from the centre, rms."""
    scale_most: float = 0.40
    """No point is off by more than this part."""
    rotation: float = 10.0
    """A mount's points are turned about the mirror's centre against the profile, degrees rms."""
    rotation_most: float = 25.0
    answers: tuple[float, float] = (1.0, 1.0)
    """The beam answers a mount's screws so many times as strongly as its points tell, anything between these."""
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
    wide_reading: float = 0.5
    """… to this on a wide card, which has only its drawn cross …"""
    rounding: float = 0.1
    """… and rounded to multiples of this, mm."""
    tails: float = 0.0
    """Share of readings that are wrong by `tail_from` mm and, on average, `tail_more` mm more, in any direction."""
    tail_from: float = 1.0
    tail_more: float = 1.0
    shift_fraction: float = 0.05
    shift_absolute: float = 0.05
    """A shift is executed to this, mm rms, and to `shift_fraction` of it."""
    tube_tilt: float = 0.0
    """Moving the tube turns its beam by this in each axis, mrad rms."""
    plate_tilt: float = 0.0
    """Moving mirror 1 or 2 in its slots turns the beam by this in each axis, mrad rms."""
    lock: float = 0.05
    """Tightening the lock nuts tilts the plate by this in each axis, mrad rms."""
    yaw: float = 0.0
    """Gantry yaw per metre of its travel, mrad; either sense."""
    wander: float = 0.0
    """Mirror 2's plate lies differently for every pulse, mrad rms in each axis."""
    outlier: float = 0.0
    """One of the first five readings is wrong by this, mm."""
    weak: float = 0.0
    """Probability that a session's first pulse is too weak to mark; the same place with more dose marks."""
    faces: bool = False
    """Mirrors 1 and 2 are no larger than the profile says, and a beam beside one of them makes no mark behind it."""
    worst_at_most: float | None = None
    """All errors are made smaller until no station's offset is larger than this, mm."""
    worst_at_least: float | None = None
    """All errors are made larger until some station's offset is as large as this, mm."""
    put_back: float = 1.0
    """A mirror that was out, or was bumped, stands askew by this in each axis, mrad rms."""


_PLAIN = Trouble()
_STANDARD = replace(
    _PLAIN,
    carried=True,
    turn_absolute=0.012,
    tails=0.03,
    shift_fraction=0.10,
    shift_absolute=0.25,
    tube_tilt=0.4,
    plate_tilt=1.5,
    weak=0.1,
    faces=True,
)


def _rough(trouble: Trouble) -> Trouble:
    """Mounts unlike their drawing, much backlash, a rough reader."""
    mounts = replace(trouble, scale=0.40, scale_most=0.60, rotation=25.0, rotation_most=60.0)
    return replace(mounts, turn_fraction=0.15, backlash=0.08, reading=0.4)


def _aligned(trouble: Trouble) -> Trouble:
    """Next to nothing to do."""
    return replace(trouble, slope=0.3, offset=0.12, tube_slope=0.1, worst_at_most=0.35)


KINDS: dict[str, Trouble] = {
    "plain": _PLAIN,
    "drive": replace(_PLAIN, opposite=True),
    "far": replace(_PLAIN, slope=6.0),
    "rough": _rough(_PLAIN),
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
    "aligned": _aligned(_PLAIN),
    "yaw": replace(_PLAIN, yaw=12.0),
    "loose": replace(_PLAIN, wander=1.5),
    "outlier": replace(_PLAIN, outlier=3.0),
    "standard": _STANDARD,
    "standard-plates": replace(_STANDARD, slope=3.0 * 3.0**0.5),  # plates 3 mrad off: 2 and √2 times that on the beam
    "standard-steep": replace(_STANDARD, slope=4.0),
    "standard-far": replace(_STANDARD, slope=6.0),
    "standard-strong": replace(_STANDARD, answers=(2.0, 3.0)),
    "standard-rough": _rough(_STANDARD),
    "standard-outlier": replace(_STANDARD, outlier=3.0),
    "standard-aligned": _aligned(_STANDARD),
    "standard-yaw": replace(_STANDARD, yaw=10.0),
    "standard-out": replace(_STANDARD, worst_at_least=7.0, worst_at_most=8.5),
    "standard-weak": replace(_aligned(_STANDARD), weak=0.9),
}
"""Name to sizes."""
