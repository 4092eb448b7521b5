"""How a part of the visit ends by a person's word."""

from dataclasses import replace

from coach.steps.kind import ChoiceKind
from coach.steps.visit_deeds import end_part

END_PART = ChoiceKind(key="end-part", label="Go on with the visit", does=end_part, makes="end")
ON = replace(END_PART, label="On with the visit")
"""The same once all of it is done."""
