"""What was understood, read back before it counts, with every question about it."""

from coach.reading.model import Reading
from coach.steps.readback import readback_answers, readback_words
from coach.tui.screens.choices import Entry
from coach.tui.screens.dialogs import Pick


class Readback(Pick):
    """Dismissed with "keep", "again" (or None), or the key of a question whose suggestion is taken."""

    calm = True

    def __init__(self, reading: Reading, station: str, inside: str) -> None:
        entries = [Entry(answer.key, answer.label, number=answer.number) for answer in readback_answers(reading)]
        title = "Is this right?" if reading.questions else "Read back"
        super().__init__(title, readback_words(reading, station, inside), entries)
