"""Words at every question, slips that get one sentence, and what was really done in place of the advice."""

import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from lineside import FINE, sensible, stored, talk, until

from coach.errors import Unreadable
from coach.plain.aloud import lines_of, quiet
from coach.plain.run import run
from coach.plain.script import answers_in
from coach.plain.words import WORDS
from coach.session.document import Practice
from coach.session.events import Amend, Disturbed, Lock, Mark, Miss, Note, Pulse, Turn, effective
from coach.session.session import Session
from coach.shown import IN_MM
from coach.steps.current import current_step


def entered(folder: Path) -> Session:
    """The stored session as it is on disk."""
    return Session.load(stored(folder))


def test_every_word_is_known_at_every_question(tmp_path: Path) -> None:
    """The words that only look are answered at a choice and at a number alike, and the same question stands again."""
    for word in ("help", "?", "glossary", "review", "note it hums"):
        for reach, question in (((), "What do you say?"), (("1", "1", "1", "1", "1"), "Left gap in mm?")):
            said = talk(tmp_path / word[:4] / question[:4], until("Measure at", *reach, word), practice=FINE)
            asked = [line for line in said.lines if line.startswith(question)]
            assert asked[-1] == asked[-2], word
    spoken = talk(tmp_path / "all", until("Pulse at", "help"), practice=FINE)
    assert all(any(line.startswith(f"{word}: ") for line in spoken.lines) for word in WORDS)
    assert "One short pulse; back-left." in spoken.text


def test_undo_says_what_it_took_back(tmp_path: Path) -> None:
    """At the next step the mark goes, and in the middle of a measurement the pulse; the step is then said anew."""
    said = talk(tmp_path, until("Go to middle", "undo", "1", "1", "1", "undo"), practice=FINE)
    taken = [line for line in said.lines if line.startswith("Taken back: ")]
    assert taken[0].startswith("Taken back: Mark at back-left: ")
    assert taken[1] == "Taken back: Pulse at back-left: a mark with 60 ms at 12 %."
    assert current_step(entered(tmp_path), IN_MM).key in ("safety", "pulse")
    assert not any(isinstance(event, Mark) for event in entered(tmp_path).effective)


def test_what_was_bumped_is_said_at_any_question(tmp_path: Path) -> None:
    """In the middle of a measurement, with the part or picked from a list; what there is not is one sentence."""
    said = talk(
        tmp_path,
        until("Measure at", "1", "bumped the cat", "bumped mirror2", "bumped", "1"),
        practice=FINE,
    )
    assert any(line.startswith("Saved. Out, or bumped: mirror 2. ") for line in said.lines)
    assert "cat" in said.text
    parts = [event.part for event in entered(tmp_path).effective if isinstance(event, Disturbed)]
    assert parts == ["mirror 2", "machine"]


def test_a_mark_is_corrected(tmp_path: Path) -> None:
    """`correct` with a number measures that mark again; with a number that is no mark it says which there are."""
    first = talk(tmp_path, until("Go to middle"), practice=FINE)
    assert first.status == 0
    mark = next(event for event in entered(tmp_path).effective if isinstance(event, Mark))
    wrong = f"correct {mark.id + 1}"
    said = talk(
        tmp_path,
        until("Go to middle", wrong, f"correct {mark.id}", "same", "0,4; -0,3", "it is doubtful", "review"),
        session=stored(tmp_path),
    )
    assert f"Entry '{mark.id + 1}' is not a mark that counts. Expected one of {mark.id}." in said.lines
    amended = [event for event in entered(tmp_path).effective if isinstance(event, Amend)]
    assert [(event.of, event.u, event.v, event.typed["right"]) for event in amended] == [(mark.id, 0.4, -0.3, "0,4")]
    assert any(line.startswith(f"Entry {mark.id}, ") and ", corrected since: " in line for line in said.lines)


def test_a_miss_counts_once_it_was_confirmed(tmp_path: Path) -> None:
    """ "No mark after all" is read back; Enter alone does not confirm it."""
    talk(tmp_path / "no", until("Measure at", "2", ""), practice=FINE)
    assert not any(isinstance(event, Miss) for event in entered(tmp_path / "no").events)
    said = talk(tmp_path / "yes", until("Measure at", "2", "1"), practice=FINE)
    assert "There was no mark at back-left after all: the pulse missed the tape." in said.lines
    assert isinstance(entered(tmp_path / "yes").events[-1], Miss)


