"""From a session, at any moment, to its report: which sections there are and in which order they are read."""

from collections.abc import Sequence

from coach.report import around, below, cuts, doubts, in_short, measured, service
from coach.report.page import Report, Section, Table
from coach.report.so_far import clock_words, time_words
from coach.session.session import Session
from coach.shown import IN_MM, Wording
from coach.steps.entries import entries_listed, entry_words


def report_of(session: Session, wording: Wording = IN_MM, history: Sequence[Section] = ()) -> Report:
    """Everything that a session says, for whoever was not there; sections without content are left out.

    `history`: sections about the machine's visits over time, made by whoever knows more than one session; they stand
    after what this visit found.  What grows with every mark stands last.
    """
    wording = wording.on(session.machine.frame)
    sections = (
        Section("In short", answers=in_short.answers(session, wording)),
        measured.before_and_after(session, wording),
        cuts.cuts(session),
        service.service(session, wording),
        *history,
        around.asked(session),
        doubts.suspects(session),
        around.checks(session, wording),
        around.cleaning(session, wording),
        measured.apertures(session),
        measured.adjustments(session, wording),
        doubts.doubts(session, wording),
        measured.doses(session),
        below.head(session, wording),
        below.pointer(session, wording),
        around.notes(session),
        around.parts(session),
        around.machine(session, wording),
        around.confirmed(session, wording),
        measured.readings(session, wording),
        _everything(session, wording),
    )
    title = f"{session.title}, {time_words(session.created)}"
    return Report(title, in_short.warnings(session), tuple(each for each in sections if not each.empty), wording)


def _everything(session: Session, wording: Wording) -> Section:
    rows = tuple(
        (f"{event.id}", clock_words(session, event.at), entry_words(event, wording), state)
        for event, state in entries_listed(session.events)
    )
    table = Table("All entries, in order", ("Entry", "Time", "What", "State"), rows)
    return Section("Everything that was entered", (), (), (table,), appendix=True)
