"""A report says what the session says, no more and no less, to any reader, and escapes what people typed."""

from html.parser import HTMLParser
from xml.etree import ElementTree as ET

import pytest
from reported import RUDE, aligned, visited

from coach import Machine
from coach.advice.outlook import outlook
from coach.report.html import html
from coach.report.in_short import INVENTED
from coach.report.markdown import markdown, pictures
from coach.report.measured import typed_words
from coach.report.of_session import report_of
from coach.report.text import message
from coach.session.events import Mark
from coach.session.session import Session
from coach.shown import IN_MM

VOID = {"meta", "br", "hr", "img", "link", "input"}
"""Elements without an end tag (WHATWG HTML, section 13.1.2, void elements; from memory)."""


class Page(HTMLParser):
    """A page as a reader takes it: its tags nested as they should be, its text, its tables."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.open: list[str] = []
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.texts: list[tuple[str, str]] = []
        self.feed(page)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.texts.append((self.open[-1] if self.open else "", data))

    @property
    def cells(self) -> set[str]:
        return {text for tag, text in self.texts if tag in ("td", "th")}

    @property
    def said(self) -> str:
        return " ".join(text for tag, text in self.texts if tag != "style")


@pytest.fixture(scope="module")
def path() -> Session:
    return aligned()


@pytest.fixture(scope="module")
def visit() -> Session:
    return visited()


def test_the_page_is_whole_and_needs_nothing_else(path: Session, visit: Session) -> None:
    """Tags nest, one h1, tables with headings, drawings with descriptions, no id twice, no address, no script."""
    for session in (path, visit):
        text = html(report_of(session))
        page = Page(text)
        names = [tag for tag, _ in page.tags]
        assert page.open == []
        assert text.startswith("<!DOCTYPE html>\n<html lang=")
        assert names.count("h1") == names.count("title") - names.count("svg") == 1
        assert names.count("caption") == names.count("thead") == names.count("table") > 3
        assert names.count("desc") == names.count("svg") == names.count("figure") > 1
        ids = [attributes["id"] for _, attributes in page.tags if "id" in attributes]
        assert len(ids) == len(set(ids))
        named = [a["aria-labelledby"] for _, a in page.tags if "aria-labelledby" in a]
        assert {name for names_ in named for name in (names_ or "").split()} <= set(ids)
        assert "http:" not in text
        assert "https:" not in text
        assert not {"script", "link", "img", "iframe", "object"} & set(names)
        assert "url(" not in text.replace("url(#", "")


def test_what_people_typed_is_text(visit: Session) -> None:
    """A station's name and a note that would be markup stand there as typed, in every form."""
    text = html(report_of(visit))
    page = Page(text)
    assert not any(tag == "b" for tag, _ in page.tags)
    assert RUDE in page.cells
    assert f"{RUDE} note 0" in page.said
    assert "<b>" not in text
    written = markdown(report_of(visit), "visit")
    assert "\\<b\\>\\&" in written
    assert "<b>" not in written.replace("\\<b", "")
    drawn = pictures(report_of(visit), "visit")
    assert drawn
    assert len(set(drawn)) == len(drawn)
    for name, svg in drawn.items():
        assert ET.fromstring(svg).tag.endswith("svg")
        assert f"(<{name}>)" in written


def test_control_characters_command_nothing() -> None:
    """A note that would ring a bell or turn the text's order shows signs in place of them (and XML stays XML)."""
    session = visited()
    session.note("bell \x07 and \u202e turned")
    for text in (html(report_of(session)), markdown(report_of(session), "x"), message(session)):
        assert not {"\x07", "\u202e"} & set(text)


