"""A session entered action by action."""

import json
from pathlib import Path

import pytest
from shellside import Shell

from coach import Machine, Session
from coach.errors import Unwritable
from coach.steps.table import cautions_for

FAR = ("new-machine", "Far laser", "--width", "600", "--depth", "400", "--side", "right", "--tape-radius", "6")
STATIONS = ("back-left", "back-right", "middle", "front-right", "front-left")


def test_a_common_height_error_is_shifted_away_and_then_done(shell: Shell) -> None:
    """All marks 1.5 mm high: a height error no tilt cures; the tube goes down 1.5 mm or the head up (docs/model.md:
    tube up 1 → v +1, head up 1 → v −1, derived); marks on the middle afterwards end it."""
    shell.begun()
    for station in STATIONS:
        shell.ok("mark", "last", station, "--u", "0", "--v", "1,5")
    advice = json.loads(shell.ok("advise", "last", "--json"))
    assert advice["kind"] == "shift"
    assert advice["shift"]["part"] == "head"  # of the tube nobody said that it moves
    assert advice["shift"]["up"] == pytest.approx(1.5, abs=0.15)
    assert advice["expected_when"] == "after the adjustment"
    assert all(abs(mark["v"]) < 0.35 for mark in advice["expected"])
    part, up = advice["shift"]["part"], str(advice["shift"]["up"])
    shell.ok("shift", "last", part, "--up", up)
    for station in STATIONS:
        shell.ok("mark", "last", station, "--u", "0,1", "--v", "-0,1")
    assert json.loads(shell.ok("advise", "last", "--json"))["kind"] == "done"


def test_advice_says_action_reason_doubt_marks_and_both_safety_sentences(shell: Shell) -> None:
    """The plain advice for the first pulse is whole, and names the standing cautions (design: house rule 1)."""
    shell.begun()
    said = shell.ok("advise", "last")
    for words in ("SHOOT", "Why:", "Now:", "Marks to expect", "give or take", "never hold the fire button"):
        assert words in said
    assert "Watch the tape" in said
    assert "Local rules, the machine's manual and licensed practice come first." in said


def test_json_keys_of_advice_stay(shell: Shell) -> None:
    """The documented keys, no more and no fewer, and nothing but JSON on standard output."""
    shell.begun()
    advice = json.loads(shell.ok("advise", "last", "--json"))
    assert set(advice) == {
        "session", "kind", "why", "stations", "turns", "shift", "cause", "look_at", "tolerance", "now", "then",
        "expected", "expected_when", "left", "news", "do", "safety",
    }  # fmt: skip
    assert set(advice["now"]) == {"chance", "worst", "worst_high"}
    assert set(advice["expected"][0]) == {"station", "x", "y", "target", "u", "v", "sd"}


@pytest.mark.parametrize(
    ("typed", "u", "v", "sd"),
    [
        # 1/16 in = 1.5875 mm (1 in = 25.4 mm exactly: NBS Circular 572 addendum, read)
        (["--u", "-0,4", "--v", "1/16 in"], -0.4, 1.5875, None),
        (["--u", "-.04", "--v", "-1/32", "--unit", "in"], -1.016, -0.79375, None),
        (["--right", "-1", "--up", "2", "--face", "sticky"], 1.0, 2.0, 0.2128),
        # 9 o'clock is left; the doubt is the larger of the tool's and of half an hour across (derived)
        (["--distance", "2", "--clock", "9"], -2.0, 0.0, 0.3023),
        # R 9, a mark of radius 3 at (−1, 0): left 9 − 1 − 3, right 9 + 1 − 3, top and bottom √(81 − 1) − 3 (derived)
        (["--left", "5", "--right-gap", "7", "--top", "5,94", "--bottom", "5.94"], -1.0, 0.0, None),
        (["--left", "8", "--right-gap", "10", "--top", "8,94", "--to", "centre"], -1.0, 0.0, None),
        (["--u=1", "--v=1", "--sd", "0,5"], 1.0, 1.0, 0.5),
    ],
)
def test_each_way_to_enter_a_mark(shell: Shell, typed: list[str], u: float, v: float, sd: float | None) -> None:
    """Every way gives u to the right and v up on the outer face, and what was typed is in the file."""
    path = shell.begun()
    shell.ok("mark", "last", "back-left", *typed)
    mark = Session.load(path).events[-1]
    assert (mark.kind, mark.u, mark.v) == ("mark", pytest.approx(u, abs=0.05), pytest.approx(v, abs=0.05))
    if sd is not None:
        assert mark.sd == pytest.approx(sd, abs=0.001)
    assert mark.typed["method"] in {"offsets", "gaps", "clock"}


