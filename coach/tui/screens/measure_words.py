"""What the measuring screen says about the options of the method in use."""

from dataclasses import dataclass
from typing import assert_never

from coach.reading.crosshair import crosshair_of
from coach.reading.method import FieldKind, Given, Method, OptionKey
from coach.reading.methods import OPTIONS
from coach.shown import Wording

AS_SEEN = "as you look at it"
"""Said of left and right where the tape's sticky face is looked at: on the machine they change places."""
QUESTION = "Where does the mark lie against the imprint of the rim?"
CARD_QUESTION = "Where does the mark lie from the cross on the card?"
"""A wide card stands before the opening: no rim leaves an imprint in it."""
CUT_QUESTION = "Cut off: where is the middle of the round it is part of? (Counts as doubtful.)"
ANSWER_FIRST = "Answer first: arrows or one digit, then Enter; F4: back to the numbers."
REFUSED: dict[FieldKind, str] = {
    "size": "{dropped!r} was dropped: only a number belongs here, such as 4,2 or 3/16.",
    "offset": "{dropped!r} was dropped: only a number belongs here, such as -1,2 or 3/16.",
    "hour": "{dropped!r} was dropped: only an hour belongs here, such as 2:30.",
}
"""Said of what was typed and belongs in no field of that kind."""


@dataclass(frozen=True)
class OptionShown:
    """One option: its key, how it stands, the same in a word, and whether it is not the usual one."""

    key: str
    words: str
    word: str
    loud: bool = False


def options_shown(entries: Given, method: Method, wording: Wording) -> list[OptionShown]:
    """How the options stand that the method has; what is not the usual in capitals."""
    shown = [_shown(key, OPTIONS[key].stands(entries).key) for key in method.options]
    if method.by_keys:
        step = f"step {wording.exact(crosshair_of(entries).step)}"
        shown.append(OptionShown("+ −", step.capitalize(), step))
    return shown


def _shown(key: OptionKey, stands: str) -> OptionShown:
    match key:
        case "face":
            if stands == "sticky":
                return OptionShown("F6", "Face: STICKY, left-right swapped", "STICKY face", True)
            return OptionShown("F6", "Face: outer, the beam's side", "outer face")
        case "unit":
            inches = stands == "in"
            unit = "INCHES" if inches else "mm"
            return OptionShown("F9", f"Unit: {unit}", f"in {unit}", inches)
        case "to":
            centre = stands == "centre"
            end = "CENTRE" if centre else "edge"
            return OptionShown("*", f"To {end}", f"to {end}", centre)
        case "tool":
            return OptionShown("*", stands.capitalize(), stands)
        case _:
            assert_never(key)


def options_said(entries: Given, method: Method, wording: Wording) -> str:
    """The same as one sentence, for the help."""
    return ". ".join(f"{shown.key}: {shown.words}" for shown in options_shown(entries, method, wording)) + "."
