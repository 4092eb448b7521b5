"""A visit given away and taken up: whole by itself, its words left out on request, copies told apart, none mixed."""

import shutil
from pathlib import Path
from typing import Any, Literal, get_args, get_origin

import pytest
from machines import machine_table

from coach import Machine
from coach.cli.main import main
from coach.report.html import html
from coach.report.of_session import report_of
from coach.session.document import SCHEMA, Document, read
from coach.session.events import Event
from coach.session.session import Session
from coach.sharing.copies import relation
from coach.sharing.personal import OWN_WORDS, without
from coach.steps.finish import keep_learned

STATIONS = [
    {"name": "Bob's door", "x": 20.0, "y": 380.0},
    {"name": "back-right", "x": 580.0, "y": 380.0},
    {"name": "front-right", "x": 580.0, "y": 20.0},
]


def visit(folder: Path) -> Session:
    """A session with a bit of every word that somebody types, kept in that folder."""
    table = machine_table(name="Bob's laser", stations=STATIONS)
    for mount in table["mounts"]:
        mount["points"][1]["name"] = "Bob's screw"
    session = Session.start(Machine.model_validate(table), title="Before Anna came")
    session.keep_new(folder)
    session.mark("Bob's door", u=1.0, v=-0.5, typed={"method": "offsets", "right": "1", "up": "-0,5"})
    session.mark("60% of the way to Bob's door", u=0.4, v=0.1, x=200.0, y=300.0)
    session.mark("under Bob's lamp", u=0.4, v=0.1, x=100.0, y=100.0)
    session.plan(session.advice())
    session.turn(1, {"Bob's screw": 0.05}, typed={"Bob's screw": "0,05"})
    session.cut("Bob's door", fastest=18.0, next=20.0, material="ply 6 mm, lot 3")
    session.note("Bob was here")
    session.skip("pointer", "Anna has it")
    session.item("close up", "covers", False, "Bob lent it")
    session.keep_draft({"for": "note", "note": "half a note about Bob"})
    return session


def coach(folder: Path, capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str]:
    """Status, and all that was said."""
    capsys.readouterr()
    status = main(["--data", str(folder), *words])
    caught = capsys.readouterr()
    return status, caught.out + caught.err


def stored(folder: Path) -> dict[str, Document]:
    return {path.name: read(path) for path in sorted((folder / "sessions").glob("*.toml"))}


def test_a_visits_file_alone_is_whole(tmp_path: Path) -> None:
    """Without its machine, log and baselines it is opened, gone on with, reported and closed."""
    here, path = tmp_path / "here", visit(tmp_path / "there").path
    assert path is not None
    (here / "sessions").mkdir(parents=True)
    shutil.copy(path, here / "sessions" / "sent.toml")
    session = Session.resume(here / "sessions" / "sent.toml")
    there = Session.load(path)
    assert session.advice() == there.advice()
    assert html(report_of(session)) == html(report_of(there))
    session.opened()
    session.mark("back-right", u=0.1, v=0.1)
    session.finish()
    assert "The machine's profile is not in the data folder" in keep_learned(here, session)
    assert not (here / "machines").exists()


