"""How long still, at this person's own pace: from constructed times, without waiting for any."""

from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from machines import make_machine

from coach import Session
from coach.advice.advice import Left
from coach.plain.step_lines import where_lines
from coach.session.document import Document
from coach.session.events import EVENT, Event
from coach.shown import IN_MM
from coach.steps.beam_stages import BEAM_STAGES as STAGES
from coach.steps.pace import Pace, TimeLeft, minutes_words, pace, time_left
from coach.steps.standing import remaining_words
from coach.steps.step import Standing

BEGIN = datetime(2026, 3, 3, 19, 0, tzinfo=UTC)
PLACE = {"station": "middle", "x": 300.0, "y": 200.0}
FIELDS: dict[str, dict[str, Any]] = {
    "gate": {"name": "rules"},
    "arrive": PLACE,
    "pulse": {**PLACE, "outcome": "mark"},
    "mark": {**PLACE, "u": 0.5, "v": 0.1},
    "miss": PLACE,
    "turn": {"mirror": 1, "screws": {"B": 0.125}},
    "shift": {"part": "tube", "up": 1.0},
    "lock": {"mirror": 1},
    "note": {"text": "tea"},
}


def told(*story: tuple[float, str] | tuple[float, str, int]) -> tuple[Event, ...]:
    """The program opened, then events from (minutes since the one before, kind), for an undo which it takes back."""
    events, at = [], BEGIN
    for number, (minutes, kind, *more) in enumerate(((0.0, "opened"), *story)):
        at += timedelta(minutes=minutes)
        fields = {"takes_back": more[0] + 1} if kind == "undo" else FIELDS.get(kind, {})
        events.append(EVENT.validate_python({"id": number + 1, "at": at, "kind": kind, **fields}))
    return tuple(events)


PULSE = ((1, "arrive"), (0.5, "pulse"), (1, "mark"))
"""Two and a half minutes, the way there included."""
SLOW = ((2, "arrive"), (1, "pulse"), (4, "mark"))
"""Seven minutes."""


def test_the_median_pulse_and_the_median_round() -> None:
    """Two pulses of 2.5 minutes and one of 7; a round of 3 + 1 + 2 minutes, its turns together: all by hand."""
    events = told(*PULSE, *SLOW, (2, "plan"), (1, "turn"), (1, "turn"), (2, "shift"), *PULSE)
    assert pace(events) == Pace(pulse=2.5, adjusting=6.0, pulses=3)


def test_a_miss_ends_a_pulse_too() -> None:
    """What left no mark took its time all the same."""
    assert pace(told((1, "arrive"), (1, "pulse"), (2, "miss"))) == Pace(4.0, None, 1)


def test_what_is_read_before_the_job_is_no_pace() -> None:
    """Opening and gates are left out: the first pulse is timed from the last gate on."""
    assert pace(told((9, "gate"), (9, "gate"), *PULSE)) == Pace(2.5, None, 1)


@pytest.mark.parametrize("pause", [15.1, 600, -60])
def test_a_pulse_with_a_pause_in_it_is_not_timed(pause: float) -> None:
    """Longer than a quarter of an hour, or a clock that was set back; the pulses around it count."""
    events = told(*PULSE, (1, "arrive"), (pause, "pulse"), (1, "mark"), *PULSE)
    assert pace(events) == Pace(2.5, None, 2)
    assert pace(told(*PULSE, (1, "arrive"), (14.9, "pulse"), (1, "mark"))).pulses == 2


def test_the_program_closed_in_between() -> None:
    """However short: what was begun is not timed; what begins after the gates is."""
    again = ((1, "opened"), (1, "gate"), (1, "gate"))
    assert pace(told(*PULSE, (1, "arrive"), *again, (1, "pulse"), (1, "mark"))).pulses == 1
    assert pace(told(*PULSE, *again, *SLOW, *PULSE)) == Pace(2.5, None, 3)
    assert pace(told(*PULSE, (2, "turn"), *again, (3, "turn"), *PULSE)).adjusting is None
    assert pace(told(*PULSE, (2, "turn"), *again, (3, "turn"), *PULSE, (4, "lock"), *PULSE)).adjusting == 4.0


