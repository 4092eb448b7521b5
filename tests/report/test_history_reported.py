"""A visit's report says what its machine's visits say together, as the screen draws it."""

from pathlib import Path

from drifting_visits import drifting, kept, machine

from coach.practice.begun import begun
from coach.report.html import html
from coach.report.of_session import report_of
from coach.report.over_time import over_time
from coach.session.document import Practice
from coach.session.session import Session
from coach.session.store import Store


def test_the_visits_over_time_stand_in_the_report(tmp_path: Path) -> None:
    """The sentence, the picture and a row for each visit; on the page too."""
    kept(tmp_path, *drifting("mirror 2", 3, 1.5))
    session = Session.load(Store(tmp_path).find_session("last"))
    (told,) = over_time(tmp_path, session)
    assert any(line.startswith("Mirror 2 ") for line in told.says)
    assert [row[0] for row in told.tables[0].rows] == ["1", "2", "3"]
    page = html(report_of(session, history=(told,)))
    assert "This machine over time" in page
    assert "How far off the worst station was, visit by visit" in page


def test_nothing_over_time_of_one_visit_or_of_practice(tmp_path: Path) -> None:
    """One visit is no history, and practice is nobody's."""
    kept(tmp_path, *drifting("none", 1))
    session = Session.load(Store(tmp_path).find_session("last"))
    assert session.machine.name == machine().name
    assert over_time(tmp_path, session) == ()
    kept_more = begun(Practice(seed=1))
    assert over_time(tmp_path, kept_more) == ()
