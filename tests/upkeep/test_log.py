"""A machine's log as its owner uses it: done, due, hours of use, intervals, taken back, and all of it on disk."""

import os
from datetime import date, datetime, timedelta
from pathlib import Path

import pytest
from machines import make_machine

from coach import MachineLog
from coach.errors import InputError, NothingToUndo, OutOfReach, UnknownName, Unreadable, Unwritable
from coach.session.store import Store
from coach.upkeep.standing import standings

TODAY = date.today()
MARCH = date(2026, 3, 1)


def day(number: int) -> date:
    """A day of March 2026, on which nothing can lie in the future."""
    return MARCH + timedelta(days=number - 1)


def log_of(folder: Path) -> MachineLog:
    """The log of the machine of these tests, kept in that folder."""
    return MachineLog.open(make_machine(), folder)


def stands(log: MachineLog, name: str, today: date):
    """How one item stands."""
    return next(each for each in log.standing(today) if each.item.name == name)


# -- what is due ----------------------------------------------------------------------------------


def test_an_item_never_noted_is_counted_from_when_the_machine_was_described() -> None:
    """A new machine has nothing due; its daily look is on the next day, what is weekly in a week, with its figure."""
    since = day(1)
    told = {n: [e for e in standings((), (), day(n), since) if e.is_due] for n in (1, 2, 8, 31)}
    assert [[e.item.name for e in told[n]][:4] for n in (1, 2, 8)] == [
        [],
        ["lens"],
        ["lens", "optics", "rails", "grates"],
    ]
    assert {e.item.days for e in told[31]} == {1, 7, 30}
    late = told[31][0]
    assert (late.state, late.last, late.due_on, late.days_over) == ("due", None, day(2), 29)


def test_where_nobody_knows_since_when_nothing_is_due() -> None:
    """Not noted, and no day to count from: no figure is made up, and no alarm given."""
    log = MachineLog.start(make_machine())
    assert log.due(MARCH) == ()
    assert {(e.state, e.last, e.due_on, e.days_over, e.hours_over) for e in log.standing(MARCH)} == {
        ("never noted", None, None, None, None)
    }


def test_a_machine_is_known_since_its_profile_its_first_session_or_its_first_entry(tmp_path: Path) -> None:
    """Whichever tells of the earliest day: a profile is written anew each time that something was learned."""
    path = Store(tmp_path).save_machine(make_machine())
    assert log_of(tmp_path).since == TODAY
    then = (datetime.now() - timedelta(days=9)).timestamp()
    os.utime(path, (then, then))
    log = log_of(tmp_path)
    assert log.since == TODAY - timedelta(days=9)
    assert [e.item.name for e in log.due()] == ["lens", "optics", "rails", "grates"]


def test_due_on_the_very_day_its_interval_ends() -> None:
    """Weekly: done on the 1st, not due on the 7th, due on the 8th, three days late on the 11th."""
    log = MachineLog.start(make_machine())
    log.done("rails", on=day(1))
    told = [(stands(log, "rails", day(n)).state, stands(log, "rails", day(n)).days_over) for n in (7, 8, 11)]
    assert told == [("later", -1), ("due", 0), ("due", 3)]
    assert stands(log, "rails", day(8)).due_on == day(8)


def test_forty_hours_make_it_due_before_the_week_is_over() -> None:
    """Whichever comes first: by use after 40 h, counted from the reading at which it was done."""
    log = MachineLog.start(make_machine())
    log.done("grates", hours=100.0, on=day(1))
    log.count(139.0, on=day(3))
    assert (stands(log, "grates", day(3)).state, stands(log, "grates", day(3)).hours_over) == ("later", -1.0)
    log.count(140.0, on=day(4))
    assert (stands(log, "grates", day(4)).state, stands(log, "grates", day(4)).hours_over) == ("due", 0.0)
    assert stands(log, "grates", day(3)).state == "later"  # what was entered of later days tells nothing then


def test_what_was_used_later_on_the_same_day_counts() -> None:
    """Done in the morning at 100 h, 110 h in the evening: ten of its forty."""
    log = MachineLog.start(make_machine())
    log.done("grates", hours=100.0, on=day(1))
    log.count(110.0, on=day(1))
    assert stands(log, "grates", day(1)).hours_over == -30.0


