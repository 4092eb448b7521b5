"""Nothing lost: what the file holds when a method returns, when writing fails, and when the power goes."""

import errno
import inspect
import os
import signal
import subprocess
import sys
import tempfile

import pytest
from machines import machine_table, mount_table

from coach import Machine, Session, files
from coach.advice.advice import Shot
from coach.errors import InputError, Unwritable
from coach.session.document import read
from coach.session.visit_events import KeptCuts, KeptMark

SHOT = Shot("middle", 300.0, 200.0)
CUTS = KeptCuts.model_validate(
    {"material": "ply 6 mm, lot 3", "on": "2026-11-26", "stations": [{"name": "middle", "fastest": 18.0}]}
)

HEAD = Machine.model_validate(
    machine_table(mounts=[mount_table(mirror) for mirror in (1, 2, 3)]) | {"lens": {"focal": 50.8}}
)
MARK = KeptMark(station="middle", x=300.0, y=200.0, u=0.5, v=-0.2, sd=0.25, on="2026-01-02")

STEPS = {
    "opened": lambda s: s.opened(),
    "gate": lambda s: s.gate("eyewear"),
    "arrive": lambda s: s.arrive(SHOT, ms=90.0, layers=2),
    "pulse": lambda s: s.pulse(SHOT, "mark"),
    "mark": lambda s: s.mark(
        "middle", u=1.2, v=-0.4, sd=0.5, kept=True, typed={"method": "gaps", "left": "4,2"}, ms=70.0, width=1.8
    ),
    "amend": lambda s: s.amend(s.events[-1].id, 1.3, -0.4),
    "miss": lambda s: s.miss("front-right"),
    "nothing": lambda s: s.nothing("front-left", ms=70, power=12),
    "plan": lambda s: s.plan(s.advice()),
    "turn": lambda s: s.turn(1, {"B": -0.125, "C": 0.0625}, typed={"B": "⅛ anticlockwise"}),
    "shift": lambda s: s.shift("tube", up=1.2, back=-0.3),
    "lock": lambda s: s.lock(2),
    "disturbed": lambda s: s.disturbed("mirror 2"),
    "refuse": lambda s: s.refuse("tube", axis="up"),
    "mended": lambda s: s.mended("loose"),
    "best": lambda s: s.best("yaw"),
    "answer": lambda s: s.answer("weak", "toward one corner"),
    "check": lambda s: s.check("bed", "bad", front_left=5.0, front_right=6.2),
    "cut": lambda s: s.cut("back-left", fastest=18.0, next=20.0, material="ply 6 mm, lot 3", power=60.0),
    "sheet": lambda s: s.sheet("ply 6 mm, lot 3", power=60.0, speed=18.0),
    "care": lambda s: s.care("mirror 1", "clean", taken_out=True),
    "baseline": lambda s: s.baseline(CUTS),
    "last_marks": lambda s: s.last_marks([MARK]),
    "usual_current": lambda s: s.usual_current(18.5),
    "head_pulse": lambda s: s.head_pulse("bed", "mark", lowered=170.0, lens=False),
    "bed_mark": lambda s: s.bed_mark(1.2, -0.4, lowered=120.0, lens=True, sd=0.2, typed={"right": "1,2"}),
    "nozzle_mark": lambda s: s.nozzle_mark(right=0.3, back=0.1, cut=True),
    "pointer": lambda s: s.pointer(right=0.5, back=0.2, lowered=30.0),
    "described": lambda s: s.described(HEAD),
    "begin": lambda s: s.begin("close up"),
    "item": lambda s: s.item("close up", "covers", True),
    "end": lambda s: s.end("close up"),
    "skip": lambda s: s.skip("pointer", "there is none"),
    "note": lambda s: s.note('smelled of "pine"\nand\tsmoke \\ ünïcode'),
    "finish": lambda s: s.finish(),
    "undo": lambda s: s.undo(),
}
"""Every method that adds an event, in an order in which each can."""
KINDS = {"refuse": "refused", "nothing": "pulse", "usual_current": "baseline", "last_marks": "baseline"}
"""What its event is called, where that is not the method's name."""


