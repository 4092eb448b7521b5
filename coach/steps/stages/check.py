"""May it be done at all, is it the alignment at all, and are the optics clean?  All of it with the laser off."""

from coach.steps import deeds
from coach.steps.cautions import COVERS, FACES, LENS, NOT_FIRING, SOLVENT, SUPPLY
from coach.steps.kind import ChoiceKind, Gate, Stage
from coach.steps.stages.gated import gate_step

_RULES = (
    Gate(
        "rules",
        "Rules first",
        "Your local rules, the machine's manual and licensed practice come before anything this program says. "
        "With the beam path open, treat the machine as Class 4: direct and scattered beam hurt eyes and skin "
        "and ignite things. The laser stays off, key out, until the coach asks for a cut or a pulse. At hand before "
        "you start: masking tape, callipers, the keys for the screws, lens tissue and isopropanol, a pen.",
        "I know them and I am allowed to do this",
    ),
)
_QUESTION = (
    Gate(
        "question",
        "Is it alignment?",
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
        "Off: clean optics",
        "Machine off, unplugged and cool. Wipe mirrors 1, 2, 3 and the lens with isopropanol (99 % or more) on a "
        "fresh lens tissue, one stroke each, no rubbing; no finger on a face, the lens back the same way round. Let "
        "them dry. A dirty mirror heats, and a crooked mark may only be a dirty one.",
        "Clean and dry, bottle away",
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
        gate_step("rules", "Rules first", (NOT_FIRING, SUPPLY), _RULES),
        gate_step("question", "Before blaming the beam", (COVERS,), _QUESTION, more=(SOMETHING_ELSE,)),
        gate_step("clean", "Clean the optics", (NOT_FIRING, SUPPLY, SOLVENT, LENS, FACES), _CLEAN),
    ),
)
