"""Cuts from the shell: entered, refused, read, and kept once a check ended well."""

import json

import pytest
from machines import make_machine
from shellside import Shell
from visiting import mark_until_done

from coach.session.baselines import load, path_of
from coach.session.session import Session

STATIONS = ("back-left", "back-right", "middle", "front-right", "front-left")
SHEET = ("--material", "ply 6 mm, lot 3", "--power", "60")


def test_from_three_stations_on_it_is_said_how_it_cuts(shell: Shell) -> None:
    """Open ends are null; the word needs something to stand beside; later stations take sheet and power as before."""
    path = shell.begun()
    shell.ok("cut", "last", "back-left", "--fastest", "18", "--next", "19,8", *SHEET)
    two = json.loads(shell.ok("cut", "last", "middle", "--fastest", "18", "--json"))
    assert two == {"stations": {"back-left": {"low": 18.0, "high": 19.8}, "middle": {"low": 18.0, "high": None}}}
    assert "Too few stations" in shell("cuts", "last").err
    shell.ok("cut", "last", "front-right", "--next", "9")
    read = json.loads(shell.ok("cuts", "last", "--json"))
    assert read["stations"]["front-right"] == {"low": None, "high": 9.0}
    assert read["uniformity"][2] < 0.6
    assert (read["change"], read["worst"], read["again"], read["word"]) == (None, None, "", "not known")
    assert {event.power for event in Session.load(path).events} == {60.0}


def test_a_baseline_that_cannot_be_read_keeps_no_cut_from_being_entered(shell: Shell) -> None:
    """It is told, and left as it is; what fell through just now is on disk."""
    path = shell.begun()
    kept = path_of(shell.folder, "Shed laser")
    kept.parent.mkdir()
    kept.write_text("schema = 99\n")
    said = shell("cut", "last", "middle", "--fastest", "18", "--next", "20", *SHEET)
    assert said.status == 0
    assert str(kept) in said.err
    assert [event.kind for event in Session.load(path).events] == ["cut"]
    assert kept.read_text() == "schema = 99\n"


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("--fastest", "20", "--next", "18"), "order is not that of the lines"),
        ((), "No speed was given"),
        (("--fastest", "18", "--power", "120"), "120"),
        (("--fastest", "eighteen"), "eighteen"),
        (("--fastest", "18", "--next", "20", "--material", "PVC 3 mm"), "never cut"),
        (("--fastest", "18", "--next", "20", "--material", "ply 6 mm, lot 4"), "another batch (lot 4, before lot 3)"),
    ],
)
def test_what_cannot_be_is_refused(shell: Shell, arguments: tuple[str, ...], said: str) -> None:
    """One sentence, status 2, nothing entered."""
    path = shell.begun()
    shell.ok("cut", "last", "back-left", "--fastest", "18", "--next", "20", *SHEET)
    refused = shell("cut", "last", "middle", *arguments)
    assert (refused.status, refused.out) == (2, "")
    assert said in refused.err
    assert len(Session.load(path).events) == 1


def test_a_good_check_is_kept_when_asked_and_stands_beside_the_next(shell: Shell) -> None:
    """Once only: nothing that is kept is replaced; the next session's cuts have it beside them."""
    path = shell.begun()
    session = Session.start(make_machine())
    mark_until_done(session)
    session.save(path)
    for name in STATIONS:
        shell.ok("cut", "last", name, "--fastest", "18", "--next", "19.8", *SHEET)
    shell.ok("cuts", "last", "--keep")
    assert len(load(shell.folder, "Shed laser").cuts) == 1
    assert "a baseline of this sheet is in" in shell("cuts", "last", "--keep").err
    shell.ok("new-session", "Shed laser")
    for name in STATIONS:
        shell.ok("cut", "last", name, "--fastest", "9", "--next", "9.9", *SHEET)
    assert shell.ok("cuts", "last").startswith("Cuts as it did: no; worst station ")
    read = json.loads(shell.ok("cuts", "last", "--json"))
    assert read["word"] == "no"
    assert read["worst"][0] < 0.5 < read["worst"][2]
    assert "No reason" in shell("cuts", "last", "--new-baseline", " ").err
    assert "stays in the record: new tube." in shell.ok("cuts", "last", "--new-baseline", "new tube")
    kept = load(shell.folder, "Shed laser")
    assert [limit.fastest for limit in kept.cuts[0].stations] == [9.0] * len(STATIONS)
    assert [(old.why, old.stations[0].fastest) for old in kept.replaced] == [("new tube", 18.0)]
    assert json.loads(shell.ok("cuts", "last", "--json"))["word"] == "yes"
