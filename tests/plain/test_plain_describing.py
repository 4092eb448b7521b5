"""A machine described in plain lines: to a profile and a session on it, left in between, changed later."""

import re
import subprocess
import sys
import tomllib
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from _surroundings import ROOT
from lineside import Spoken, in_turn, stored, talk
from machines import make_machine

from coach import Machine
from coach.describing import drafts
from coach.describing.description import Description
from coach.describing.questions import EVERY, questions
from coach.describing.words import said
from coach.paths import DATA_VARIABLE
from coach.plain.aloud import quiet, spoken
from coach.session.session import Session
from coach.session.store import Store
from coach.shown import IN_MM
from coach.steps.cautions import WHILE_DESCRIBING

ANSWERS = Path(__file__).parent / "answers" / "shed-laser.txt"
NEEDED = ("Describe", "Shed laser", "600", "400", "left")
"""Answers to what cannot be guessed; mirror 1's gap is asked next."""


def machine_in(folder: Path) -> Path:
    """The one machine in the folder."""
    (path,) = (folder / "machines").glob("*.toml")
    return path


def asked(spoken_lines: Spoken) -> list[str]:
    """What was asked, in order, each question once as often as it was said."""
    return [found[1] for line in spoken_lines.lines if (found := re.match(r"Question \d+ of \d+\. (.*)", line))]


def test_a_file_of_answers_describes_a_machine_and_begins_a_session(tmp_path: Path) -> None:
    """In a process of its own: slip, back, guess and own points, to the file that is named and a session on it."""
    call = [sys.executable, "-m", "coach", "--plain", "--answers", str(ANSWERS)]
    env = {DATA_VARIABLE: str(tmp_path), "PATH": "", "PYTHONPATH": str(ROOT)}
    done = subprocess.run(call, capture_output=True, text=True, check=False, env=env)
    assert (done.returncode, done.stderr) == (0, "")
    path = machine_in(tmp_path)
    machine = Machine.load(path)
    assert (machine.name, machine.bed.width, machine.path.side) == ("Shed laser", 600, "left")
    assert machine.bed.depth == pytest.approx(599.44)  # 23.6 in of 25.4 mm
    assert (machine.path.mirror1_gap, machine.path.mirror2_gap, machine.aperture.head) == (140.5, 114.3, 18)
    assert machine.guessed == ("tape.radius", "mounts.1.thread", "lens.nozzle")
    assert (machine.path.mirror1, machine.path.mirror2) == (25.0, 25.4)
    assert [move.model_dump(exclude_none=True) for move in machine.moves] == [
        {"part": "mirror 2", "right": 4.0}, {"part": "head", "up": 0.0, "back": 3.0},
        {"part": "tube", "up": 0.0, "back": 0.0},
    ]  # fmt: skip
    assert machine.pulse.model_dump(exclude_none=True) == {"timed": True, "percent": False, "ms": 70.0}
    first, second, third = machine.mounts
    assert [(p.x, p.y, p.kind) for p in first.points] == [(19, -19, "pivot"), (-19, -19, "screw"), (19, 19, "screw")]
    assert [(p.name, p.x, p.y) for p in second.points] == [("A", -20, -20), ("B", 20, -20), ("top", 0, 22.5)]
    assert (first.drive, second.thread, second.drive) == ("pull", "M5x0.5", "unknown")
    assert [(p.x, p.y, p.kind) for p in third.points] == [(-15, 15, "screw"), (15, 15, "screw"), (-15, -15, "screw")]
    assert machine.lens is not None
    assert machine.lens.model_dump() == {
        "focal": 50.8, "nozzle_distance": 7.0, "nozzle": 2.5, "curved": "down", "mirror_distance": None, "reach": 2.0,
    }  # fmt: skip
    assert "A focus 55.0 mm below the nozzle does not go with a lens of 50.8 mm" in " ".join(done.stdout.split())
    assert "'six hundred' cannot be read" in done.stdout
    assert "\nTape: 11.0 mm, guessed.\n" in done.stdout  # said as soon as it is guessed: 18/2 and 2 beyond the rim
    assert "All values. 3 values are guessed." in done.stdout
    assert f"The machine is kept in {path}." in " ".join(done.stdout.split())
    assert Session.load(stored(tmp_path)).machine == machine
    assert "Step: Rules first." in done.stdout
    assert not list((tmp_path / "drafts").glob("*.toml"))


