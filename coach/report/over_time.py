"""The machine's visits over time, as a section of one visit's report: what drifts, what comes, drawn, in a table."""

from pathlib import Path

from coach.errors import CoachError
from coach.history.beside import worst_words
from coach.history.of_machine import History
from coach.history.stored import stored_history
from coach.history.words import happening_words, history_lines
from coach.report.page import Drawing, Section, Table
from coach.scenes.of_history import history_scene
from coach.session.kept import now
from coach.session.session import Session
from coach.shown import IN_MM, Wording

FEWEST = 2
"""Visits below which there is nothing over time."""
NOT_KNOWN = "–"


def over_time(folder: Path, session: Session, wording: Wording = IN_MM) -> tuple[Section, ...]:
    """What the data folder's visits to that session's machine say together; nothing of a practice one.

    A folder that cannot be read leaves the section out: the report is about the visit.
    """
    if session.practice is not None:
        return ()
    try:
        told = stored_history(folder, session.machine.name, now())
    except (CoachError, OSError):
        return ()
    return (section(told, wording.on(session.machine.frame)),) if len(told.visits) >= FEWEST else ()


def section(told: History, wording: Wording) -> Section:
    """Sentences, the picture that the screen shows, and every visit in a row."""
    scene = history_scene(told)
    caption = "The worst station visit by visit: a disc where it was found, a ring where it was left"
    drawn = (Drawing("over-time", caption, scene, 84, 24),) if scene is not None else ()
    rows = []
    for number, visit in told.numbered:
        found, left = worst_words(visit, wording)
        cut = f"{visit.cut_left.speed:.1f} mm/s" if visit.cut_left is not None else NOT_KNOWN
        ended = "yes" if visit.finished else "no"
        rows.append((f"{number}", f"{visit.on}", visit.title, found or NOT_KNOWN, left or NOT_KNOWN, cut, ended))
    heads = ("Visit", "Day", "Title", "Worst station found", "left", "Cut speed", "Finished")
    happened = tuple((f"{each.on}", happening_words(each).partition(": ")[2]) for each in told.happened)
    tables = (Table("Visits, the oldest first", heads, tuple(rows)), Table("In between", ("Day", "What"), happened))
    left_out = tuple(f"Left out: {problem}" for problem in told.problems)
    return Section("This machine over time", (*history_lines(told, wording), *left_out), drawn, tables)
