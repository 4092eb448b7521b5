"""When to look again at a machine by the drift between its visits, for the screen of its upkeep."""

from datetime import datetime
from pathlib import Path

from coach.errors import CoachError
from coach.shown import Wording

BEING_WORKED_OUT = "When to look again by its drift: being worked out …"


def ahead_words(folder: Path, machine: str, wording: Wording) -> tuple[str, tuple[str, ...]]:
    """The date in a few words, "" where there is none; and it with its doubt, or why there is none.

    May have to replay visits: never on the screen's own thread.
    """
    from coach.history.stored import newest
    from coach.history.words import next_check_brief, next_check_words
    from coach.session.store import Store

    try:
        history = newest(machine, Store(folder), datetime.now().astimezone())
        return next_check_brief(history), next_check_words(history, wording)
    except (CoachError, OSError) as error:
        return "", (f"By its drift: {error}",)