def test_what_was_taken_back_counts_as_time_alone() -> None:
    """A mark taken back and measured again is one pulse, and takes as long as both; a note is no end of anything."""
    events = told(*PULSE, (1, "undo", 3), (0.5, "note"), (2, "mark"))
    assert pace(events) == Pace(6.0, None, 1)


def test_nothing_is_said_before_three_pulses() -> None:
    """Two are no pace; without anything left, or all in the same second, there is nothing to say either."""
    left = Left(4.0, 0.0)
    assert minutes_words(time_left(Pace(2.5, 6.0, 2), left)) == ""
    assert minutes_words(time_left(Pace(), left)) == ""
    assert minutes_words(time_left(Pace(2.5, 6.0, 3), Left(0.4, 0.0))) == ""
    assert minutes_words(time_left(Pace(0.0, 0.0, 3), left)) == ""
    assert minutes_words(time_left(Pace(2.5, 6.0, 3), left)) == "about 10 minutes at your pace"


@pytest.mark.parametrize(
    ("pulses", "rounds", "said"),
    [
        (1, 0, "about 2 minutes"),  # 1 · 2
        (4.4, 0, "about 9 minutes"),  # 8.8
        (4.9, 0, "about 10 minutes"),  # 9.8
        (3, 1, "about 10 minutes"),  # 3 · 2 + 6 = 12
        (4, 1, "about 15 minutes"),  # 14
        (9.3, 3.5, "about 40 minutes"),  # 39.6
    ],
)
def test_minutes_are_rounded_and_said_with_about(pulses: float, rounds: float, said: str) -> None:
    """Pulses of 2 and rounds of 6 minutes: whole minutes below 10, steps of 5 above (by hand)."""
    assert minutes_words(time_left(Pace(2.0, 6.0, 5), Left(pulses, rounds))) == f"{said} at your pace"


def test_rounds_that_were_never_timed_are_not_guessed() -> None:
    """Before the first round only the pulses can be told of, and that is said."""
    assert (
        minutes_words(time_left(Pace(2.0, None, 4), Left(9.0, 2.0)))
        == "about 20 minutes at your pace, turning not counted"
    )
    assert minutes_words(time_left(Pace(2.0, None, 4), Left(3.0, 0.2))) == "about 6 minutes at your pace"


def stands(time: TimeLeft | None, pulses: float = 9.0) -> Standing:
    """A job among its turns."""
    places = tuple((stage.name, index < 4) for index, stage in enumerate(STAGES))
    return Standing(8, 1, 1.5, 0.3, Left(pulses, 2.0), places, time)


def test_it_stands_in_the_plain_line() -> None:
    """With what is left, as one sentence; nothing about minutes while nobody can tell."""
    said = "about 9 pulses and 2 rounds of adjusting"
    assert where_lines(stands(TimeLeft(25, whole=True)))[1] == (
        f"Probably left: {said}, about 25 minutes at your pace."
    )
    assert where_lines(stands(None))[1] == f"Probably left: {said}."
    assert remaining_words(stands(None, 0.3)) == ""


def test_a_session_tells_it_from_its_own_file(tmp_path: Path) -> None:
    """Three pulses of 2.5 minutes in a file: the standing of the step they lead to says so."""
    from coach.steps.current import current_step
    from coach.steps.standing import standing

    two = told(*PULSE, *PULSE)
    machine = make_machine()
    Session(Document(title="two pulses", created=BEGIN, machine=machine, events=two)).save(tmp_path / "one.toml")
    session = Session.load(tmp_path / "one.toml")
    assert standing(session, current_step(session, IN_MM)).time is None
    Session(Document(title="three pulses", created=BEGIN, machine=machine, events=told(*PULSE * 3))).save(
        tmp_path / "two.toml"
    )
    session = Session.load(tmp_path / "two.toml")
    stand = standing(session, current_step(session, IN_MM))
    assert stand.time == time_left(Pace(2.5, None, 3), stand.left)
    assert stand.time is not None