def test_the_sticky_face_is_suggested_and_taken(tmp_path: Path) -> None:
    """A reading from the wrong face is questioned, "measure again" first; 5 takes it as seen from the other face."""
    surely_beside = re.compile(r"Expected (\d+\.\d) mm (?:right|left), .*give or take ([01]\.\d) mm")
    mirrored: list[str] = []

    def listen(lines: list[str]) -> str | None:
        text = " ".join(lines)
        if mirrored:
            taken = next((line[0] for line in lines if ": Take it so: " in line), None)
            return taken or ("" if "Yes, keep it" in text and "Step:" not in text else None)
        answer = sensible(lines)
        if "To the right in mm" in text and (found := surely_beside.search(beside[-1])) and float(found[1]) > 2:
            right, up = answer.split("; ")
            mirrored.append(right)
            return f"{-float(right)}; {up}"
        return answer

    beside = [""]

    def heard(lines: list[str]) -> str | None:
        beside.extend(line for line in lines if line.startswith("Expected "))
        return listen(lines)

    said = talk(tmp_path, heard, practice=Practice(kind="far", seed=5))
    assert "? Answer 2, 3, 4 or 5; Enter alone is 2." in said.text
    mark = [event for event in entered(tmp_path).effective if isinstance(event, Mark)][-1]
    assert mark.u == pytest.approx(float(mirrored[0]))
    assert mark.typed["face"] == "sticky"


def test_turned_and_locked_as_it_really_was(tmp_path: Path) -> None:
    """A turn the other way is read back as such and kept word for word; lock nuts ask for their mirror."""
    said = talk(tmp_path, until("Mirror", "Other: type it", "a bit", "1/16 ccw", "1"), practice=FINE)
    assert "The turn: 'a bit' cannot be read." in said.text
    assert "That is the other way than told." in said.text
    turn = entered(tmp_path).effective[-1]
    assert isinstance(turn, Turn)
    assert (list(turn.screws.values()), turn.typed) == ([-0.0625], {"turns": "1/16 ccw"})
    locked = talk(tmp_path / "lock", until("Every station", "1", "mirror 2"), practice=FINE)
    assert locked.status == 0
    lock = entered(tmp_path / "lock").effective[-1]
    assert isinstance(lock, Lock)
    assert lock.mirror == 2


def test_slips_are_answered_and_asked_again(tmp_path: Path) -> None:
    """What cannot be used gets its sentence and the question again; nothing of it is entered."""
    slips = ("3", "m", "x" * 300, "1", "gaps", "outer", "mm", "edge", "-4", "1,500", "1;2;3;4;5;6", "4,2; nine")
    said = talk(tmp_path, until("Measure at", *slips), practice=FINE)
    for sentence in (
        "'3' is none of the answers.",
        "Left gap is less than nothing.",
        "could mean 1500 or 1.500",
        "These are 6 values.",
        "'nine' cannot be read.",
    ):
        assert sentence in said.text
    assert isinstance(entered(tmp_path).effective[-1], Pulse)
    assert "left" not in entered(tmp_path).draft


def test_gaps_in_inches_are_asked_about_and_taken_as_such(tmp_path: Path) -> None:
    """What a gap is is said before the numbers; four of 0.29 are no mark of 17 mm; one answer makes them inches."""
    manner = ("1", "gaps", "outer", "mm", "edge")
    gaps = ("0.29; 0.28; 0.30; 0.29", "take it so: in inches", "yes")
    said = talk(tmp_path, until("Measure at", *manner, *gaps), practice=FINE)
    assert "A gap lies straight left, right, above or below the mark's middle: from the rim's imprint" in said.text
    assert "Question: The mark would be 17.4 mm wide" in said.text
    assert "Were these gaps typed in inches? Then they would fit the opening of 18.0 mm." in said.text
    marks = [event for event in Session.load(stored(tmp_path)).events if isinstance(event, Mark)]
    assert (marks[-1].typed["unit"], marks[-1].u) == ("in", pytest.approx(0.127, abs=0.01))


