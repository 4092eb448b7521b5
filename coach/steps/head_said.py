"""How head, lens and nozzle stand, in words: lean, what it does over a board, what the nozzle cuts off."""

from math import hypot, radians, tan

from coach.head.outlook import HeadOutlook
from coach.shown import Wording
from coach.steps.words import BOTH_SENSES

BOARD = 6.0
"""mm: the board over which a lean is said; one that such machines are bought for."""
HARDLY = 0.05
"""Degrees that are not told apart from nothing: what is said is rounded to a tenth."""


def lean_sentence(now: HeadOutlook, wording: Wording) -> str:
    """ "Leans 0.6° to the right, 0.2° to the back (give or take 0.2°): 0.07 mm over a board of 6 mm." """
    ways = zip(("right", "back"), now.lean, strict=True)
    said = [
        f"{abs(degrees):.1f}° {BOTH_SENSES[way][0 if degrees > 0 else 1]}"  # type: ignore[index]
        for way, degrees in ways
        if abs(degrees) >= HARDLY
    ]
    doubt = f"give or take {2 * max(now.lean_sd):.1f}°"
    over = wording.length(BOARD * tan(radians(hypot(*now.lean))), 2)
    return f"Leans {', '.join(said) or '0.0°'} ({doubt}): {over} over a board of {wording.exact(BOARD)}."


def clipped_sentence(now: HeadOutlook, wording: Wording) -> str:
    """ "Passes 0.3 mm beside the nozzle's middle (give or take 0.2 mm): 0.4 % of the beam is cut off …" """
    off, doubt = wording.length(hypot(*now.nozzle)), wording.length(2 * max(now.nozzle_sd))
    lost, lost_doubt = _percent(now.clipped), _percent(2 * now.clipped_sd)
    return (
        f"Passes {off} beside the nozzle's middle (give or take {doubt}): {lost} of the beam is cut off "
        f"(give or take {lost_doubt})."
    )


def head_figure(now: HeadOutlook, wording: Wording) -> str:
    """For the large type: "lean 0.6°, 0.3 mm off"."""
    return f"lean {hypot(*now.lean):.1f}°, {wording.length(hypot(*now.nozzle))} off"


def _percent(share: float) -> str:
    percent = 100 * share
    return f"{'< 0.1' if percent < 0.1 else f'{percent:.1f}'} %"