def test_every_event_is_on_disk_before_its_method_returns(tmp_path, demo) -> None:
    """After each call the file, read anew, holds exactly the session's events; no method is left out."""
    methods = inspect.getmembers(Session, inspect.isfunction)
    adding = {name for name, method in methods if "._add(" in inspect.getsource(method)}
    assert adding == set(STEPS)
    path = tmp_path / "s.toml"
    session = Session.start(demo)
    session.keep_in(path)
    assert read(path).events == ()
    for count, (name, step) in enumerate(STEPS.items(), start=1):
        step(session)
        on_disk = read(path).events
        assert on_disk == session.events
        assert len(on_disk) == count
        assert on_disk[-1].kind == KINDS.get(name, name)


def test_a_draft_is_on_disk_until_it_became_an_event(tmp_path, demo) -> None:
    """What is being typed survives a crash, and is gone once it was entered."""
    path = tmp_path / "s.toml"
    session = Session.start(demo)
    session.keep_in(path)
    session.keep_draft({"left": "4,", "top": "3.1"})
    assert Session.load(path).draft == {"left": "4,", "top": "3.1"}
    session.mark("middle", u=0.1, v=0.2)
    assert Session.load(path).draft == session.draft == {}


def _full_disk(*_args, **_more):
    raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))


@pytest.mark.parametrize(("module", "name"), [(tempfile, "mkstemp"), (os, "fsync"), (os, "replace"), (os, "chmod")])
def test_a_failed_write_changes_neither_file_nor_session(module, name, tmp_path, demo, monkeypatch) -> None:
    """Whichever call fails, the entry was not made: old bytes, old events, old belief, no litter; then it works."""
    path = tmp_path / "s.toml"
    session = Session.start(demo)
    session.keep_in(path)
    session.mark("middle", u=1.0, v=0.5)
    bytes_, events, mean = path.read_bytes(), session.events, session.belief.bank.mixture.mean
    with monkeypatch.context() as patch:
        patch.setattr(module, name, _full_disk)
        for step in (STEPS["mark"], STEPS["turn"], STEPS["undo"], lambda s: s.keep_draft({"left": "4"})):
            with pytest.raises(Unwritable, match="No space left"):
                step(session)
            assert path.read_bytes() == bytes_
            assert session.events == events
            assert (session.belief.bank.mixture.mean == mean).all()
    assert sorted(p.name for p in tmp_path.iterdir()) == [files.LOCK, "s.toml"]
    assert session.draft == {"left": "4"}  # what is typed is no entry: kept in memory till there is room
    session.note("smoke")
    assert read(path).draft == {"left": "4"}
    session.undo()
    session.mark("back-left", u=0.0, v=0.0)
    assert read(path).events == session.events
    assert len(session.effective) == 2


def test_text_that_no_file_can_hold_is_refused_in_a_sentence(tmp_path, demo) -> None:
    """Half a character, as a broken terminal hands it over: neither file nor session changes, and nothing is left."""
    path = tmp_path / "s.toml"
    session = Session.start(demo)
    session.keep_in(path)
    before = path.read_bytes()
    with pytest.raises(Unwritable, match="no character"):
        session.note("smoke \udce4")
    assert path.read_bytes() == before
    assert session.events == ()
    assert sorted(p.name for p in tmp_path.iterdir()) == [files.LOCK, "s.toml"]


def test_a_session_that_could_not_be_kept_stays_in_memory(tmp_path, demo) -> None:
    """A folder that is a file in truth: keep_in says so, and the session goes on without a file."""
    (tmp_path / "folder").write_text("no folder")
    session = Session.start(demo)
    with pytest.raises(Unwritable):
        session.keep_in(tmp_path / "folder" / "s.toml")
    assert session.path is None
    session.mark("middle", u=1.0, v=0.5)
    assert len(session.events) == 1


