"""What the form says when an answer is missing, or cannot be one."""

from coach.describing.slips import Doubt
from coach.steps.readback import AGAIN, KEEP, OTHERWISE
from coach.tui.screens.choices import Entry

LETTER = "{dropped!r} was dropped: only a length belongs here, such as 600 or 24 in."
FIRST = "This is the first question"
NOTHING = "Nothing is entered yet: type it, or press F12 and it is guessed."
NOTHING_REQUIRED = "Nothing is entered yet, and this cannot be guessed: look or measure."
UNANSWERED = "Nothing is chosen yet: choose an answer, or F12 and it is guessed"


def doubt_entries(doubt: Doubt) -> list[Entry]:
    """How an unlikely answer can be answered: type it again, keep it, or take the likelier one."""
    entries = [Entry("again", "Type it again", number=AGAIN)]
    if doubt.kept is not None:
        entries.append(Entry("keep", "Keep it as it is", number=KEEP))
    if doubt.meant is not None:
        entries.append(Entry("other", f"Take it so: {doubt.meant_words}", number=OTHERWISE))
    return entries