def test_a_plain_offset_leaves_its_doubt_unsaid(shell: Shell) -> None:
    """--u and --v carry the usual doubt of a reading, whatever that is: it is not written into the file, so that it
    stays the coach's; a doubt that was said, or another way to measure, is written."""
    path = shell.begun()
    shell.ok("mark", "last", "back-left", "--u", "0,5", "--v", "0,5")
    assert Session.load(path).events[-1].sd is None
    assert "sd =" not in path.read_text(encoding="utf-8").partition("[[events]]")[2]
    shell.ok("mark", "last", "middle", "--u", "0,5", "--v", "0,5", "--sd", "0,25")
    assert Session.load(path).events[-1].sd == 0.25
    shell.ok("mark", "last", "front-left", "--right", "0,5", "--up", "0,5")
    assert Session.load(path).events[-1].sd is not None


def test_a_questioned_reading_is_refused_and_kept_only_on_demand(shell: Shell) -> None:
    """A mark outside the imprint is not entered; with --keep it is, as kept and with a wider doubt; with
    --looked-twice it counts in full."""
    path = shell.begun()
    before = path.read_bytes()
    said = shell("mark", "last", "back-left", "--u", "10", "--v", "0")
    assert said.status == 2
    assert "outside the imprint" in said.err
    assert "--keep" in said.err
    assert path.read_bytes() == before
    shell.ok("mark", "last", "back-left", "--u", "10", "--v", "0", "--keep")
    mark = Session.load(path).events[-1]
    assert mark.kept
    assert mark.sd > 0.25
    shell.ok("mark", "last", "back-right", "--u", "10", "--v", "0", "--looked-twice")
    mark = Session.load(path).events[-1]
    assert (mark.kept, mark.sd) == (True, 0.25)  # the doubt of a plain offset, as it is


def test_turns_are_echoed_with_unit_and_direction(shell: Shell) -> None:
    """B an eighth counterclockwise and C a sixteenth clockwise: as entered, as stored, as echoed."""
    path = shell.begun()
    said = shell.ok("turn", "last", "1", "B=-1/8", "C=0,0625")
    assert "B 7.5 ticks (45°) counterclockwise" in said
    assert "C 3.8 ticks (22.5°) clockwise" in said
    assert Session.load(path).events[-1].screws == {"B": -0.125, "C": 0.0625}


def test_an_advised_point_needs_no_coordinates(shell: Shell) -> None:
    """Points that the coach has just advised can be named alone, with all that was advised: also a wide card."""
    shell.ok(*FAR, "--mirror1-gap", "500")
    path = Path(shell.ok("new-session", "Far laser").strip())
    shot = json.loads(shell.ok("advise", "last", "--json"))["stations"][0]
    shell.ok("miss", "last", shot["name"])
    miss = Session.load(path).events[-1]
    assert (miss.x, miss.y, miss.target) == (shot["x"], shot["y"], shot["target"])
    assert miss.wide
    assert shot["wide"]


def test_undo_note_lock_and_miss(shell: Shell) -> None:
    """Each is one entry; undo takes the last one back and says which, until nothing is left."""
    path = shell.begun()
    shell.ok("miss", "last", "front-right")
    shell.ok("lock", "last", "mirror 2")
    shell.ok("note", "last", "cleaned", "mirror", "1")
    assert [event.kind for event in Session.load(path).effective] == ["miss", "lock", "note"]
    for words in ("Note: cleaned mirror 1", "Lock nuts of mirror 2", "Missed the tape at front-right"):
        assert words in shell.ok("undo", "last")
    said = shell("undo", "last")
    assert said.status == 2
    assert "Nothing to undo" in said.err


def test_sessions_are_found_by_name_path_and_last(shell: Shell) -> None:
    """The same session by its name, its file and as the newest; a second session is then the newest."""
    first = shell.begun()
    for name in (first.stem, str(first), "last"):
        shell.ok("note", name, "x")
    second = Path(shell.ok("new-session", "Shed laser", "--title", "Other").strip())
    shell.ok("note", "last", "y")
    assert len(Session.load(first).events) == 3
    assert len(Session.load(second).events) == 1


