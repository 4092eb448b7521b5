"""What the marks taught: expected against seen, and how a screw differs from its geometry."""

import numpy as np

from coach.belief.belief import Belief, Sighting
from coach.belief.gaussian import Array
from coach.belief.layout import PER_SCREW
from coach.belief.learned import answers_of
from coach.optics.mounts import answers
from coach.shown import show_length, show_place

CHI_SQUARE_95 = 5.991
"""Upper 0.95 point for two degrees of freedom (NIST/SEMATECH handbook §1.3.6.7.4, from memory)."""
TOLD = 0.15
"""A screw's size must differ from its geometry by at least this part to be worth a sentence …"""
SURE_BY = 2.0
"""… and by this many standard deviations."""
SETTLED = 0.95
"""Probability from which the drive counts as known."""


def retest(before: Belief, sighting: Sighting) -> str:
    """How a new mark, or a miss, compares with the belief held just before it, in one sentence."""
    mean, cov = before.expected(sighting.x, sighting.y, sighting.target)
    spread = cov + sighting.sd**2 * np.eye(2)
    doubt = float(np.sqrt(np.linalg.eigvalsh(spread)[-1]))
    expected = f"{sighting.station}: expected {show_place(*mean)} (give or take {show_length(2 * doubt)})"
    if sighting.u is None or sighting.v is None:
        return f"{expected}, but no mark on the tape: not as expected, and the coach has learned from it."
    seen = np.array([sighting.u, sighting.v])
    good = (seen - mean) @ np.linalg.solve(spread, seen - mean) < CHI_SQUARE_95
    verdict = "as expected" if good else "not as expected, and the coach has learned from it"
    return f"{expected}, seen {show_place(*seen)}: {verdict}."


def lessons(belief: Belief) -> tuple[str, ...]:
    """What is known by now about drives and screws that the profile did not say, one sentence each."""
    told: list[str] = []
    for mirror in sorted({screw.mirror for screw in belief.layout.screws}):
        screws = belief.layout.of_mirror(mirror)
        turned = [belief.last_direction[belief.layout.screws.index(screw)] != 0 for screw in screws]
        if not any(turned):
            continue
        told += _drive_lesson(belief, mirror)
        mean, cov = answers_of(belief.layout, belief.settled, mirror)
        nominal = answers(belief.layout.machine.mount(mirror), belief.layout.machine.path.side)
        for index, screw in enumerate(screws):
            part = slice(PER_SCREW * index, PER_SCREW * index + 2)
            if turned[index]:
                told += _size_lesson(mirror, screw.name, nominal[index, :2], mean[part], cov[part, part])
    return tuple(told)


def _drive_lesson(belief: Belief, mirror: int) -> list[str]:
    profile = belief.layout.machine.mount(mirror).drive
    push = belief.drive_push(mirror)
    found = "push" if push > SETTLED else "pull" if push < 1 - SETTLED else ""
    if not found or found == profile:
        return []
    way = "away from you" if found == "push" else "toward you"
    said = "" if profile == "unknown" else f", not {profile} as the profile says"
    return [f"Mirror {mirror}'s screws {found}: a clockwise turn moves the plate {way}{said}."]


def _size_lesson(mirror: int, screw: str, nominal: Array, mean: Array, cov: Array) -> list[str]:
    """Compares the size of the answer along its own direction with the geometry's."""
    size = float(np.hypot(*nominal))
    along = mean / np.hypot(*mean)
    ratio = float(np.hypot(*mean)) / size
    doubt = float(np.sqrt(along @ cov @ along)) / size
    if abs(ratio - 1) < max(TOLD, SURE_BY * doubt):
        return []
    return [
        f"Mirror {mirror}, screw {screw} moves the mark {ratio:.1f} times as far as its geometry says "
        f"(give or take {2 * doubt:.1f})."
    ]
