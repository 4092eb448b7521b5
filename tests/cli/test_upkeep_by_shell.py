"""Upkeep in the shell: what is due, what to do, done, how often, taken back."""

import json
import os
import re
from datetime import date, datetime, timedelta
from pathlib import Path

import pytest
from shellside import NEW, Shell

from coach import Session
from coach.upkeep.items import ITEMS

TODAY = date.today()
CARE = ("care", "Shed laser")


@pytest.fixture
def kept(shell: Shell) -> Shell:
    """A shell with one machine."""
    shell.ok(*NEW)
    return shell


def files_in(folder: Path) -> dict[str, str]:
    return {str(path): path.read_text() for path in folder.rglob("*.toml")}


def machine(kept: Shell, *more: str) -> dict:
    """What `due --json` says of the machine."""
    (told,) = json.loads(kept.ok("due", *more, "--json"))["machines"]
    return told


def test_done_today_is_not_due_and_taken_back_is(kept: Shell) -> None:
    """From a new machine, of which nothing is due, to due again and back, in words and in JSON."""
    assert f"Shed laser: nothing is due.\n  {len(ITEMS)} items not noted yet" in kept.ok("due")
    assert machine(kept)["due"] == []
    path, then = kept.folder / "machines" / "shed-laser.toml", (datetime.now() - timedelta(days=3)).timestamp()
    os.utime(path, (then, then))
    assert "lens look: due for 2 days" in kept.ok("due")
    assert kept.ok(*CARE, "lens", "--done").strip() == f"Done on {TODAY}: lens look; due again in 1 day."
    assert "lens" not in machine(kept)["due"]
    assert kept.ok(*CARE, "--undo").strip() == f"Taken back: Done on {TODAY}: lens look."
    assert "lens" in machine(kept, "Shed laser")["due"]


def test_json_says_all_that_is_known_and_null_where_nothing_is(kept: Shell) -> None:
    """Every documented key; figures of what was done, none of what was never noted."""
    kept.ok(*CARE, "rails", "--done", "--on", "2026-03-01", "--hours", "100")
    kept.ok(*CARE, "--hours", "130,5", "--on", "2026-03-20")
    told = machine(kept)
    assert set(told) == {"name", "log", "hours", "used", "due", "items", "check_up", "problem", "line"}
    assert (told["hours"], told["used"], told["problem"]) == (130.5, 30.5, None)
    items = {item["name"]: item for item in told["items"]}
    rails = items["rails"]
    assert (rails["state"], rails["last"], rails["by"]) == ("due", "2026-03-01", "log")
    assert (rails["due_on"], rails["days_over"]) == ("2026-03-08", (TODAY - date(2026, 3, 8)).days)
    assert rails["hours_over"] == -9.5
    assert {items["lens"][key] for key in ("last", "by", "due_on", "days_over", "hours_over")} == {None}
    assert json.loads(kept.ok(*CARE, "--json")) == told


def test_a_new_counter_is_said_so(kept: Shell) -> None:
    """What runs backwards is refused with how to say it; said so, it goes on."""
    kept.ok(*CARE, "--hours", "500", "--on", "2026-03-01")
    refused = kept(*CARE, "--hours", "3", "--on", "2026-03-02")
    assert refused.status == 2
    assert 'Expected at least 500; where the counter is a new one, "new 3"' in refused.err
    assert (
        kept.ok(*CARE, "--hours", "new 3", "--on", "2026-03-02").strip() == "Counter on 2026-03-02: 3 h, a new one."
    )
    assert (machine(kept)["hours"], machine(kept)["used"]) == (3.0, 0.0)


def test_an_item_is_told_with_its_cautions(kept: Shell) -> None:
    """What to do, how often and by whose word, isolation before hands go in, and the three that always stand."""
    told = kept.ok(*CARE, "filter")
    assert "about 1.5 bar, well away from boards" in told
    assert "every 30 days (common practice; your manual first)" in told
    assert told.index("Safety: Blow with") < told.index("supply isolated") < told.index("Safety: Local rules")


