"""Is it the alignment at all, and are the optics clean?"""

from coach.steps import deeds
from coach.steps.cautions import COVERS, LENS, SOLVENT
from coach.steps.kind import ChoiceKind, Gate, Stage
from coach.steps.stages.gated import gate_step

_QUESTION = (
    Gate(
        "question",
        "IS IT ALIGNMENT?",
        "Cuts that stopped going through are more often a dirty lens, a wrong focus height, warm or low water, or "
        "a tired tube. If the cut is weak everywhere alike, look at those first. If it is weak at some places "
        "of the bed and good at others, alignment is the likely cause.",
        "Checked: alignment is worth a look",
        "once",
    ),
)
_CLEAN = (
    Gate(
        "clean",
        "CLEAN FIRST",
        "Machine off and cool. Wipe mirrors 1, 2, 3 and the lens with isopropanol (99 % or more) on a fresh "
        "lens tissue, one stroke each, no rubbing. Let them dry. A dirty mirror heats, and a crooked mark may only "
        "be a dirty one.",
        "Clean and dry",
        "once",
    ),
)

SOMETHING_ELSE = ChoiceKind(
    key="finish",
    label="It is something else: close this session",
    does=deeds.finish,
    makes="finish",
    read_back="It is something else than alignment: close this session, with no pulse made.",
)

CHECK = Stage(
    "Check",
    (
        gate_step("question", "Before blaming the beam", (COVERS,), _QUESTION, more=(SOMETHING_ELSE,)),
        gate_step("clean", "Clean the optics", (SOLVENT, LENS), _CLEAN),
    ),
)