def test_what_is_personal_is_listed_and_left_out(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Nobody's name is left in the copy, nothing that is computed changes, and what stays is told beforehand."""
    session = visit(tmp_path)
    listed = coach(tmp_path, capsys, "share")[1]
    assert listed.startswith("Session: ")  # nobody named one: which it is comes first
    for line in (
        "Title: Before Anna came (a name)", "Name of the machine: Bob's laser (a name)", "Place: Bob's door (a name)",
        "Place: under Bob's lamp (a name)", "Screw: Bob's screw (a name)", "Entry 7, a note: Bob was here (a note)",
        "Half typed: for note, note half a note about Bob (a note)", "Material: ply 6 mm, lot 3 (stays in any case)",
    ):  # fmt: skip
        assert line in listed
    assert len(list(tmp_path.iterdir())) == 1
    to = tmp_path / "copy.toml"
    status, said = coach(tmp_path, capsys, "share", "last", "--to", str(to), "--without-names", "--without-notes")
    assert (status, said.splitlines()[-1]) == (0, str(to))
    text = to.read_text(encoding="utf-8")
    assert "Bob" not in text
    assert "Anna" not in text
    copy = Session.load(to)
    assert [event.id for event in copy.events] == [event.id for event in session.events]
    assert copy.advice().kind == session.advice().kind
    for station in session.machine.stations:
        mine, theirs = (each.belief.expected(station.x, station.y, "head") for each in (session, copy))
        assert (mine.u, mine.v, mine.sd) == (theirs.u, theirs.v, theirs.sd)
    assert {"station 1", "place 1", "60% of the way to station 1"} <= {
        event.station for event in copy.events if hasattr(event, "station")
    }
    assert coach(tmp_path, capsys, "share", "last", "--to", str(to))[0] == 2
    assert to.read_text(encoding="utf-8") == text


NOT_WORDS = {
    *("name", "question", "answer", "figures"),  # of what the coach lists
    *("station", "screws", "turns", "typed", "mount", "marks", "cuts"),  # names: replaced wherever they stand
    *("material", "guessed"),  # stays, and is told; answers that the coach knows
}
"""Keys of entries under which text stands that is no note and no reason."""


def of_text(kind: Any) -> bool:
    """Whether any text may stand there, and not one of a few words alone."""
    if get_origin(kind) is Literal:
        return False
    inner = [field.annotation for field in getattr(kind, "model_fields", {}).values()]
    return kind is str or any(map(of_text, (*get_args(kind), *inner)))


def test_what_somebody_writes_into_any_entry_is_personal() -> None:
    """Every kind of entry: text under a key of its own is left out on request, or stands above for what it is."""
    for model in get_args(get_args(Event)[0]):
        texts = {name for name, field in model.model_fields.items() if of_text(field.annotation)}
        new = texts - NOT_WORDS - set(OWN_WORDS)
        assert not new, f"{model.__name__}: into OWN_WORDS of sharing/personal.py, or NOT_WORDS here"


def test_copies_of_one_visit_are_told_apart_and_never_mixed(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """New, the same, its continuation, another way: each is said, and only what is asked for is done."""
    here, session = tmp_path / "here", visit(tmp_path / "there")
    assert session.path is not None
    sent = tmp_path / "sent.toml"
    shutil.copy(session.path, sent)
    assert coach(here, capsys, "import", str(sent), "--look")[1].endswith("It is not here yet.\n")
    assert not (here / "sessions").exists()
    status, said = coach(here, capsys, "import", str(sent))
    assert status == 0
    assert "Its machine is not described here: the visit has its own description" in said
    (kept,) = (here / "sessions").glob("*.toml")
    assert read(kept) == read(sent)
    assert "holds exactly this copy" in coach(here, capsys, "import", str(sent))[1]

    session.note("went on there")
    shutil.copy(session.path, sent)
    before = kept.read_bytes()
    status, said = coach(here, capsys, "import", str(sent))
    assert (status, kept.read_bytes()) == (2, before)
    assert "goes on after its entry 9 with 1 more" in said
    assert "--continue" in said
    assert coach(here, capsys, "import", str(sent), "--continue")[0] == 0
    assert read(kept).events == session.events
    session.undo()
    Session.resume(kept).note("and another here")
    shutil.copy(session.path, sent)
    before = kept.read_bytes()
    status, said = coach(here, capsys, "import", str(sent))
    assert status == 0
    assert "Both agree up to entry 10; after that 1 more here, 1 more in this copy." in said
    assert kept.read_bytes() == before
    titles = sorted(doc.title for doc in stored(here).values())
    assert titles == ["Before Anna came", "Before Anna came (other copy)"]
    assert "Nothing new" in coach(here, capsys, "import", str(sent))[1]
    assert len(stored(here)) == 2
    session.undo()
    shutil.copy(session.path, sent)
    Session.resume(next(path for path in (here / "sessions").glob("*.toml") if path != kept)).note("a third way")
    assert coach(here, capsys, "import", str(sent))[0] == 0
    assert sorted(doc.title for doc in stored(here).values())[1:] == [
        "Before Anna came (other copy 2)",
        "Before Anna came (other copy)",
    ]


def test_a_copy_without_names_is_known_and_not_mixed(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """It is of the same visit; going on with it would change the names that are here, and is refused."""
    session = visit(tmp_path / "here")
    assert session.path is not None
    mine = read(session.path)
    bare = without(mine, "name", "note")
    how = relation(mine, bare)
    assert how is not None
    assert (how.kind, how.word_for_word) == ("same", False)
    sent = tmp_path / "sent.toml"
    longer = Session(bare)
    longer.note("seen by the service")
    longer.save(sent)
    status, said = coach(tmp_path / "here", capsys, "import", str(sent), "--continue")
    assert status == 2
    assert "names or notes were left out" in said
    assert read(session.path) == mine
    assert relation(mine, mine.model_copy(update={"created": mine.created.replace(year=2020)})) is None


BROKEN = {
    "newer": ('schema = 99\ntitle = "x"\n', f"a newer coach (schema 99, this one knows {SCHEMA}); update the coach"),
    "machine": ("MACHINE", "this is the description of a machine, not the file of a visit"),
    "log": ('schema = 1\nmachine = "x"\nevents = []\n', "this is a machine's log of upkeep, not the file of a visit"),
    "page": ("<!DOCTYPE html>\n<p>x</p>\n", "line 1"),
    "nothing": ("", "this is not a session file"),
}


@pytest.mark.parametrize("kind", BROKEN)
def test_anything_else_is_refused_in_a_sentence(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], kind: str
) -> None:
    """Named with its path and what it is; it stays as it was, and nothing is kept."""
    text, expected = BROKEN[kind]
    sent = tmp_path / "sent.toml"
    if text == "MACHINE":
        Machine.model_validate(machine_table()).save(sent)
    else:
        sent.write_text(text, encoding="utf-8")
    before = sent.read_bytes()
    status, said = coach(tmp_path / "here", capsys, "import", str(sent))
    assert status == 2
    assert expected in said
    assert str(sent) in said
    assert sent.read_bytes() == before
    assert not (tmp_path / "here").exists()


def test_hostile_words_are_shown_and_command_nothing(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A note that would clear the screen, a name with slashes that would leave the folder: shown, kept inside."""
    machine = Machine.model_validate(machine_table(name="../../etc/passwd")).model_dump()
    session = Session.start(Machine.model_validate(machine), title="=1+1 <b>🙂")
    session.note("\x1b[2J\u202egone" + "x" * 300)
    sent = tmp_path / "sent.toml"
    session.save(sent)
    status, said = coach(tmp_path / "here", capsys, "import", str(sent))
    assert status == 0
    assert "\x1b" not in said
    assert "=1+1 <b>🙂" in said
    (kept,) = (tmp_path / "here").rglob("*.toml")
    assert kept.parent == tmp_path / "here" / "sessions"
    listed = coach(tmp_path / "here", capsys, "share")[1]
    assert not {"\x1b", "\u202e"} & set(listed)
    assert "x" * 300 in listed
