"""The parts of a visit in one table, in their order: adding a part touches this."""

from coach.steps.kind import Stage
from coach.steps.part import PartKind
from coach.steps.parts.beam_path import BEAM_PATH
from coach.steps.parts.checks import CHECKS_PART
from coach.steps.parts.clean import CLEAN
from coach.steps.parts.close_up import CLOSE_UP
from coach.steps.parts.cut_checks import CUT_AGAIN, CUT_CHECK
from coach.steps.parts.head import HEAD_PART
from coach.steps.parts.pointer import POINTER_PART
from coach.steps.parts.what_changed import WHAT_CHANGED
from coach.steps.stages.attended import ATTENDED_CUTS
from coach.steps.stages.between import between
from coach.steps.stages.switches import SWITCH

PARTS: tuple[PartKind, ...] = (
    WHAT_CHANGED,
    CUT_CHECK,
    CHECKS_PART,
    CLEAN,
    BEAM_PATH,
    HEAD_PART,
    POINTER_PART,
    CUT_AGAIN,
    CLOSE_UP,
)

STAGES: tuple[Stage, ...] = (
    *dict.fromkeys(stage for part in PARTS for stage in part.stages),
    between(PARTS),
    SWITCH,
    ATTENDED_CUTS,
)
"""All stages: those of each part, once where parts share one, and what lies between them."""