def test_where_nobody_counted_hours_none_are_made_up() -> None:
    """Done without a reading, and none in the log: by days alone."""
    log = MachineLog.start(make_machine())
    log.done("grates", on=day(1))
    assert stands(log, "grates", day(3)).hours_over is None


def test_the_latest_by_its_interval_comes_first() -> None:
    """A daily look two days late before a weekly task three days late."""
    log = MachineLog.start(make_machine())
    log.done("rails", on=day(1))
    log.done("lens", on=day(8))
    assert [each.item.name for each in log.due(day(11))] == ["lens", "rails"]


def test_done_before_the_newest_time_changes_nothing() -> None:
    """Entered afterwards for an earlier day: the newest day counts."""
    log = MachineLog.start(make_machine())
    log.done("belts", on=day(20))
    log.done("belts", on=day(2))
    assert stands(log, "belts", day(21)).last == day(20)


# -- hours ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("hours", "on", "words"),
    [
        (99.0, 6, "run backwards: 99 on 2026-03-06, and on 2026-03-05 it showed 100. Expected at least 100"),
        (130.0, 7, "run backwards: 130 on 2026-03-07, and on 2026-03-10 it showed 120. Expected at most 120"),
        (110.0, 4, "run backwards: 110 on 2026-03-04, and on 2026-03-05 it showed 100. Expected at most 100"),
        (1200.0, 11, "more than the days between have. Expected a difference of at most 48 hours"),
    ],
)
def test_hours_that_cannot_be_are_refused_and_not_kept(hours: float, on: int, words: str) -> None:
    """Backwards, also between two readings; and more than 24 a day, which is a slip of a digit."""
    log = MachineLog.start(make_machine())
    log.count(100.0, on=day(5))
    log.count(120.0, on=day(10))
    before = log.events
    for enter in (lambda: log.count(hours, on=day(on)), lambda: log.done("rails", hours=hours, on=day(on))):
        with pytest.raises(OutOfReach) as refused:
            enter()
        assert words in str(refused.value)
    assert log.events == before


def test_a_new_counter_goes_on_from_the_old_one() -> None:
    """12 h on a new counter after 510 h on the old one: 10 + 12 − 0 hours of use, none of them negative."""
    log = MachineLog.start(make_machine())
    log.done("optics", hours=500.0, on=day(1))
    log.count(510.0, on=day(2))
    log.count(0.0, on=day(3), anew=True)
    log.count(12.0, on=day(4))
    assert (log.hours(day(4)), log.used(day(4))) == (12.0, 22.0)
    assert stands(log, "optics", day(4)).hours_over == 22.0 - 40.0


# -- slips ----------------------------------------------------------------------------------------


def test_slips_get_a_sentence_and_nothing_is_entered() -> None:
    """A day in the future, an item that is none, an interval that is none."""
    log = MachineLog.start(make_machine())
    tomorrow = TODAY + timedelta(days=1)
    for slip, kind, words in (
        (lambda: log.done("rails", on=tomorrow), InputError, "lies in the future. Expected"),
        (lambda: log.count(5.0, on=tomorrow), InputError, "lies in the future. Expected"),
        (lambda: log.done("gears"), UnknownName, "no upkeep item 'gears'. Expected one of: lens, optics"),
        (lambda: log.count(-1.0), InputError, "greater than or equal to 0"),
        (lambda: log.count(float("nan")), InputError, "finite"),
        (lambda: log.every("rails", days=0), InputError, "greater than or equal to 1"),
    ):
        with pytest.raises(kind, match=words.replace("(", r"\(")):
            slip()
    assert log.events == ()
    with pytest.raises(NothingToUndo):
        log.undo()


# -- intervals, taking back -----------------------------------------------------------------------


def test_intervals_are_the_machines_own() -> None:
    """Every 14 days from now on; an item without any is left out and never due; undo gives the usual one back."""
    log = MachineLog.start(make_machine())
    log.done("rails", on=day(1))
    log.every("rails", days=14)
    assert stands(log, "rails", day(10)).state == "later"
    assert stands(log, "rails", day(15)).state == "due"
    log.every("rails")
    log.every("hose")
    assert {stands(log, name, day(28)).state for name in ("rails", "hose")} == {"left out"}
    assert not {"rails", "hose"} & {each.item.name for each in log.due(day(28))}
    assert [log.undo().kind for _ in range(3)] == ["every"] * 3
    assert stands(log, "rails", day(10)).state == "due"


