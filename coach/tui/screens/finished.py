"""A session was closed: what was kept, and the offer to write its report."""

from typing import TYPE_CHECKING, Any

from textual.app import App

from coach.tui.screens.choices import Entry
from coach.tui.screens.dialogs import Pick

if TYPE_CHECKING:
    from coach.session.session import Session

ENTRIES = (Entry("close", "Back to the list"), Entry("report", "Write a report of it"))


def tell_finished(app: App[Any], session: "Session", sentence: str) -> None:
    """Say what was kept; the report is one row away."""

    def answered(key: str | None) -> None:
        from coach.tui.screens.report import write_report

        if key == "report":
            write_report(app, session, session.path)

    app.push_screen(Pick("Finished", (sentence,), ENTRIES), answered)