def test_every_question_says_how_and_every_part_its_cautions(tmp_path: Path) -> None:
    """Enter alone at all that can be guessed hears each question's whole how; cautions stand before each part."""
    heard = talk(tmp_path, in_turn(*NEEDED, *[""] * 22, "now", *[""] * 8, "quit"))
    description = drafts.describe(Machine.load(machine_in(tmp_path))).answered("head.now", "yes")
    matter = questions(description)
    assert asked(heard) == [words + ("" if words.endswith("?") else ".") for words in (quiet(q.ask) for q in matter)]
    for question in matter:
        assert all(spoken(line) in heard.text for line in question.how), question.key
        assert spoken(said(description, question, IN_MM)) in heard.text
    signals = ("Danger: ", "Warning: ", "Caution: ", "Notice: ")
    heard.lines = [line.partition(": ")[2] if line.startswith(signals) else line for line in heard.lines]
    for caution in WHILE_DESCRIBING:
        assert (
            heard.text.count(spoken(caution.text)) == 9
        )  # travel, opening, either mount, what can be moved, the tube, stations, mirror 3, lens


def test_a_draft_survives_the_end_of_input(tmp_path: Path) -> None:
    """What was answered waits on disk, the ending says where, and it goes on at the question it stood at."""
    left = talk(tmp_path, in_turn(*NEEDED, "", "140"))
    (draft,), _ = drafts.drafts(tmp_path)
    waits = f"There are no more answers. The half description waits in {draft.path}. To go on: coach --plain"
    assert left.text.endswith(waits)
    assert draft.at == "path.mirror2_gap"
    on = talk(tmp_path, in_turn("Go on describing Shed laser", "go on", "back", "", "110", "enough", "keep", "back"))
    assert asked(on)[:3] == ["Mirror 2 to the head.", "Mirror 1 to mirror 2.", "Mirror 2 to the head."]
    assert "Mirror 1 to 2, in mm? Enter alone keeps 140.0 mm." in on.lines
    machine = Machine.load(machine_in(tmp_path))
    assert (machine.path.mirror1_gap, machine.path.mirror2_gap) == (140, 110)
    assert drafts.drafts(tmp_path) == ((), ())


def test_what_was_half_typed_in_the_full_screen_is_offered(tmp_path: Path) -> None:
    """Enter alone takes it; a draft can also be thrown away."""
    begun = drafts.begin(tmp_path)
    drafts.keep(drafts.Draft(begun.path, Description({"name": "Shed"}), "bed.width", "550"))
    heard = talk(tmp_path, in_turn("1", "1", "", "home", "1", "throw", "quit"))
    assert "Travel, left to right, in mm? Typed before: 550. Enter alone takes it." in heard.lines
    assert asked(heard) == ["Travel: how wide?", "Travel: how deep?"]
    assert "Thrown away." in heard.lines
    assert drafts.drafts(tmp_path) == ((), ())


def test_what_cannot_be_guessed_is_asked_first_and_nothing_answered_leaves_nothing(tmp_path: Path) -> None:
    """`guess`, Enter alone and `enough` get one sentence there; back stops at the first question."""
    heard = talk(tmp_path, in_turn("Describe", "back", "", "guess", "", "enough", "quit"))
    assert heard.text.count("This cannot be guessed. Expected an answer") == 2
    assert "First what cannot be guessed; the rest can." in heard.lines
    assert "This is the first question; home leaves it for the list." in heard.lines
    assert asked(heard)[-1] == "Travel: how wide?"
    nothing = talk(tmp_path / "other", in_turn("Describe", "undo", "quit"))
    assert "That word belongs to a session" in nothing.text
    assert nothing.lines[-1] == "Left. Nothing was entered."
    assert not (tmp_path / "other" / "drafts").exists()


