"""A reading read back before it counts: what was understood, what is questioned, and how it can be answered."""

from dataclasses import dataclass

from coach.reading.model import Reading
from coach.shown import show_length, show_place, show_text

RIGHT, AGAIN, KEEP, OTHERWISE = 1, 2, 3, 4
"""Digits mean the same wherever something is read back: right, not so, keep it although questioned; from 4 on, take
it as suggested."""
TAKEN = ("far", "gaps-room")
"""Questions whose suggestion can be taken as an answer."""
UNSAID = ("method", "face", "unit", "to", "tool", "step")
"""What was typed but needs no reading back."""


@dataclass(frozen=True)
class ReadbackAnswer:
    """One answer: "keep", "again", or the key of the question whose suggestion is taken."""

    key: str
    label: str
    number: int


def readback_words(reading: Reading, station: str, inside: str) -> tuple[str, ...]:
    """What was understood, what was typed, notes and questions; `inside` says where on the tape that is."""
    paragraphs = (
        f"Understood: {show_place(reading.u, reading.v)} at {station}, {inside}; "
        f"give or take {show_length(2 * reading.sd)}.",
        _typed_words(reading),
        *reading.notes,
        *(f"? {question.sentence}" for question in reading.questions),
    )
    return tuple(text for text in paragraphs if text)


def readback_answers(reading: Reading) -> tuple[ReadbackAnswer, ...]:
    """How it can be answered, the safest first: a questioned reading is measured again unless one insists."""
    again = ReadbackAnswer("again", "Measure again", AGAIN)
    if not reading.questions:
        return ReadbackAnswer("keep", "Right, keep it", RIGHT), again
    suggesting = [question for question in reading.questions if question.suggestion_text and question.key in TAKEN]
    return (
        again,
        ReadbackAnswer("keep", "Keep it, with more doubt", KEEP),
        *(
            ReadbackAnswer(question.key, f"Take it so: {question.suggestion_text}", OTHERWISE + place)
            for place, question in enumerate(suggesting)
        ),
    )


def _typed_words(reading: Reading) -> str:
    typed = reading.typed
    if typed.get("method") == "crosshair":  # put there by keys, and kept in mm
        typed = {name: show_text(text) for name, text in typed.items()}
    said = [f"{name.replace('_', ' ')} {text}" for name, text in typed.items() if name not in UNSAID]
    unit = ", in inches" if typed.get("unit") == "in" else ""
    return f"From: {', '.join(said)}{unit}." if said else ""