def test_three_gaps_ask_for_the_width(tmp_path: Path) -> None:
    """Three gaps, one by one or in one answer, are asked for the mark's width, and then make a reading."""
    for name, gaps in (("single", ("6,8", "9,1", "7,3", "")), ("one", ("6,8; 9,1; 7,3",))):
        manner = ("1", "gaps", "outer", "mm", "edge")
        said = talk(tmp_path / name, until("Measure at", *manner, *gaps, "", "2", "yes"), practice=FINE)
        assert said.text.count("Mark's width in mm, needed beside three gaps?") == 2  # Enter alone is no width
        mark = entered(tmp_path / name).effective[-1]
        assert isinstance(mark, Mark)
        # derived: with a mark of 2 mm the gaps 6.8 and 9.1 say 1.15 to the left, and 7.3 on top about 0.6 up
        assert (mark.u, mark.v) == (pytest.approx(-1.15, abs=0.1), pytest.approx(0.6, abs=0.2))


def test_the_width_of_the_mark_before_stands_in(tmp_path: Path) -> None:
    """At the second mark three gaps are enough: Enter alone takes the width of the first one, said as carried."""
    first = ("1", "gaps", "outer", "mm", "edge", "6,8; 9,1; 7,3; 8,6", "yes")
    second = ("1", "1", "1", "", "7,0; 8,9; 7,3", "", "")
    said = talk(tmp_path, until("Measure at", *first, *second), practice=FINE)
    one, two = (event for event in entered(tmp_path).effective if isinstance(event, Mark))
    assert f"Enter alone takes {one.width:.1f}, from the last" in said.text
    assert "from the last mark, not measured here" in said.text
    assert (two.width, two.typed["carried_width"]) == (None, f"{one.width:.2f} mm")


def test_a_note_of_odd_letters(tmp_path: Path) -> None:
    """A note keeps its words; an empty one is refused and the question stands again."""
    said = talk(tmp_path, until("Go to", "note", "", "NOTE Röhre klingt seltsam", "undo"), practice=FINE)
    assert "The note is empty. Expected a few words." in said.lines
    notes = [event for event in entered(tmp_path).events if isinstance(event, Note)]
    assert [note.text for note in notes] == ["Röhre klingt seltsam"]
    assert notes[0] not in effective(entered(tmp_path).events)


def test_an_interrupt_loses_nothing(tmp_path: Path) -> None:
    """Ctrl+C at a question: status 130, where the session waits, and all that was entered is there."""

    def interrupted() -> Iterator[str]:
        yield from ("", "", "")
        raise KeyboardInterrupt

    lines: list[str] = []
    assert run(tmp_path, lines.append, interrupted(), echo=False, practice=FINE) == 130
    assert lines[-1] == f"To go on: coach open {stored(tmp_path).stem} --plain"
    assert [event.kind for event in entered(tmp_path).events] == ["opened", "gate", "gate", "gate"]


def test_an_answers_file(tmp_path: Path) -> None:
    """Comments go, empty lines stay, "#2" is no comment; a file that cannot be read is one sentence and status 2."""
    path = tmp_path / "answers.txt"
    path.write_text("\ufeff# first\n1 # rules\n\nnote roll #2\n#\n  back  \n", encoding="utf-8")
    assert list(answers_in(path)) == ["1", "", "note roll #2", "back"]
    path.write_bytes(b"1\n\xff\xfe\n")
    with pytest.raises(Unreadable, match="line 2: this is not UTF-8 text"):
        answers_in(path)
    call = [sys.executable, "-m", "coach", "--data", str(tmp_path / "data"), "practice"]
    for given, word in (
        (["--plain", "--answers", str(tmp_path / "no.txt")], "no.txt"),
        (["--answers", "x"], "--plain"),
    ):
        done = subprocess.run([*call, *given], capture_output=True, text=True, check=False)
        assert (done.returncode, done.stdout, done.stderr.count("\n")) == (2, "", 1)
        assert word in done.stderr


def test_lines_are_made_for_the_ear() -> None:
    """Signs become words, long texts part between sentences under their label, capitals become small."""
    assert lines_of("1⅛ turns, −0.4 mm, 45°") == ["1 1/8 turns, minus 0.4 mm, 45 degrees"]
    long = "Do: " + "One short sentence here. " * 6
    assert set(lines_of(long)) == {"Do: One short sentence here."}
    assert lines_of("x" * 96 + " −0.4 mm") == ["x" * 96, "minus 0.4 mm"]
    assert quiet("FLAME? STOP") == "Flame? Stop"
    assert quiet("MIRROR 1 SCREW B 1/8 CLOCKWISE") == "Mirror 1 screw B 1/8 clockwise"
