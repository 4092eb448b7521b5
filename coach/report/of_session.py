"""From a session, at any moment, to its report: which sections there are and in which order they are read."""

from coach.report import around, in_short, measured
from coach.report.page import Report, Section, Table
from coach.session.session import Session
from coach.shown import IN_MM, Wording
from coach.steps.entries import entries_listed, entry_words


def report_of(session: Session, wording: Wording = IN_MM) -> Report:
    """Everything that a session says, for whoever was not there; sections without content are left out."""
    wording = wording.on(session.machine.frame)
    sections = (
        _in_short(session, wording),
        Section("Still open", around.still_open(session, wording)),
        measured.before_and_after(session, wording),
        around.asked(session),
        around.cuts(session),
        around.checks(session, wording),
        around.cleaning(session, wording),
        measured.readings(session, wording),
        measured.adjustments(session, wording),
        measured.doses(session),
        around.head(session, wording),
        around.notes(session),
        around.machine(session, wording),
        around.confirmed(session, wording),
        _everything(session, wording),
    )
    title = f"{session.title}, {measured.time_words(session.created)}"
    return Report(title, in_short.warnings(session), tuple(each for each in sections if not each.empty), wording)


def _in_short(session: Session, wording: Wording) -> Section:
    says = (
        f"What was wrong: {in_short.wrong(session, wording)}",
        f"What was done: {in_short.done(session)}",
        in_short.cuts_now(session),
        in_short.beam_now(session, wording),
    )
    return Section("In short", tuple(filter(None, says)))


def _everything(session: Session, wording: Wording) -> Section:
    rows = tuple(
        (f"{event.id}", measured.time_words(event.at), entry_words(event, wording), state)
        for event, state in entries_listed(session.events)
    )
    table = Table("All entries, in order", ("Entry", "Time", "What", "State"), rows)
    return Section("Everything that was entered", (), (), (table,))