@pytest.mark.parametrize(
    "wrong",
    [
        lambda s: s.mark("nowhere", u=0.0, v=0.0),
        lambda s: s.mark("middle", u=float("nan"), v=0.0),
        lambda s: s.mark("middle", u="1.2", v=0.0),
        lambda s: s.mark("P1", u=0.0, v=0.0, x=300.0),
        lambda s: s.mark("P1", u=0.0, v=0.0, x=300.0, y=-1.0),
        lambda s: s.mark("middle", u=0.0, v=0.0, sd=0.0),
        lambda s: s.mark("middle", u=0.0, v=0.0, target="mirror 3"),
        lambda s: s.miss("nowhere"),
        lambda s: s.turn(1, {"A": 0.1}),
        lambda s: s.turn(1, {"Z": 0.1}),
        lambda s: s.turn(1, {"B": 1.5}),
        lambda s: s.turn(1, {}),
        lambda s: s.turn(3, {"B": 0.1}),
        lambda s: s.shift("head", right=1.0),
        lambda s: s.shift("bed", up=1.0),
        lambda s: s.shift("tube", up=float("inf")),
        lambda s: s.lock(3),
        lambda s: s.amend(1, 0.0, 0.0),
        lambda s: s.note("  "),
        lambda s: s.bed_mark("1.2", 0.0),
        lambda s: s.bed_mark(0.0, float("nan")),
        lambda s: s.bed_mark(0.0, 0.0, lowered=-5.0),
        lambda s: s.bed_mark(0.0, 0.0, lowered=5000.0),
        lambda s: s.bed_mark(0.0, 0.0, lens="in"),
        lambda s: s.bed_mark(0.0, 0.0, sd=0.0),
        lambda s: s.nozzle_mark(right=0.3),
        lambda s: s.nozzle_mark(right=300.0, back=0.0),
        lambda s: s.pointer(0.5, 0.2, lowered=-1.0),
        lambda s: s.pointer(0.5, "left"),
        lambda s: s.shift("lens", up=1.0),
        lambda s: s.shift("lens", right=30.0),
        lambda s: s.refuse("bed"),
    ],
)
def test_what_cannot_be_is_refused_in_a_sentence_and_not_written(wrong, tmp_path, demo) -> None:
    """One clear sentence with what was expected; neither file nor session changes."""
    path = tmp_path / "s.toml"
    session = Session.start(demo)
    session.keep_in(path)
    before = path.read_bytes()
    with pytest.raises(InputError) as caught:
        wrong(session)
    assert str(caught.value).endswith(".") or "Example:" in str(caught.value)
    assert "Expected" in str(caught.value)
    assert session.events == ()
    assert path.read_bytes() == before


def test_two_programs_on_one_file_do_not_overwrite_each_other(tmp_path, demo) -> None:
    """The second to write is told, and both the file and its own events stay as they were."""
    path = tmp_path / "s.toml"
    first = Session.start(demo)
    first.keep_in(path)
    first.note("one")
    second = Session.resume(path)
    second.note("two")
    with pytest.raises(Unwritable, match="another program"):
        first.note("three")
    assert [event.text for event in first.events] == ["one"]
    assert [event.text for event in read(path).events] == ["one", "two"]
    second.note("four")
    first = Session.resume(path)
    first.note("five")
    assert [event.text for event in read(path).events] == ["one", "two", "four", "five"]


def test_what_was_written_between_loading_and_keeping_is_not_lost(tmp_path, demo) -> None:
    """load, then another program writes, then keep_in on the same file: refused, nothing is overwritten."""
    path = tmp_path / "s.toml"
    first = Session.start(demo)
    first.keep_in(path)
    second = Session.load(path)
    first.note("one")
    with pytest.raises(Unwritable, match="another program"):
        second.keep_in(path)
    assert [event.text for event in read(path).events] == ["one"]


WRITER = """
import sys
from coach import Machine, Session
session = Session.resume(sys.argv[1])
while True:
    session.mark("middle", u=0.1, v=0.2)
    print(len(session.events), flush=True)
"""


def test_a_kill_in_the_middle_of_saving_leaves_a_whole_file(tmp_path, demo) -> None:
    """A program that writes without pause is killed at six moments: every time the file loads and holds every
    event whose method had returned, in order."""
    path = tmp_path / "s.toml"
    Session.start(demo).save(path)
    for lines in (1, 2, 3, 5, 8, 13):
        writer = subprocess.Popen([sys.executable, "-c", WRITER, str(path)], stdout=subprocess.PIPE, text=True)
        assert writer.stdout is not None
        reported = [int(writer.stdout.readline()) for _ in range(lines)]
        writer.send_signal(signal.SIGKILL)
        reported += [int(line) for line in writer.stdout.read().split()]
        writer.wait()
        writer.stdout.close()
        events = read(path).events
        assert len(events) in (reported[-1], reported[-1] + 1)
        assert [event.id for event in events] == list(range(1, len(events) + 1))
