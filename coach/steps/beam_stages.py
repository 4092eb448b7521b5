"""The stages of the beam's path, in order: the job that a session without other parts is about."""

from coach.steps.kind import Stage
from coach.steps.stages.check import CHECK
from coach.steps.stages.done import DONE
from coach.steps.stages.marks import MARKS
from coach.steps.stages.safety import SAFETY
from coach.steps.stages.tape import TAPE
from coach.steps.stages.turns import TURNS

BEAM_STAGES: tuple[Stage, ...] = (CHECK, SAFETY, TAPE, MARKS, TURNS, DONE)
