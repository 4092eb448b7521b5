"""What was understood, read back before it counts, with every question about it."""

from coach.reading.model import Reading
from coach.tui.screens.dialogs import AGAIN, KEEP, OTHERWISE, RIGHT, Pick
from coach.tui.screens.parts import Entry
from coach.units import show_length, show_place

UNSAID = ("method", "face", "unit", "to", "tool", "step")
"""What was typed but needs no reading back."""
TAKEN = ("far", "gaps-room")
"""Questions whose suggestion can be taken by a key."""


class Readback(Pick):
    """Dismissed with "keep", "again" (or None), or the key of a question whose suggestion is taken."""

    def __init__(self, reading: Reading, station: str, inside: str) -> None:
        paragraphs = [
            f"Understood: {show_place(reading.u, reading.v)} at {station}, {inside}; "
            f"give or take {show_length(2 * reading.sd)}.",
            _typed_words(reading),
            *reading.notes,
            *(f"? {question.sentence}" for question in reading.questions),
        ]
        again = Entry("again", "Measure again", number=AGAIN)
        entries = [Entry("keep", "Right, keep it", number=RIGHT), again]
        if reading.questions:
            suggested = [
                Entry(question.key, f"Take it so: {question.suggestion_text}", number=OTHERWISE + place)
                for place, question in enumerate(q for q in reading.questions if q.suggestion_text and q.key in TAKEN)
            ]
            entries = [again, Entry("keep", "Keep it, with more doubt", number=KEEP), *suggested]
        title = "Is this right?" if reading.questions else "Read back"
        super().__init__(title, [text for text in paragraphs if text], entries)


def _typed_words(reading: Reading) -> str:
    said = [f"{name.replace('_', ' ')} {text}" for name, text in reading.typed.items() if name not in UNSAID]
    unit = ", in inches" if reading.typed.get("unit") == "in" else ""
    return f"From: {', '.join(said)}{unit}." if said else ""
