"""Whole jobs in plain lines, from the start to the end, by answers alone."""

import re
import subprocess
import sys
from pathlib import Path

from _surroundings import ROOT
from built_steps import GATES, built
from lineside import ALIGNED, FINE, after, in_turn, sensible, stored, talk

from coach.paths import DATA_VARIABLE
from coach.session.events import Finish, Mark, Note, Shift, Turn
from coach.session.session import Session
from coach.shown import IN_MM
from coach.steps.beam_stages import BEAM_STAGES as STAGES
from coach.steps.current import current_step
from coach.steps.table import cautions_for

ANSWERS = Path(__file__).parent / "answers" / "aligned-5.txt"
WIDEST = 100
TITLES = {
    "Go to": "go",
    "Pulse at": "pulse",
    "No mark": "nothing",
    "Not one mark": "elsewhere",
    "Measure at": "measure",
    "Adjust the tube": "adjust-tube",
    "Adjust": "adjust",
    "Mirror": "screw",
    "Move the tube": "move-tube",
    "Move": "move",
    "Every station": "done",
    "No screw will": "stop",
}
"""The beginning of a step's title to the step's key; what asks gates is called as the table has it."""


def key_of(lines: str) -> str:
    """Which step is said."""
    gated = (current_step(built(name), IN_MM) for name in (*GATES, "flare", "tube-off"))
    titles = TITLES | {step.title: step.key for step in gated}
    return next(key for title, key in titles.items() if lines.startswith(f"Step: {title}"))


def coach(*words: str, folder: Path, typed: str = "") -> subprocess.CompletedProcess[str]:
    """The command in a process of its own, without a terminal."""
    call = [sys.executable, "-m", "coach", *words]
    env = {DATA_VARIABLE: str(folder), "PATH": "", "PYTHONPATH": str(ROOT)}
    return subprocess.run(call, input=typed, capture_output=True, text=True, check=False, env=env)


def test_a_file_of_answers_does_a_whole_job(tmp_path: Path) -> None:
    """A fixed file of answers, slip and note included, takes a practice session to its end, in its own process."""
    asked = ("practice", "--plain", "--kind", ALIGNED.kind, "--seed", str(ALIGNED.seed), "--answers", str(ANSWERS))
    done = coach(*asked, folder=tmp_path)
    assert (done.returncode, done.stderr) == (0, "")
    assert "Action: Alignment is good" in done.stdout
    assert "'seven' cannot be read" in done.stdout  # the slip is answered, and the next line is the next answer
    session = Session.load(stored(tmp_path))
    assert isinstance(session.effective[-1], Finish)
    assert [event.text for event in session.effective if isinstance(event, Note)] == ["Roll #2 of the tape"]
    assert sum(isinstance(event, Mark) for event in session.effective) >= len(session.machine.stations)


def test_a_listener_aligns_the_practice_machine(tmp_path: Path) -> None:
    """Whoever does what the lines say, knowing nothing else, has turned screws and comes to "done"."""
    said = talk(tmp_path, sensible, practice=FINE)
    assert said.status == 0
    assert "Step: Every station is centred." in said.lines
    events = Session.load(stored(tmp_path)).effective
    assert isinstance(events[-1], Finish)
    assert any(isinstance(event, Turn | Shift) for event in events)
    assert any(line.startswith("News: ") for line in said.lines)  # a retest tells what it taught


def test_every_step_is_whole(tmp_path: Path) -> None:
    """Every step says where in the job it is, what to do, all its cautions and its answers, in narrow plain lines."""
    said = talk(tmp_path, sensible, practice=FINE)
    steps = re.split(r"^(?=Step: )", "\n".join(said.lines), flags=re.MULTILINE)[1:]
    assert len(steps) > 20
    seen = set()
    for step in steps:
        key = key_of(step)
        seen.add(key)
        joined = " ".join(step.split())
        for caution in cautions_for(key):
            assert all(part in joined for part in re.split(r"(?<=[.:]) ", caution.text)), (key, caution.key)
        assert re.search(rf"^Where: stage [1-6] of {len(STAGES)}, ", step, re.MULTILINE), step
        assert "\nAction: " in step
        assert "\nDo: " in step
        assert re.search(r"^1: .+\n(\d: .+\n)*What do you say\? Answer 1", step, re.MULTILINE), step
    assert {"safety", "question", "clean", "tape", "go", "pulse", "measure", "adjust", "screw", "done"} <= seen
    for line in said.lines:
        assert line.isascii(), line  # nothing that speech leaves out
        assert line.isprintable(), line  # no cursor, no colour
        assert len(line) <= WIDEST or " " not in line, line  # only a path may be longer


