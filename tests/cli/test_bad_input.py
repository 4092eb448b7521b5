"""What cannot be used: status 2, one sentence on standard error, nothing on standard output, no file changed."""

from pathlib import Path

import pytest
from shellside import NEW, Said, Shell

from coach import Session
from coach.session.document import SCHEMA

SIZE = ("new-machine", "Second", "--width", "600", "--depth", "400", "--side", "left")
AT_MIDDLE = ("mark", "last", "middle")

BAD = {
    "an action in lines that asks nothing": (("--plain", "list"), "asks nothing"),
    "answers to nothing that is asked": (("--answers", "x", "list"), "asks nothing"),
    "nearly an action": (("lst",), "Did you mean list?"),
    "an empty action": (("",), "empty word"),
    "a note without words": (("note", "last", "--", "--"), "The note is empty"),
    "nothing to check": (("check", ""), "No file is named"),
    "a folder to check": (("check", "/"), "/ is a folder"),
    "text where a number belongs": ((*AT_MIDDLE, "--u", "wide", "--v", "0"), "'wide'"),
    "point and comma": ((*AT_MIDDLE, "--u", "1.234,5", "--v", "0"), "more than one point or comma"),
    "thousands or decimals": ((*AT_MIDDLE, "--u", "1,234", "--v", "0"), "could mean 1234 or 1.234"),
    "infinite": ((*AT_MIDDLE, "--u", "inf", "--v", "0"), "'inf'"),
    "minus infinite": ((*AT_MIDDLE, "--u=-inf", "--v", "0"), "'-inf'"),
    "not a number": ((*AT_MIDDLE, "--u", "nan", "--v", "0"), "'nan'"),
    "larger than any tape": ((*AT_MIDDLE, "--u", "900", "--v", "0"), "at most 200 mm"),
    "half a reading": ((*AT_MIDDLE, "--u", "1"), "--v is missing"),
    "no reading": (AT_MIDDLE, "No reading was given"),
    "another way's tool": ((*AT_MIDDLE, "--u", "1", "--v", "1", "--tool", "ruler"), "more than one way"),
    "a tool alone": ((*AT_MIDDLE, "--tool", "ruler"), "No reading was given"),
    "two readings": ((*AT_MIDDLE, "--u", "1", "--v", "1", "--distance", "1", "--clock", "3"), "more than one way"),
    "doubt of nothing": ((*AT_MIDDLE, "--u", "1", "--v", "1", "--sd", "0"), "0.01 to 100"),
    "no such hour": ((*AT_MIDDLE, "--distance", "1", "--clock", "13"), "1 to 12"),
    "half a place": (("miss", "last", "P1", "--x", "300"), "both"),
    "outside the travel": (("miss", "last", "P1", "--x", "700", "--y", "0"), "0 to 600 mm"),
    "gaps that do not add up": (
        (*AT_MIDDLE, "--left", "4,2", "--right-gap", "8,0", "--top", "9", "--bottom", "9,1"),
        "do not add up",
    ),
    "unknown station": (("mark", "last", "nowhere", "--u", "1", "--v", "1"), "'nowhere'"),
    "unknown session": (("undo", "elsewhere"), "'elsewhere'"),
    "unknown machine": (("new-session", "Other"), "'Other'"),
    "unknown screw": (("turn", "last", "1", "Z=1/8"), "one of: B, C"),
    "unknown mirror": (("turn", "last", "4", "B=1/8"), "no mirror '4'"),
    "pivot turned": (("turn", "last", "1", "A=1/8"), "pivot"),
    "one turn and a half": (("turn", "last", "1", "B=1.5"), "more than one turn"),
    "sign against word": (("turn", "last", "1", "B=-1/8 cw"), "contradict"),
    "no amount": (("turn", "last", "1", "B"), "which screw and how far"),
    "a screw twice": (("turn", "last", "1", "B=1/8", "B=1/8"), "twice"),
    "nothing turned": (("turn", "last", "1", "B=0"), "No screw was turned"),
    "nothing moved": (("shift", "last", "tube"), "Nothing was moved"),
    "unknown part": (("shift", "last", "roof", "--up", "1"), "'roof'"),
    "a useless way": (("shift", "last", "mirror 2", "--up", "1"), "does not centre the beam"),
    "refusing a part that is none": (("refuse", "last", "roof"), "There is no part 'roof' to move"),
    "refusing a way that does nothing": (
        ("refuse", "last", "tube", "--axis", "right"),
        "'right' does not centre the beam",
    ),
    "a refusal that nobody made": (
        ("refuse", "last", "head", "--take-back"),
        "Nobody said in this session that the",
    ),
    "mended where nothing stopped": (("mended", "last"), "The coach has not stopped: it asks for a pulse"),
    "the best where nothing stopped": (("best", "last"), "has not stopped"),
    "bumped what is none": (("disturbed", "last", "roof"), "mirror 3"),
    "a part twice": ((*SIZE, "--moves", "tube no; tube up 2"), "The tube is named twice"),
    "empty note": (("note", "last", " "), "empty"),
    "title too long": (("new-session", "Shed laser", "--title", "x" * 61), "60"),
    "machine twice": (NEW, "already"),
    "negative size": (("new-machine", "Second", "--width", "-600", "--depth", "400", "--side", "left"), "'-600'"),
    "no side": (("new-machine", "Second", "--width", "600", "--depth", "400"), "--side"),
    "three points on one line": (
        (*SIZE, "--points", "A pivot 0 0; B screw 10 10; C screw 20 20"),
        "mirror 1: the three points lie on one line",
    ),
    "two points": ((*SIZE, "--points", "A pivot 0 0; B screw 10 10"), "three points"),
    "a point without a number": ((*SIZE, "--points2", "A pivot 0 0; B screw x 10; C screw 0 9"), "X of point B"),
    "zero pitch": ((*SIZE, "--pitch", "0"), "'0' moves nothing"),
    "unknown thread": ((*SIZE, "--thread", "M7"), "'M7'"),
    "inches taken for millimetres": ((*SIZE, "--aperture", "0,7"), "17.8 mm"),
    "millimetres taken for inches": ((*SIZE, "--aperture", "18", "--unit", "in"), "18.0 mm"),
    "text in place of a seed": (("practice", "--seed", "x"), "'x'"),
    "unknown kind": (("practice", "--kind", "x"), "'x'"),
    "unknown action": (("align",), "'align'"),
    "unknown option": (("list", "--colour"), "--colour"),
    "shortened option": (("advise", "last", "--js"), "--js"),
    "unreadable bytes": (("note", "last", "\udcff"), "UTF-8"),
    "no such file": (("check", "nothing.toml"), "no such file"),
}


