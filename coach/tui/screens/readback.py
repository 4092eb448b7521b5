"""What was understood, read back before it counts, with every question about it."""

from coach.reading.model import Reading
from coach.shown import Wording
from coach.steps.readback import readback_answers, readback_words
from coach.tui.screens.choices import Entry
from coach.tui.screens.dialogs import Deed


class Readback(Deed):
    """Dismissed with "keep", "sure", "doubtful", "again" (or None), or the correction that is taken."""

    def __init__(self, reading: Reading, station: str, where: str, wording: Wording) -> None:
        answers = readback_answers(reading, wording)
        entries = [Entry(answer.key, answer.label, number=answer.number) for answer in answers]
        words = readback_words(reading, station, where, wording)
        paragraphs = (*words.statements, *(f"? {question}" for question in words.questions))
        title = "Is this right?" if reading.questions else "Read back"
        super().__init__(title, paragraphs, entries)