def test_an_unlikely_opening_is_questioned(tmp_path: Path) -> None:
    """0.7 in typed without its unit: again, kept, or taken as inches."""
    answers = (*NEEDED, "", "140", "110", "25", "25", "0.7")
    taken = talk(tmp_path, in_turn(*answers, "again", "0.7", "take it so"))
    assert any(line.startswith("Question: ") for line in taken.lines)
    (draft,), _ = drafts.drafts(tmp_path)
    assert draft.description.length("aperture.head") == pytest.approx(17.78)  # 0.7 of 25.4 mm
    talk(tmp_path / "kept", in_turn(*answers, "keep"))
    (kept,), _ = drafts.drafts(tmp_path / "kept")
    assert kept.description.length("aperture.head") == 0.7


def test_a_change_leaves_an_old_session_as_it_is_and_says_what_is_forgotten(tmp_path: Path) -> None:
    """A changed mount drops what it taught: said, and kept only after a second yes; the session keeps its machine."""
    table = make_machine().to_table()
    even = [[float(row == column) for column in range(6)] for row in range(6)]
    for mount in table["mounts"]:
        mount["learned"] = {"on": "2026-02-01", "push": 0.9, "mean": [1.0, 0, 0.1, 0, 1.0, 0.1], "cov": even}
    machine = Machine.model_validate(table)
    path = Store(tmp_path).save_machine(machine)
    session = Session.start(machine)
    session.keep_in(tmp_path / "sessions" / "old.toml")
    before = (tmp_path / "sessions" / "old.toml").read_bytes()
    change = ("Shed laser", "Change", "Mirror 2, clockwise", "pull", "keep these changes")
    asks = talk(tmp_path, in_turn(*change, "", "quit"))
    assert Machine.load(path) == machine
    assert "about the mount of mirror 2 no longer fits and is dropped." in asks.text
    done = talk(tmp_path, in_turn("Shed laser", "Change", "keep these changes", "right", "back to the list", "quit"))
    assert "2: Name: Shed laser" in done.lines
    changed = Machine.load(path)
    assert (changed.mount(2).drive, changed.mount(2).learned) == ("pull", None)
    assert changed.mount(1) == machine.mount(1)
    assert (tmp_path / "sessions" / "old.toml").read_bytes() == before
    assert Session.load(tmp_path / "sessions" / "old.toml").machine == machine
    assert done.text.endswith(f"Left. The machine is kept in {path}. To go on: coach --plain")


def test_lengths_are_asked_in_the_persons_unit(tmp_path: Path) -> None:
    """With inches set, a number without a unit is inches, also when Enter alone keeps what was typed in mm."""
    (tmp_path / "settings.toml").write_text('unit = "inch"\n', encoding="utf-8")
    heard = talk(tmp_path, in_turn("Describe", "Shed", "600 mm", "23.6", "back", "back", "", "", "left"))
    assert "Travel, left to right, in inches? Enter alone keeps 23.622 in." in heard.lines  # 600/25.4
    held = tomllib.loads(next((tmp_path / "drafts").glob("*.toml")).read_text(encoding="utf-8"))
    assert (held["answers"]["bed.width"], held["answers"]["bed.depth"]) == ("600 mm", "23.6 in")


def test_the_list_says_how_each_machine_stood(tmp_path: Path) -> None:
    """Behind a machine stand its newest finished session's result and its age; before one, that it is not aligned."""
    machine = make_machine()
    Store(tmp_path).save_machine(machine)
    assert "1: Shed laser: no session finished yet" in talk(tmp_path, in_turn("quit")).lines
    session = Session.start(machine)
    for station in machine.stations:
        session.mark(station.name, u=0.1, v=0.0)
    session.finish()
    path = tmp_path / "sessions" / "newer.toml"
    session.keep_in(path)
    old = (datetime.now().astimezone() - timedelta(days=3)).isoformat()
    lines = [f"at = {old}" if line.startswith("at = ") else line for line in path.read_text().splitlines()]
    path.write_text("\n".join(lines))
    row = next(line for line in talk(tmp_path, in_turn("quit")).lines if line.startswith("1: "))
    assert re.fullmatch(r"1: Shed laser: centred, worst 0\.\d mm expected, 3 days ago", row)


def test_every_question_is_said_in_small_letters() -> None:
    """No question is left in capitals, but for points A and B."""
    for question in EVERY:
        words = re.findall(r"[A-Z]{2,}", quiet(question.ask))
        assert not words, question.key
    assert quiet("MIRROR 1: A TO B?") == "Mirror 1: A to B?"