# -- on disk --------------------------------------------------------------------------------------


def test_every_entry_is_on_disk_before_the_method_returns(tmp_path: Path) -> None:
    """After each of them a log opened anew holds the same entries and tells the same."""
    log = log_of(tmp_path)
    assert not (tmp_path / "upkeep").exists()
    for act in (
        lambda: log.done("rails", hours=12.5, on=day(1), note='dry;  "squeaks" at X 300\n'),
        lambda: log.count(20.0, on=day(2)),
        lambda: log.every("belts", days=45, hours=200),
        lambda: log.done("belts", on=day(3)),
        lambda: log.undo(),
        lambda: log.every("hose"),
    ):
        act()
        again = log_of(tmp_path)
        assert again.events == log.events
        assert again.standing(day(9)) == log.standing(day(9))
    assert log.events[0].note == 'dry; "squeaks" at X 300'
    assert MachineLog.load(log.path).events == log.events


def test_two_programs_add_to_one_log(tmp_path: Path) -> None:
    """What another one entered meanwhile stays, and hours are checked against it."""
    one, other = log_of(tmp_path), log_of(tmp_path)
    one.count(100.0, on=day(1))
    other.done("hose", on=day(2))
    with pytest.raises(OutOfReach):
        one.count(99.0, on=day(3))
    assert [entry.kind for entry in one.events] == ["hours", "done"]
    assert log_of(tmp_path).events == one.events


def test_a_log_that_cannot_be_read_is_named_and_left_as_it_is(tmp_path: Path) -> None:
    """Neither opening it nor an entry of a log that was open before writes over it."""
    log = log_of(tmp_path)
    log.done("rails", on=day(1))
    broken = log.path.read_text() + "\nhalf = ["
    log.path.write_text(broken)
    with pytest.raises(Unreadable, match="not valid TOML"):
        log_of(tmp_path)
    with pytest.raises(Unreadable):
        log.done("hose", on=day(2))
    assert log.path.read_text() == broken


def test_what_cannot_be_written_was_not_entered(tmp_path: Path) -> None:
    """The folder is a file: one sentence, and the log holds nothing."""
    (tmp_path / "upkeep").write_text("in the way")
    log = log_of(tmp_path)
    with pytest.raises(Unwritable, match="could not be written"):
        log.done("rails", on=day(1))
    assert log.events == ()


HEAD = 'schema = 1\nmachine = "Shed laser"\n\n'
ENTRY = '[[events]]\nid = {id}\nat = 2026-03-09T18:00:00+01:00\nkind = "{kind}"\n{more}\n\n'


@pytest.mark.parametrize(
    ("text", "line", "words"),
    [
        ('machine = "Shed laser"\n', 1, "the key 'schema'"),
        (HEAD.replace("1", "9"), None, "newer coach (schema 9"),
        (HEAD + "intervall = 3\n", 4, "not known here"),
        (HEAD + ENTRY.format(id=1, kind="done", more='item = "gears"\non = 2026-03-09'), 8, "item"),
        (HEAD + ENTRY.format(id=1, kind="done", more='item = "hose"\non = 2026-03-19'), 4, "lies in the future"),
        (
            HEAD
            + ENTRY.format(id=1, kind="hours", more="hours = 20.0\non = 2026-03-08")
            + ENTRY.format(id=2, kind="hours", more="hours = 10.0\non = 2026-03-09"),
            11,
            "entry 2: The hours run backwards",
        ),
        (HEAD + ENTRY.format(id=1, kind="undo", more="takes_back = 7"), 4, "takes back entry 7"),
    ],
)
def test_slips_of_a_hand_edit_are_named_with_their_line(
    tmp_path: Path, text: str, line: int | None, words: str
) -> None:
    """Unknown keys, items and schemas, days in the future, hours that run backwards."""
    path = tmp_path / "log.toml"
    path.write_text(text)
    with pytest.raises(Unreadable) as refused:
        MachineLog.load(path)
    assert words in str(refused.value)
    assert refused.value.line == line
    assert path.read_text() == text
