"""A sheet typed in: the entries of measuring and no others, kept at once, gone on with wherever it was left."""

from datetime import date, timedelta
from pathlib import Path

import blanks_once
import pytest
from machines import make_machine

from coach.errors import NothingToUndo
from coach.reading.gaps import from_gaps
from coach.session.events import Mark
from coach.session.kept import now
from coach.session.session import Session
from coach.shown import IN_MM
from coach.steps.current import current_step
from coach.steps.gates import GATES
from coach.steps.perform import perform
from coach.steps.purpose import for_step
from coach.worksheet.typed_in import DAY, TypedIn, begun_for

YESTERDAY = (now() - timedelta(days=1)).date()
GAPS = {"left": "6,2", "right": "8.2", "top": "7", "bottom": "7.3"}


@pytest.fixture(autouse=True)
def computed_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """The blanks, which every reading of a file would compute anew."""
    blanks_once.patch(monkeypatch)


def begun(folder: Path, day: date = YESTERDAY) -> TypedIn:
    """A sheet into a new session of that day, kept in that folder."""
    session = begun_for(make_machine(), day)
    session.keep_new(folder)
    return TypedIn.begin(session, day)


def again(sheet: TypedIn) -> TypedIn:
    """After the program was killed: read anew from the file."""
    assert sheet.session.path is not None
    found = TypedIn.resumed(Session.resume(sheet.session.path))
    assert found is not None
    return found


def test_the_entries_are_those_of_measuring(tmp_path: Path) -> None:
    """One station typed from a sheet and one measured step by step: pulse and mark are the same but for their time
    and the day beside what was typed; so are belief and the next step."""
    sheet = begun(tmp_path)
    row = sheet.rows()[0]
    sheet.say(row, "mark")
    reading = from_gaps(aperture_diameter=18.0, **GAPS)
    sheet.purpose(sheet.rows()[0]).save(reading)

    live = Session.start(make_machine())
    for gate in GATES:
        live.gate(gate.name)
    while (step := current_step(live, IN_MM)).key != "pulse":
        perform(live, step, step.choices[0].key)
    assert step.shot is not None
    assert step.shot.name == row.blank.shot.name
    perform(live, step, "mark")
    for_step(live, current_step(live, IN_MM)).save(reading)

    def told(session: Session) -> list[dict[str, object]]:
        events = [event.model_dump() for event in session.effective if event.kind in ("pulse", "mark")]
        for event in events:
            event.pop("at"), event.pop("id"), event.get("typed", {}).pop("made", None)
        return events

    assert told(sheet.session) == told(live)
    assert [event.kind for event in sheet.session.events] == ["pulse", "mark"]
    assert {event.at.date() for event in sheet.session.events} == {YESTERDAY}
    assert sheet.session.events[-1].typed["made"] == YESTERDAY.isoformat()
    assert sheet.session.advice() == live.advice()


def test_it_goes_on_wherever_it_was_left(tmp_path: Path) -> None:
    """Killed after any word: the day, the dose, what was left empty, a pulse without its mark and half its numbers
    stand there again, and nothing that was entered is asked for a second time."""
    sheet = begun(tmp_path)
    sheet.set_dose({"ms": "70", "power": "12", "layers": ""})
    sheet.say(sheet.rows()[0], "empty")
    sheet = again(sheet)
    assert (sheet.day, sheet.dose) == (YESTERDAY, {"ms": "70", "power": "12"})
    assert [row.stands for row in sheet.rows()] == ["empty", "open", "open", "open", "open"]
    sheet.say(sheet.rows()[1], "not-whole")
    purpose = sheet.purpose(sheet.rows()[1])
    sheet.session.keep_draft({**purpose.start, "way": "gaps", "left": "4,2"})
    sheet = again(sheet)
    row = sheet.rows()[1]
    assert (row.stands, sheet.following()) == ("waits", row)
    assert sheet.purpose(row).start["left"] == "4,2"
    sheet.purpose(row).save(from_gaps(aperture_diameter=18.0, **GAPS))
    sheet.say(sheet.rows()[2], "nothing")
    sheet = again(sheet)
    assert [row.stands for row in sheet.rows()] == ["empty", "typed", "other", "open", "open"]
    mark = sheet.rows()[1].event
    assert isinstance(mark, Mark)
    assert (mark.ms, mark.power, mark.shape) == (70.0, 12.0, "cut")
    assert sheet.dose == {"ms": "70", "power": "12"}
    assert "left" not in sheet.session.draft


def test_what_was_typed_can_be_corrected_and_taken_back(tmp_path: Path) -> None:
    """A mark typed again amends it, with its day; undo takes entry after entry, and nothing of before the sheet."""
    sheet = begun(tmp_path)
    sheet.session.turn(1, {"B": 0.1})
    sheet.say(sheet.rows()[0], "mark")
    sheet.purpose(sheet.rows()[0]).save(from_gaps(aperture_diameter=18.0, **GAPS))
    sheet.purpose(sheet.rows()[0]).save(from_gaps(aperture_diameter=18.0, **{**GAPS, "left": "6,4", "right": "8.0"}))
    amended = sheet.rows()[0].event
    assert isinstance(amended, Mark)
    assert amended.u == pytest.approx(-0.8, abs=0.01)
    assert amended.typed["made"] == YESTERDAY.isoformat()
    assert [sheet.undo().kind for _ in range(3)] == ["amend", "mark", "pulse"]
    with pytest.raises(NothingToUndo):
        sheet.undo()
    assert DAY in sheet.session.draft
    assert sheet.rows()[0].stands == "open"


def test_tapes_from_before_an_adjustment_are_others(tmp_path: Path) -> None:
    """After screws were turned every blank is open again."""
    sheet = begun(tmp_path)
    sheet.say(sheet.rows()[0], "nothing")
    sheet.session.turn(1, {"B": 0.1})
    assert {row.stands for row in sheet.rows()} == {"open"}
