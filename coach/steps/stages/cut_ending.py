"""The end of a cut check: what it says, one station once more warm, and a baseline that is replaced on purpose."""

from coach.steps.cautions import COVERS, NOT_FIRING, SMOULDER
from coach.steps.cut_deeds import can_be_replaced, new_baseline, not_yet_warm, once_more_warm
from coach.steps.kind import ChoiceKind, StepKind
from coach.steps.stages.cut_words import result
from coach.steps.stages.ends import END_PART
from coach.steps.visit_deeds import part_anew

ONCE_WARM = ChoiceKind(
    key="once-warm",
    label="Fading? Cut the first station again, warm",
    does=once_more_warm,
    makes="item",
    offered=not_yet_warm,
)
NEW_BASELINE = ChoiceKind(
    key="new-baseline",
    label="New tube or lens: this is the new baseline",
    wants="why",
    does=new_baseline,
    makes="item",
    offered=can_be_replaced,
)
CUT_RESULT = StepKind(
    key="cut-result",
    says=result,
    own_cautions=(NOT_FIRING, SMOULDER, COVERS),
    why_was_said=True,
    choices=(
        END_PART,
        ChoiceKind(key="part-again", label="Cut all of it once more", does=part_anew, makes="item"),
        ONCE_WARM,
        NEW_BASELINE,
    ),
    picture="cuts",
    about=("part",),
    danger_begins=True,
)