def contents(folder: Path) -> dict[str, bytes]:
    return {str(path): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def refused(said: Said, words: str) -> None:
    assert (said.status, said.out) == (2, "")
    assert said.err.count("\n") == 1
    assert words in said.err
    assert "Traceback" not in said.err


@pytest.mark.parametrize("case", BAD)
def test_one_sentence_and_no_file_changed(shell: Shell, case: str) -> None:
    """Every misuse is refused in one line that names it, before anything is written."""
    argv, words = BAD[case]
    shell.begun()
    before = contents(shell.folder)
    refused(shell(*argv), words)
    assert contents(shell.folder) == before


BROKEN_MACHINES = {
    "unknown key": ("[bed]\n", "[bed]\nheight = 3\n", "line 18: bed.height: this key is not known"),
    "misspelt word": ('drive = "push"', 'drive = "puhs"', "mounts.0.drive"),
    "negative size": ("width = 600.0", "width = -600.0", "line 18: bed.width"),
    "zero pitch": ('thread = "M4"', "pitch = 0", "pitch"),
    "cut short": ("[path]", "[path", "not valid TOML"),
}


@pytest.mark.parametrize("case", BROKEN_MACHINES)
def test_a_broken_machine_is_refused_with_its_line(shell: Shell, case: str) -> None:
    """`check` and `new-session` tell what is wrong, `list` shows it beside the rest; the file stays as it is."""
    old, new, words = BROKEN_MACHINES[case]
    shell.ok(*NEW)
    path = shell.folder / "machines" / "shed-laser.toml"
    text = path.read_text()
    assert old in text
    path.write_text(text.replace(old, new))
    broken = path.read_bytes()
    for argv in (("check", str(path)), ("new-session", "Shed laser")):
        said = shell(*argv)
        assert (said.status, said.out) == (2, "")
        assert words in said.err
        assert f"{path}, line " in said.err
    assert f"BROKEN {path}, line " in shell.ok("list")
    assert path.read_bytes() == broken


BROKEN_SESSIONS = {
    "newer schema": (f"schema = {SCHEMA}", f"schema = {SCHEMA + 1}", "newer coach"),
    "no schema": (f"schema = {SCHEMA}\n", "", "'schema'"),
    "cut short": ('text = "dust"', 'text = "du', "not valid TOML"),
    "unknown kind of entry": ('kind = "note"', 'kind = "nota"', "nota"),
    "text in place of a number": ("id = 1", 'id = "one"', "events.0"),
}


@pytest.mark.parametrize("case", BROKEN_SESSIONS)
def test_a_broken_session_is_refused_by_every_action(shell: Shell, case: str) -> None:
    """No action reads on past a file it does not understand, and none writes to it."""
    old, new, words = BROKEN_SESSIONS[case]
    path = shell.begun()
    shell.ok("note", "last", "dust")
    path.write_text(path.read_text().replace(old, new))
    broken = path.read_bytes()
    for argv in (("check", str(path)), ("advise", "last"), ("note", "last", "more"), ("open", "--plain")):
        refused(shell(*argv), words)
    assert path.read_bytes() == broken


def test_a_file_in_place_of_the_folder(shell: Shell) -> None:
    """A data folder that is a file, or that holds a file where a folder belongs, is refused, not replaced."""
    shell.folder.mkdir()
    (shell.folder / "machines").write_text("mine")
    refused(shell(*NEW), "could not be written")
    assert (shell.folder / "machines").read_text() == "mine"
    refused(shell("list", "--data", str(shell.folder / "machines")), "not a folder")


def test_keep_keeps_an_unusual_opening(shell: Shell) -> None:
    """An opening below 3 mm is kept when the person says so; within 3 to 60 mm nobody asks."""
    assert "opening 2.5 mm" in shell.ok(*SIZE, "--aperture", "2,5", "--keep")
    shell.ok("new-machine", "Third", "--width", "600", "--depth", "400", "--side", "left", "--aperture", "60")


def test_a_shift_that_nobody_makes_is_asked_about(shell: Shell) -> None:
    """400 mm at once: nothing is entered but with --keep."""
    path = shell.begun()
    before = contents(shell.folder)
    refused(shell("shift", "last", "tube", "--up", "400"), "at most 20 mm at once")
    assert "--keep" in shell("shift", "last", "tube", "--up=-21").err
    assert contents(shell.folder) == before
    shell.ok("shift", "last", "tube", "--up", "400", "--keep")
    assert len(Session.load(path).events) == 1
