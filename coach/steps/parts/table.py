"""The parts of a visit in one table, in their order: adding a part touches this."""

from coach.steps.kind import Stage
from coach.steps.part import PartKind
from coach.steps.parts.beam_path import BEAM_PATH
from coach.steps.parts.close_up import CLOSE_UP
from coach.steps.stages.between import between
from coach.steps.stages.switches import SWITCH

PARTS: tuple[PartKind, ...] = (BEAM_PATH, CLOSE_UP)

STAGES: tuple[Stage, ...] = (*(stage for part in PARTS for stage in part.stages), between(PARTS), SWITCH)
"""All stages: those of each part, and what lies between them."""
