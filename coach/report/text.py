"""The report as a message to a service: plain text below 2,000 characters, as a technician asks for it."""

from coach.report import around, in_short, service
from coach.report.so_far import time_words
from coach.session.session import Session
from coach.shown import IN_MM, Wording
from coach.signs import visible

LIMIT = 1999
"""Characters that a message may have."""
LINE = 420
"""Characters of one line: a long name or note must not push out what is asked first."""
MORE = "… (more stands in the whole report)"


def message(session: Session, wording: Wording = IN_MM) -> str:
    """The message, ending with a line feed; what finds no room is left out from the end, and that is said."""
    wording = wording.on(session.machine.frame)
    kept: list[str] = []
    room = LIMIT - len(MORE) - 2
    for line in _lines(session, wording):
        short = _short(line)
        if len(short) + 1 > room:
            kept.append(MORE)
            break
        kept.append(short)
        room -= len(short) + 1
    return "\n".join(kept) + "\n"


def _lines(session: Session, wording: Wording) -> list[str]:
    machine = session.machine
    asked = "; ".join(f"{row[0]} {row[1]}" for table in around.asked(session).tables for row in table.rows)
    checks = [f"{row[2]}." for table in around.checks(session, wording).tables for row in table.rows]
    lines = [
        *in_short.warnings(session),
        f"Machine: {_short(machine.name, 100)}, travel {wording.exact(machine.bed.width)} by "
        f"{wording.exact(machine.bed.depth)}, mirrors 1 and 2 on the {machine.path.side}. "
        f"{_short(session.title, 100)}, begun {time_words(session.created)}.",
        f"Asked: {asked}" if asked else "",
        *(
            f"{each.question} {_ended(each.answer)} {' '.join(each.says)}".rstrip()
            for each in in_short.answers(session, wording)
        ),
        *(
            f"Question: {row[0]} ({row[1]})"
            for table in service.service(session, wording).tables
            for row in table.rows
        ),
        *checks,
        *(f"Note: {line}" for line in around.notes(session).says),
    ]
    return [line for line in lines if line]


def _short(text: str, most: int = LINE) -> str:
    line = " ".join(visible(text).split())
    return line if len(line) <= most else line[: most - 1] + "…"


def _ended(words: str) -> str:
    return words if words.endswith((".", "!", "?")) else f"{words}."