def test_every_reading_stands_in_it_as_the_session_has_it(path: Session, visit: Session) -> None:
    """Number, station, place and what was typed of every mark; the belief's worst offset; the checks' figures."""
    for session in (path, visit):
        page = Page(html(report_of(session)))
        rows = {
            row[0]: row for s in report_of(session).sections if s.heading == "Readings" for row in s.tables[0].rows
        }
        marks = [event for event in session.effective if isinstance(event, Mark)]
        assert marks
        for mark in marks:
            row = rows[str(mark.id)]
            assert row[2] == mark.station
            assert row[5].startswith(IN_MM.place(mark.u, mark.v))
            assert set(row) <= page.cells
        view = outlook(session.belief.layout, session.belief.settled)
        assert f"worst station {IN_MM.length(view.worst)} off the middle" in page.said
        assert f"more than {IN_MM.length(view.worst_high)})" in page.said
    assert "right 1,0, down 2 (offset)" in page.cells
    assert "1.0 mm right, 2.0 mm down, 1.5 mm wide" in page.cells
    assert " ".join(visit.checks()["bed"].says) in page.cells
    clipped = visit.head_advice().now
    assert 100 * (clipped.clipped + 2 * clipped.clipped_sd) < 0.1
    assert "nozzle cuts off less than 0.1 % of the beam" in page.said
    low, value, high = visit.cuts().uniformity
    assert f"cuts at {100 * value:.0f} % ({100 * low:.0f} to {100 * high:.0f}) of the fastest" in page.said


def test_what_was_corrected_or_taken_back_still_stands_there(demo: Machine) -> None:
    """Both are shown with how they stand; the newest mark is the corrected one."""
    session = Session.start(demo)
    session.mark("middle", u=1.0, v=0.0)
    session.amend(1, 2.5, 0.0, typed={"right": "2,5"})
    session.miss("back-left")
    session.undo()
    sections = {section.heading: section for section in report_of(session).sections}
    rows = sections["Readings"].tables[0].rows
    assert [(row[0], row[-1]) for row in rows] == [("1", "corrected since"), ("2", "counts"), ("3", "taken back")]
    assert rows[1][5] == "entry 1 is 2.5 mm right"
    before = {row[0]: row for row in sections["Before and after"].tables[0].rows}
    assert before["3 middle"][2] == "2.5 mm right"


def test_unfinished_and_invented_say_so_first(demo: Machine, path: Session) -> None:
    """Practice is told above all else; so is what is not finished, until it is."""
    real = Session.start(demo)
    assert report_of(real).warnings[0].startswith("Not finished")
    assert "Not known: nothing was measured so far" in html(report_of(real))
    assert message(real).startswith("Not finished")
    real.finish()
    assert report_of(real).warnings == ()
    assert report_of(path).warnings[0] == INVENTED
    assert message(path).startswith(INVENTED)


def test_expected_and_seen_are_the_beliefs(path: Session) -> None:
    """Each mark after an adjustment beside what the belief before it expected, as asked of the session itself."""
    tables = {t.caption: t for s in report_of(path).sections for t in s.tables}
    rows = tables["Marks after an adjustment"].rows
    assert len(rows) > 2
    events = {str(event.id): event for event in path.effective}
    for number, said in rows:
        mark = events[number]
        assert isinstance(mark, Mark)
        expected = path.belief_before(mark).expected(mark.x, mark.y, mark.target)
        assert said.startswith(f"{mark.station}: expected {IN_MM.place(expected.u, expected.v)} (")


def test_a_message_is_short_whatever_was_entered(visit: Session) -> None:
    """Below 2,000 characters, with what matters first; what found no room is told."""
    long = visited(notes=120)
    assert len(message(long)) < 2000
    assert "more stands in the whole report" in message(long)
    assert "more stands" not in message(visit)
    for said in (
        "What was wrong? The bed's level",
        "hinge broken",
        "Weak cuts since when?",
        "Is it good now? ",
    ):
        assert said in message(visit)


def test_what_was_typed_has_its_unit_once() -> None:
    """A width that was kept from the mark before names its unit itself."""
    typed = {"left": "5.8", "carried_width": "5.71 mm", "unit": "mm", "method": "gaps"}
    assert typed_words(typed) == "left 5.8 mm, carried width 5.71 mm (gaps)"
    assert typed_words({"right": "1,0", "up": "2", "unit": "mm"}) == "right 1,0, up 2 mm"
