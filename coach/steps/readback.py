"""A reading read back before it counts: what was understood, what is questioned, and how it can be answered."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from coach.reading.method import Given
from coach.reading.methods import CARRIED_WIDTH, method_named
from coach.reading.model import Correction, Reading
from coach.reading.plausibility import FarFromExpected
from coach.shown import Wording
from coach.units import parse_length

RIGHT, AGAIN, KEEP, DOUBTFUL, OTHERWISE = 1, 2, 3, 4, 5
"""Digits mean the same wherever something is read back: right, not so, it is so although questioned, it is doubtful;
from 5 on, take it as suggested."""
UNSAID = ("method", "face", "unit", "to", "tool", "step")
"""What was typed but needs no reading back."""


AnswerKey = Literal["keep", "again", "sure", "doubtful"]


@dataclass(frozen=True)
class ReadbackWords:
    """What is said of a reading before it counts."""

    understood: str
    typed: str
    """What was typed for it; "" where nothing was."""
    notes: tuple[str, ...]
    questions: tuple[str, ...]

    @property
    def statements(self) -> tuple[str, ...]:
        """Everything that is no question."""
        return tuple(filter(None, (self.understood, self.typed, *self.notes)))


@dataclass(frozen=True)
class ReadbackAnswer:
    """One answer: keep it, measure again, it is so, it is doubtful, or take it as it was probably meant."""

    key: AnswerKey | Correction
    label: str
    number: int


def readback_words(reading: Reading, station: str, where: str, wording: Wording) -> ReadbackWords:
    """What was understood, what was typed, notes and questions; `where` says where on the tape that is."""
    return ReadbackWords(
        f"Understood: {wording.place(reading.u, reading.v)} at {station}, {where}; "
        f"give or take {wording.length(2 * reading.sd)}.",
        _typed_words(reading, wording),
        reading.notes(wording),
        tuple(question.sentence(wording) for question in reading.questions),
    )


def readback_answers(reading: Reading, wording: Wording) -> tuple[ReadbackAnswer, ...]:
    """How it can be answered, the safest first: a questioned reading is measured again unless one insists."""
    again = ReadbackAnswer("again", "Measure again", AGAIN)
    if not reading.questions:
        return ReadbackAnswer("keep", "Yes, keep it", RIGHT), again
    suggested = [(q.correction, q.suggestion(wording)) for q in reading.questions]
    return (
        again,
        ReadbackAnswer("sure", _sure_words(reading), KEEP),
        ReadbackAnswer("doubtful", "It is doubtful: keep it, with more doubt", DOUBTFUL),
        *(
            ReadbackAnswer(correction, f"Take it so: {words}", OTHERWISE + index)
            for index, (correction, words) in enumerate(pair for pair in suggested if pair[0] is not None)
            if correction is not None
        ),
    )


def _sure_words(reading: Reading) -> str:
    """What is said of a reading that is so; where another one is likelier wrong, that one is asked for again."""
    rivals = [question.rival for question in reading.questions if isinstance(question, FarFromExpected)]
    other = next((rival for rival in rivals if rival is not None), None)
    return f"It is so: then {other.station} is made again" if other else "I looked twice, it is so"


def carried_words(entries: Given, wording: Wording) -> str:
    """The width that stands in for one that was not measured, said as what it is; "" where none does."""
    text = entries.get(CARRIED_WIDTH, "")
    return f"{wording.amount(parse_length(text).mm)}, from the last" if text else ""


def _said(name: str, text: str, wording: Wording) -> str:
    if name == CARRIED_WIDTH:
        return f"width {wording.length(parse_length(text).mm)} from the last mark, not measured here"
    return f"{name.replace('_', ' ')} {text}"


def _placed_words(placed: Mapping[str, float], wording: Wording) -> str:
    """Where keys placed it, mm, in the words of the headline above: "1.9 mm left, 0.4 mm up"."""
    ways = (("right", "right", "left"), ("up", "up", "down"))
    said = [(placed.get(name, 0.0), plus, minus) for name, plus, minus in ways]
    words = [
        f"{wording.exact(abs(amount))} {plus if amount > 0 else minus}" for amount, plus, minus in said if amount
    ]
    return ", ".join(words) or "in the middle"


def _typed_words(reading: Reading, wording: Wording) -> str:
    typed, method = reading.typed, method_named(reading.typed.get("method", ""))
    if method is not None and method.by_keys:  # nobody typed a unit: what keys placed is kept in mm
        placed = {name: parse_length(text).mm for name, text in typed.items() if name not in UNSAID}
        return (
            f"From: {_placed_words(placed, wording)}{' as you look at it' if typed.get('face') == 'sticky' else ''}."
        )
    said = [_said(name, text, wording) for name, text in typed.items() if name not in UNSAID]
    unit = ", in inches" if typed.get("unit") == "in" else ""
    return f"From: {', '.join(said)}{unit}." if said else ""