def test_what_a_visit_did_is_due_no_more(kept: Shell) -> None:
    """A lens checked in a session counts, and is said to be the visit's."""
    path = Path(kept.ok("new-session", "Shed laser").strip())
    Session.resume(path).check("lens", "good")
    assert f"lens: lens look; every day; done {TODAY} in a visit; in 1 day" in kept.ok(*CARE)


def test_a_check_up_says_whether_the_beam_is_where_it_was(kept: Shell) -> None:
    """Against the visit that was finished: nothing without one, then as it was, then where it moved."""
    first = Session.resume(Path(kept.ok("new-session", "Shed laser").strip()))
    stations = [station.name for station in first.machine.stations]
    for name in stations:
        first.mark(name, u=0.3, v=-0.2)
    first.finish()
    text = first.path.read_text()
    first.path.write_text(re.sub(r"created = .*", "created = 2026-01-02T18:00:00+00:00", text))
    assert machine(kept)["check_up"] is None
    second = Session.resume(Path(kept.ok("new-session", "Shed laser", "--title", "check-up").strip()))
    for name in stations:
        second.mark(name, u=0.4, v=-0.2)
    told = machine(kept)["check_up"]
    assert (told["verdict"], told["since"], told["missing"]) == ("as it was", f"{TODAY}", [])
    assert "Last: The beam is as it was" in kept.ok(*CARE, "check-up")
    second.mark(stations[0], u=2.9, v=-0.2)
    second.mark(stations[1], u=2.1, v=-0.2)
    moved = machine(kept)["check_up"]
    assert moved["verdict"] == "moved"
    assert [each["right"] for each in moved["stations"][:2]] == [2.6, 1.8]
    assert f"{stations[0]} 2.6 mm right (± 0.7 mm); {stations[1]} 1.8 mm right" in kept.ok(*CARE, "check-up")


def test_a_broken_log_stands_beside_the_others_and_is_never_written_over(kept: Shell) -> None:
    """Listed with its reason; asked for by name it is a failure; an entry is refused; `check` names its line."""
    kept.ok("new-machine", "Other", "--width", "600", "--depth", "400", "--side", "left")
    kept.ok(*CARE, "lens", "--done")
    log = kept.folder / "upkeep" / "shed-laser.toml"
    assert kept.ok("check", str(log)).strip().endswith("a valid upkeep file (Shed laser)")
    log.write_text(log.read_text().replace('"lens"', '"lenses"'))
    before = log.read_text()
    listed = kept.ok("due")
    assert "Shed laser: BROKEN" in listed
    assert "Other: nothing is due" in listed
    for call in (("due", "Shed laser"), (*CARE, "lens", "--done"), (*CARE,)):
        said = kept(*call)
        assert (said.status, said.out) == (2, "")
        assert "shed-laser.toml, line" in said.err
    assert "line" in kept("check", str(log)).err
    assert log.read_text() == before


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("gears",), "There is no upkeep item 'gears'"),
        (("lens", "--done", "--undo"), "one at a time"),
        (("lens", "--undo"), "--undo without an item"),
        (("lens", "--hours", "5"), "or --done beside it"),
        (("--done",), "No item is named"),
        (("--every-days", "3"), "No item is named"),
        (("--note", "x"), "--note says nothing here"),
        (("lens", "--done", "--hours", "new 0"), "A new counter is entered by itself"),
        (("lens", "--done", "--json"), "--json says nothing here"),
        (("lens", "--leave-out", "--every-days", "3"), "--leave-out alone"),
        (("lens", "--done", "--on", "1 March"), "'1 March' is no day"),
        (("lens", "--done", "--on", f"{TODAY + timedelta(days=1)}"), "lies in the future"),
        (("lens", "--every-days", "2,5"), "no whole number of days"),
        (("lens", "--every-days", "0"), "greater than or equal to 1"),
        (("--hours", "1,234"), "could mean 1234 or 1.234"),
        (("--hours", "=5"), "'=5'"),
    ],
)
def test_slips_are_one_sentence_and_write_nothing(kept: Shell, words: tuple[str, ...], said: str) -> None:
    """Status 2, nothing on standard output, no file changed."""
    before = files_in(kept.folder)
    slip = kept(*CARE, *words)
    assert (slip.status, slip.out) == (2, "")
    assert said in slip.err
    assert slip.err.count("\n") == 1
    assert files_in(kept.folder) == before