def test_a_file_changed_behind_our_back_is_not_overwritten(shell: Shell) -> None:
    """Another program writes between reading and writing: the entry is refused and its work stands."""
    path = shell.begun()
    session = Session.resume(path)
    shell.ok("note", "last", "by the other")
    with pytest.raises(Unwritable, match=r"another program changed this file.* back to the list"):
        session.note("mine")
    assert [event.text for event in Session.load(path).events] == ["by the other"]


def test_learned_goes_back_to_the_stored_machine_and_only_there(shell: Shell) -> None:
    """After a turn and its marks --save writes the lessons into the profile and nothing else of it."""
    shell.begun()
    profile = shell.folder / "machines" / "shed-laser.toml"
    before = Machine.load(profile)
    assert "Nothing was learned" in shell.ok("learned", "last", "--save")
    assert Machine.load(profile) == before
    shell.ok("mark", "last", "middle", "--u", "0", "--v", "0")
    shell.ok("turn", "last", "1", "B=1/8")
    assert "screw B" in shell.ok("learned", "last")
    assert Machine.load(profile) == before
    shell.ok("learned", "last", "--save")
    after = Machine.load(profile)
    assert after.mount(1).learned is not None
    assert after.mount(2).learned is None
    bare = after.mount(1).model_copy(update={"learned": None})
    assert after.model_copy(update={"mounts": (bare, after.mount(2))}) == before


def test_a_move_beyond_what_was_said_is_entered_when_insisted_on(shell: Shell) -> None:
    """One sentence asks; --keep enters what was done; what is not known is not asked about."""
    shell.ok(
        "new-machine", "Shed", "--width", "600", "--depth", "400", "--side", "left", "--moves", "tube up 2 back 0"
    )
    shell.ok("new-session", "Shed")
    said = shell("shift", "last", "tube", "--up", "5")
    assert (said.status, said.out) == (2, "")
    assert "The tube was said to move up or down by 2.0 mm at the most, and this is 5.0 mm" in said.err
    assert "Moved the tube" in shell.ok("shift", "last", "tube", "--up", "5", "--keep")
    assert "not to move to the back or to the front at all" in shell("shift", "last", "tube", "--back", "1").err
    assert "Moved the mirror 1" in shell.ok("shift", "last", "mirror1", "--right", "9")


def test_a_part_that_was_refused_is_learned(shell: Shell) -> None:
    """Said without a turn, and written into the stored machine on demand."""
    path = shell.begun()
    session = Session.resume(path)
    session.refuse("tube", "up")
    assert "The tube up or down cannot be moved.\nNot kept" in shell.ok("learned", "last")
    assert "Kept in" in shell.ok("learned", "last", "--save")
    stored = Machine.load(shell.folder / "machines" / "shed-laser.toml")
    assert (stored.reach("tube", "up"), stored.reach("tube", "back")) == (0.0, None)


def test_a_pulse_advised_in_the_shell_says_key_out_and_fresh_tape_as_its_steps_do(shell: Shell) -> None:
    """Way, key out, tape, key in, key out: the words of the full screen's two steps, and the cautions of both."""
    shell.begun()
    said = shell.ok("advise", "last")
    for words in ("Do: Move:", "laser supply off, key out: fresh tape", "Hands out, key in.", "Then key out, before"):
        assert words in said, words
    for caution in (*cautions_for("go"), *cautions_for("pulse")):
        assert f"Safety: {caution.text}" in said


def test_turns_advised_in_the_shell_say_what_is_done_at_the_lock_nuts_as_the_screen_does(shell: Shell) -> None:
    """To be slackened before a screw is turned, finger-tight after it; at the end, to be tightened."""
    shell.begun()
    for station, u in zip(STATIONS, (0, 4, 2, 4, 0), strict=True):  # farther off the farther along leg 2
        shell.ok("mark", "last", station, "--u", str(u), "--v", "0", "--looked-twice")
    told, advice = shell.ok("advise", "last"), json.loads(shell.ok("advise", "last", "--json"))
    assert advice["kind"] == "turn"
    assert "Do: Key out." in told
    assert "nut finger-tight until all are tightened" in told
    for turn in advice["turns"]:
        for name in turn["screws"]:
            assert f"Do: Mirror {turn['mirror']}, screw {name}: Slacken its lock nut." in told
        shell.ok(
            "turn", "last", str(turn["mirror"]), *(f"{name}={amount}" for name, amount in turn["screws"].items())
        )
    for station in STATIONS * 2:
        shell.ok("mark", "last", station, "--u", "0,1", "--v", "0", "--looked-twice")
    assert "then a mark at each station" in shell.ok("advise", "last")
