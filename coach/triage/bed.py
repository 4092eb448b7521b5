"""Gaps from the head to the bed, measured at its corners: how far they differ, and what they are at the stations."""

from collections.abc import Mapping

from coach.machine import Machine
from coach.triage.figures import CORNERS


def spread(figures: Mapping[str, float]) -> float | None:
    """Largest less smallest gap, mm; None where fewer than two corners were measured."""
    gaps = [figures[corner] for corner in CORNERS if corner in figures]
    return max(gaps) - min(gaps) if len(gaps) > 1 else None


def lowest(figures: Mapping[str, float]) -> str:
    """The corner with the largest gap, where the bed is lowest, in words: "front right"."""
    return max((corner for corner in CORNERS if corner in figures), key=lambda corner: figures[corner]).replace(
        "_", " "
    )


def hangs(figures: Mapping[str, float]) -> dict[str, float]:
    """Corner in words to how far the bed hangs there below the highest corner measured, mm, the lowest first.

    Empty where fewer than two corners were measured.
    """
    gaps = {corner.replace("_", " "): figures[corner] for corner in CORNERS if corner in figures}
    if len(gaps) < 2:
        return {}
    highest = min(gaps.values())
    return {corner: gaps[corner] - highest for corner in sorted(gaps, key=lambda each: -gaps[each])}


def gaps_at(machine: Machine, figures: Mapping[str, float]) -> dict[str, float] | None:
    """Station to its gap, mm, between the four corners of travel (bilinear); None where one of them is missing."""
    if any(corner not in figures for corner in CORNERS):
        return None
    found = {}
    for station in machine.stations:
        across, along = station.x / machine.bed.width, station.y / machine.bed.depth
        front = figures["front_left"] * (1 - across) + figures["front_right"] * across
        back = figures["back_left"] * (1 - across) + figures["back_right"] * across
        found[station.name] = front * (1 - along) + back * along
    return found
