"""The command that writes a report, wherever a session is looked at."""

from typing import Protocol

from coach.tui.commands.command import Command


class Reportable(Protocol):
    """A screen about a session, or a list with sessions in it."""

    @property
    def can_report(self) -> bool:
        """Whether a session is there to be reported."""

    def open_report(self) -> None:
        """Ask as what, and where to."""


class Report(Command[Reportable]):
    name = "report"
    label = "Report"
    about = "Write this session, finished or not, as a page for whoever was not there, as a message, or as tables."
    keys = ("w", "W", "colon")
    means = "report"
    shown = ("W", ":")
    why_not = "Highlight a session first: it is then written as a report"

    def run(self, screen: Reportable) -> None:
        screen.open_report()

    def possible(self, screen: Reportable) -> bool:
        return screen.can_report


class ReportInLine(Report):
    """Where the key line has room for it."""

    in_line = True
