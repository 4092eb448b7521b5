"""The parts of a visit to a machine, by the names that stand in session files."""

from typing import Literal, get_args

VisitPart = Literal[
    "what changed", "cut check", "checks", "clean", "beam path", "head", "pointer", "cut again", "close up"
]
"""In the order of the visit."""

VISIT_PARTS: tuple[VisitPart, ...] = get_args(VisitPart)
