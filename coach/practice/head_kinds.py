"""How large the hidden errors of practice heads are.  None of the numbers is taken from what the coach believes."""

from dataclasses import dataclass, replace


@dataclass(frozen=True)
class HeadTrouble:
    """Sizes of what a practice head hides or does roughly; "rms" of normal distributions, each axis."""

    plate: float = 5.5
    """mrad rms by which mirror 3's plate is tilted; the beam leans by up to twice that."""
    rise: float = 0.2
    """mm rms by which that plate stands forward or back."""
    incoming: float = 1.0
    """mrad rms by which the beam comes in tilted, its path being aligned …"""
    beside: float = 0.4
    """… and mm rms by which it comes in beside the middle."""
    lens: float = 0.45
    """mm rms by which the lens's middle stands off the head's axis …"""
    nozzle: float = 0.3
    """… and the nozzle's off the lens's."""
    hangs: tuple[float, float] = (48.0, 95.0)
    """mm from mirror 3 down to the lens: anything between these."""
    focal: float = 0.01
    """Share by which the focal length is not as stamped, rms …"""
    above_focus: float = 0.8
    """… and mm by which the nozzle hangs higher or lower above the focus."""
    lowers: tuple[float, float] = (110.0, 200.0)
    """mm by which the bed goes down at most: anything between these."""
    bed: float = 0.8
    """mrad rms by which the bed's way down leans."""
    card: float = 0.2
    """mm rms to which marks on the card are read …"""
    card_step: float = 0.1
    """… rounded to this …"""
    at_nozzle: float = 0.09
    """… and mm rms under the nozzle …"""
    nozzle_step: float = 0.05
    tails: float = 0.03
    """Share of readings on the card that are wrong by a mm and, on average, one more."""
    nozzle_tail: float = 0.4
    """mm by which, on average, as many readings under the nozzle are wrong."""
    seat: float = 0.12
    """mm rms by which a lens lies elsewhere once it was out."""
    move_share: float = 0.08
    """The lens tube is moved to this share of what was meant, rms …"""
    move_floor: float = 0.08
    """… and to this many mm."""


_USUAL = HeadTrouble()
HEAD_KINDS: dict[str, HeadTrouble] = {
    "head": _USUAL,
    "head-mirror": replace(_USUAL, plate=11.0, lens=0.1, nozzle=0.08),
    "head-lens": replace(_USUAL, plate=1.0, incoming=0.5, lens=0.9, nozzle=0.08),
    "head-nozzle": replace(_USUAL, plate=1.0, incoming=0.5, lens=0.1, nozzle=0.5),
    "head-nearly": replace(_USUAL, plate=0.6, incoming=0.4, beside=0.05, lens=0.04, nozzle=0.04, bed=0.4),
    "head-aligned": replace(_USUAL, plate=0.3, rise=0.02, incoming=0.1, beside=0.02, lens=0.04, nozzle=0.04),
}
"""Name to sizes: everything a little, mirror 3 alone, the lens alone, the nozzle alone, every second one a little
out, and as upright through the nozzle's middle as anybody sets it."""
ROUGH_KINDS: dict[str, HeadTrouble] = {
    "rough-eyes": replace(_USUAL, card=0.4, at_nozzle=0.18),
    "rough-hands": replace(_USUAL, move_share=0.16, move_floor=0.16),
    "short-bed": replace(_USUAL, lowers=(75.0, 95.0)),
    "leaning-bed": replace(_USUAL, bed=2.4),
    "slips": replace(_USUAL, tails=0.12),
    "far-eyes": replace(_USUAL, card=0.8, at_nozzle=0.36),
    "far-hands": replace(_USUAL, move_share=0.32, move_floor=0.32),
    "far-leaning-bed": replace(_USUAL, bed=5.0),
}
"""Worlds in which one thing is two to six times rougher than in `head`: there the coach is to be seen to break."""