def test_a_job_in_two_runs(tmp_path: Path) -> None:
    """Answers end in the middle of a measurement: status 0, where it waits; the second run confirms the safety gates
    again, offers what was typed, and finishes the same job.
    """
    first = coach(
        "practice",
        "--plain",
        "--kind",
        "fine",
        "--seed",
        "3",
        folder=tmp_path,
        typed="\n" * (len(GATES) + 7) + "6,8\n",
    )
    assert (first.returncode, first.stderr) == (0, "")
    path = stored(tmp_path)
    assert f"the session waits in {path}" in " ".join(first.stdout.split())
    assert f"coach open {path.stem} --plain" in first.stdout
    before = Session.load(path)
    assert before.draft["left"] == "6,8"
    said = talk(tmp_path, sensible, session=path)
    assert said.status == 0
    assert [line for line in said.lines if line.startswith("Step:")][:5] == ["Step: Rules first."] + [
        "Step: Before the beam is on."
    ] * 4
    assert "Typed before for this mark: Left gap 6,8." in said.lines
    after_all = Session.load(path)
    assert after_all.events[: len(before.events)] == before.events
    assert isinstance(after_all.effective[-1], Finish)


def test_the_beginning_offers_what_there_is(tmp_path: Path) -> None:
    """What is unfinished first, machines, practice, what is finished; each can be gone to from there."""
    coach("new-machine", "Shed", "--width", "600", "--depth", "400", "--side", "left", folder=tmp_path)
    talk(tmp_path, sensible, practice=ALIGNED)
    talk(tmp_path, after(10, in_turn("quit")), practice=FINE)
    said = talk(tmp_path, in_turn("shed", "begin", "home", "look", "leave", "practise", "", "quit"))
    begins = said.lines.index("Alignment coach, plain lines. Machines and sessions:")
    offered = [line.split(":")[1].strip() for line in said.lines[begins + 1 : begins + 7]]
    assert [words.split()[0] for words in offered] == [
        "Resume",
        "Shed",
        "Describe",
        "Practise",
        "Rehearse",
        "Look",
    ]
    assert "This session is finished." in said.lines
    machines = [Session.load(path).machine.name for path in (tmp_path / "sessions").glob("*.toml")]
    assert sorted(machines) == ["Practice bench"] * 3 + ["Shed"]
    resumed = talk(tmp_path, in_turn("1", "quit"))
    assert "Step: Rules first." in resumed.lines


def test_a_machine_in_inches(tmp_path: Path) -> None:
    """A stored machine, the person saying what is seen: lengths are typed and said in the unit of the settings."""
    coach("new-machine", "Shed", "--width", "600", "--depth", "400", "--side", "left", folder=tmp_path)
    (tmp_path / "settings.toml").write_text('unit = "inch"\n', encoding="utf-8")

    def in_the_middle(lines: list[str]) -> str | None:
        if any(line.startswith("Alignment coach") for line in lines):
            return "shed" if not list(tmp_path.glob("sessions/*.toml")) else "quit"
        if any("whole visit" in line for line in lines):
            return "align the beam alone"
        return "1/64; 0" if any("To the right in inches" in line for line in lines) else sensible(lines)

    said = talk(tmp_path, in_the_middle)
    assert said.status == 0
    assert "1: A round mark" in said.lines
    marks = [event for event in Session.load(stored(tmp_path)).effective if isinstance(event, Mark)]
    assert {(mark.u, mark.typed["right"], mark.typed["unit"]) for mark in marks} == {(25.4 / 64, "1/64", "in")}
    assert "It taught nothing new about the screws." in said.lines  # none was turned
    read_back = [line for line in said.lines if line.startswith(("Understood: ", "Expected "))]
    assert read_back
    assert not [line for line in read_back if re.search(r"[0-9] mm", line)]


def test_nobody_at_the_keyboard(tmp_path: Path) -> None:
    """No input at all: the list, and that nothing was entered; no folder is made for it."""
    done = coach("--plain", folder=tmp_path / "none")
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.splitlines()[-1] == "There are no more answers. Nothing was entered."
    assert not (tmp_path / "none").exists()
