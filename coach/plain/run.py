"""From the data folder to an exit status."""

from collections.abc import Callable, Iterator
from pathlib import Path

from coach.plain.home import HomeDesk
from coach.plain.leaving import Home, Quit
from coach.plain.talk import Back, Ended, Talk
from coach.session.document import Practice
from coach.session.events import Finish
from coach.session.session import Session
from coach.settings import load
from coach.shown import Wording

DONE, INTERRUPTED = 0, 130


def run(
    folder: Path,
    say: Callable[[str], None],
    answers: Iterator[str],
    *,
    echo: bool,
    practice: Practice | None = None,
    session: Path | None = None,
) -> int:
    """Lead the conversation; returns the exit status: 130 after an interrupt, else 0.

    `say` takes one line at a time, `answers` gives one a line, `echo` repeats each.  `practice` begins a practice
    session at once, `session` opens a stored one; either way the program ends with it.  Raises CoachError for what
    cannot be opened.
    """
    loaded = load(folder)
    wording = Wording(loaded.settings.unit, glyphs=False, turns_in=loaded.settings.turns_in)
    talk = Talk(say, answers, echo=echo, wording=wording)
    talk.say(*loaded.problems)
    desk = HomeDesk(talk, folder)
    status, why = DONE, ""
    try:
        _lead(desk, practice, session)
    except Quit:
        why = "Left."
    except Ended:
        why = "There are no more answers."
    except KeyboardInterrupt:
        status, why = INTERRUPTED, "Interrupted."
    talk.say(*leaving_lines(desk.session, why, desk.described))
    return status


def _lead(desk: HomeDesk, practice: Practice | None, session: Path | None) -> None:
    try:
        if practice is not None:
            desk.practise_again(practice)
        elif session is not None:
            desk.open_session(session)
        else:
            desk.stay()
    except (Back, Home):
        desk.stay()


def leaving_lines(session: Session | None, why: str, described: str = "") -> list[str]:
    """What is said at the very end: that nothing is lost, and how to go on.

    `described` says where a machine is that was described after that session.
    """
    if described:
        return [f"{why} {described}".strip(), "To go on: coach --plain"]
    if session is None or session.path is None:
        return [f"{why} Nothing was entered.".strip()]
    if any(isinstance(event, Finish) for event in session.effective):
        return [f"{why} The finished session is in {session.path}."] if why else []
    return [
        f"{why} Everything is saved; the session waits in {session.path}.".strip(),
        f"To go on: coach open {session.path.stem} --plain",
    ]
