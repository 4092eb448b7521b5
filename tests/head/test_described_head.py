"""A mount of mirror 3 as it was described in the form: what is believed of its screws has the signs of the trace."""

from datetime import date

import numpy as np
import pytest
from heads import ExactHead

from coach.describing.description import Description
from coach.describing.profile import machine_of
from coach.describing.usual import CORNERED, CORNERS
from coach.head.belief import HeadBelief
from coach.head.layout import FIRST_SCREW, PER_SCREW
from coach.scenes.seen_from import seen_from

SHAPES = [(shape, corner) for shape in CORNERED for corner in CORNERS] + [("up", ""), ("down", "")]
TURN = 0.02
"""Turns: little enough for what is small to be straight."""


def described(side: str, drive: str, shape: str, corner: str) -> Description:
    """By answers alone, as in the form."""
    answers = {
        "bed.width": "600", "bed.depth": "400", "path.side": side, "mounts.3.can": "yes", "mounts.3.shape": shape,
        "mounts.3.arm": "40", "mounts.3.thread": "M4", "mounts.3.drive": drive, "lens.focal": "50.8",
        "lens.mirror_distance": "70",
    } | ({"mounts.3.corner": corner} if corner else {})  # fmt: skip
    description = Description()
    for key, text in answers.items():
        description = description.answered(key, text)
    return description


@pytest.mark.parametrize("side", ["left", "right"])
@pytest.mark.parametrize("drive", ["push", "pull"])
@pytest.mark.parametrize(("shape", "corner"), SHAPES)
def test_a_described_screw_steers_the_beam_as_the_trace_says(side: str, drive: str, shape: str, corner: str) -> None:
    """Every screw of every shape, drive and side: slope and place at the lens of the likelier drive, against exact
    rays through a mirror 3 whose plate was tilted by that screw; to a hundredth of the largest."""
    machine = machine_of(described(side, drive, shape, corner))
    belief = HeadBelief.initial(machine, date(2026, 3, 1))
    mean = belief.bank.likelier_drive().mixture.moments.mean
    for k, screw in enumerate(belief.layout.screws):
        believed = mean[FIRST_SCREW + PER_SCREW * k : FIRST_SCREW + PER_SCREW * (k + 1)]
        head = ExactHead(machine, drive)
        before = np.array(head._axes())
        head.turn({screw: TURN})
        moved = (np.array(head._axes()) - before) / TURN
        exact = np.array([*moved[:, 1], *moved[:, 0]])
        for told, true in ((believed[:2], exact[:2]), (believed[2:], exact[2:])):
            assert told == pytest.approx(true, abs=0.02 * np.abs(true).max())


def test_the_screws_are_looked_at_from_behind_the_mirror() -> None:
    """Mirror 3's face looks back along the beam and down (law of reflection: its normal is out minus in), so its
    back, with the screws, looks the way the beam comes: to the right where it comes from the left."""
    for side, way in (("left", 1.0), ("right", -1.0)):
        face = np.array([0.0, -1.0]) - np.array([way, 0.0])  # out minus in, (x, z)
        back = "right" if -face[0] > 0 else "left"
        assert back in seen_from(3, side)[0]  # type: ignore[arg-type]
        assert -face[1] > 0  # and up, so that the plate's upper edge is up for who looks at it
    assert "upper" not in seen_from(1, "left")[0]
