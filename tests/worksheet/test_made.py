"""What is typed in afterwards is of the day on which it was made: said once, checked, and nothing else differs."""

from datetime import timedelta
from pathlib import Path

import pytest
from machines import make_machine

from coach.cli.main import main
from coach.errors import OutOfReach
from coach.session.events import Mark, Pulse
from coach.session.kept import now
from coach.session.session import Session

YESTERDAY = (now() - timedelta(days=1)).date()


def shell(folder: Path, *words: str) -> int:
    return main(["--data", str(folder), *words])


def begun(folder: Path, made: str) -> Path:
    """A session of that day on a stored machine."""
    make_machine().save(folder / "machines" / "shed-laser.toml")
    assert shell(folder, "new-session", "Shed laser", "--made", made) == 0
    return next((folder / "sessions").glob("*.toml"))


def test_a_mark_of_yesterday_differs_in_its_day_alone(tmp_path: Path) -> None:
    """The same mark with and without --made: the same event but for its time, and the day beside what was typed."""
    path = begun(tmp_path, "yesterday")
    marked = ("mark", path.stem, "middle", "--u", "1,5", "--v", "-0,5", "--ms", "70", "--width", "1,8")
    assert shell(tmp_path, *marked) == 0
    assert shell(tmp_path, *marked, "--made", "yesterday") == 0
    assert shell(tmp_path, "nothing", path.stem, "front-left", "--made", YESTERDAY.isoformat()) == 0
    session = Session.load(path)
    assert session.created.date() == YESTERDAY
    _, plain, typed_in, nothing = session.events
    assert isinstance(plain, Mark)
    assert isinstance(nothing, Pulse)
    assert typed_in == plain.model_copy(
        update={"id": 3, "at": typed_in.at, "typed": {**plain.typed, "made": YESTERDAY.isoformat()}}
    )
    assert typed_in.at.date() == nothing.at.date() == YESTERDAY
    assert plain.at.date() == now().date()
    assert session.belief.round_sightings[0].u == session.belief.round_sightings[1].u


@pytest.mark.parametrize(
    ("day", "said"),
    [
        ("2199-01-01", "2199-01-01 lies ahead. Expected"),
        ("2020-01-01", "2020-01-01 lies before this session"),
        ("31.12.", "'31.12.' is no day. Expected year-month-day, today or yesterday."),
        ("yesterday", "lies before the last adjustment"),
        ("today", "may belong to another session than the one worked on last. Expected the session's name."),
    ],
)
def test_a_day_that_cannot_be_is_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], day: str, said: str
) -> None:
    """One sentence, and nothing is entered: ahead, before the session, no day, before screws were turned."""
    path = begun(tmp_path, "yesterday")
    assert shell(tmp_path, "turn", "last", "1", "B=0.1") == 0
    before = path.read_bytes()
    session = "last" if day == "today" else path.stem
    assert shell(tmp_path, "mark", session, "middle", "--u", "1", "--v", "1", "--made", day) == 2
    assert said in capsys.readouterr().err
    assert path.read_bytes() == before


def test_the_interface_checks_the_day_too() -> None:
    """Of a session that lies ahead, and of a mark from before it."""
    machine = make_machine()
    with pytest.raises(OutOfReach, match="lies ahead"):
        Session.start(machine, created=now() + timedelta(days=2))
    with pytest.raises(OutOfReach, match="lies before this session"):
        Session.start(machine).mark("middle", u=0.0, v=0.0, at=now() - timedelta(days=1))
