"""The questions about pulses: timed or by hand, and how their power is set."""

from coach.describing.moving import NO, YES
from coach.describing.pulsing import MS, PERCENT, POWER, TIMED
from coach.describing.question import Option, Question
from coach.describing.usual import UNKNOWN

PULSES = {
    TIMED: Question(
        TIMED, "pulses", "Pulses: timed?",
        ("Can the controller fire one pulse of a set time, in ms, at one press?",
         "By hand a pulse lasts as long as the button is pressed: press as briefly as you can."),
        "choice",
        (Option(YES, "Timed: a set time at one press"), Option(NO, "By hand: as long as it is pressed"),
         Option(UNKNOWN, "I do not know")),
    ),
    MS: Question(
        MS, "pulse time", "Pulse: how many ms?",
        ("Which time, in ms, marks tape lightly? 1000 ms are a second.", "Not known? Say so."), "words",
    ),
    PERCENT: Question(
        PERCENT, "power", "Power in per cent?",
        ("How is a pulse's power set: in per cent, or by a knob, with or without a needle for the current?",),
        "choice",
        (Option(YES, "In per cent"), Option(NO, "By a knob, or a needle"), Option(UNKNOWN, "I do not know")),
    ),
    POWER: Question(
        POWER, "power that marks", "Power: how many %?",
        ("Which power, in per cent, marks tape lightly? The lowest that does.", "Not known? Say so."), "words",
    ),
}  # fmt: skip
