"""What sessions at a practice machine cost and count, by sessions made by hand, and how they are judged."""

from dataclasses import replace

import pytest
from sweeps import sampled

from coach.advice.facts import MirrorTurn, Shot
from coach.practice.action import Action
from coach.practice.bench import Bench
from coach.practice.case import Aims, Case
from coach.practice.peers import baseline, oracle, the_coach
from coach.practice.play import play, play_case
from coach.practice.score import ended_well, score
from coach.practice.table import HEADER, row
from coach.practice.tally import Played, Tally
from coach.practice.zoo import STANDARD_CASES, case_named, zoo_machine
from coach.session.events import Best, Mark, Mended, Miss, Pulse, Refused
from coach.session.session import Session

MACHINE = zoo_machine()
ALL = tuple(Shot(s.name, s.x, s.y) for s in MACHINE.stations)
TURN = Action("turn", turns=(MirrorTurn(1, {"B": 0.1, "C": 0.1}), MirrorTurn(2, {"B": 0.1})))
TRAVEL = {("mirror 2", "right"): 5.0, ("head", "up"): 4.0, ("head", "back"): 4.0, ("tube", "up"): 6.0}
DONE = Action("done")


def _session(
    *actions: Action, kind: str = "plain", seed: int = 1, onward: str = "", scorch: float | None = None
) -> tuple[Played, Session, Bench]:
    """A session in which these actions are advised one after another."""
    session, bench, coming = Session.start(MACHINE), Bench(MACHINE, seed, kind, travel=TRAVEL), iter(actions)
    case = replace(case_named("standard"), onward=onward, scorch=scorch)  # type: ignore[arg-type]
    played = play(session, bench, lambda _: next(coming), case)
    return played, session, bench


def test_minutes_are_those_of_the_map() -> None:
    """A pulse 1.5; reaching a mirror 1, each screw 0.5; mirror 1, mirror 2 or head 5; the tube 20 (chosen costs)."""
    played, _, _ = _session(
        Action("shoot", stations=ALL),
        TURN,
        Action("shift", part="head", up=1.2, back=-0.7),
        replace(TURN, part="tube", up=0.9),
        Action("shoot", stations=ALL[:2]),
        DONE,
    )
    turning = (1 + 2 * 0.5) + (1 + 0.5)
    assert played.minutes == pytest.approx(7 * 1.5 + 2 * turning + 5 + 20)
    assert (played.rounds, played.shifts, played.pulses, played.tube_moves) == (2, 2, 7, 1)
    assert played.smallest_move == 0.7
    assert (played.early_moves, played.refused, played.end) == (0, 0, "done")


def test_a_move_before_every_station_was_tried_is_counted() -> None:
    """After two of five marks one move is early; after five none is."""
    move = Action("shift", part="head", up=1.0)
    assert _session(Action("shoot", stations=ALL[:2]), move, DONE)[0].early_moves == 1
    assert _session(Action("shoot", stations=ALL), move, DONE)[0].early_moves == 0


def test_what_cannot_be_moved_is_refused_and_costs_nothing() -> None:
    """Mirror 1 has no slot, the tube none to the back: both are refused, and the tube's height is still moved."""
    played, session, bench = _session(
        Action("shift", part="mirror 1", right=1.0), Action("shift", part="tube", up=1.0, back=1.0), DONE
    )
    refused = [(event.part, event.axis) for event in session.events if isinstance(event, Refused)]
    assert refused == [("mirror 1", "right"), ("tube", "back")]
    assert (played.refused, played.minutes, played.tube_moves) == (2, 20.0, 1)
    assert bench.state.mirror1_right == 0.0


def test_a_part_goes_to_the_end_of_its_slot_and_is_told_so() -> None:
    """9 mm are asked for, 5 can be moved and are entered; the next asking is refused."""
    move = Action("shift", part="mirror 2", right=9.0)
    _, session, _ = _session(move, DONE)
    assert session.events[-1].right == 5.0  # type: ignore[union-attr]
    seed = next(n for n in range(20) if _session(move, DONE, seed=n)[2].room("mirror 2", "right", 1.0) == 0.0)
    _, session, _ = _session(move, move, DONE, seed=seed)
    assert isinstance(session.events[-1], Refused)


def test_a_pulse_too_weak_is_fired_again_before_anyone_speaks_of_a_miss() -> None:
    """The first mark takes two pulses on some machines and one on the others; neither session knows of a miss."""
    pulses = set()
    for seed in range(30):
        played, session, _ = _session(Action("shoot", stations=ALL[:1]), DONE, kind="standard", seed=seed)
        assert [type(event) for event in session.events] == [Mark]
        assert played.off_tape == 0
        pulses.add(played.pulses)
    assert pulses == {1, 2}


def test_a_true_miss_is_fired_again_once_and_then_entered() -> None:
    """Nothing on the tape with no dose known yet: one repeat, then a miss; the next blank is a miss at once."""
    off = Action("turn", turns=(MirrorTurn(1, {"B": 1.0}),))
    shoot = Action("shoot", stations=ALL[3:4])
    played, session, _ = _session(off, shoot, shoot, DONE)
    assert [type(event) for event in session.events[1:]] == [Miss, Miss]
    assert (played.pulses, played.off_tape) == (3, 2)


def test_who_finds_no_scorch_says_that_nothing_was_seen() -> None:
    """A stray pulse is a miss to who finds what it scorched; else, as after a weak one, nothing is known of it."""
    off = Action("turn", turns=(MirrorTurn(1, {"B": 1.0}),))
    shoot = Action("shoot", stations=ALL[3:4])
    for scorch, entered in ((0.0, Pulse), (1.0, Miss)):
        _, session, _ = _session(Action("shoot", stations=ALL[:1]), off, shoot, DONE, scorch=scorch)
        assert type(session.events[-1]) is entered
    said = []
    for seed in range(30):  # whoever always finds a scorch finds none after a pulse that was too weak
        _, session, _ = _session(Action("shoot", stations=ALL[:1]), DONE, kind="standard", seed=seed, scorch=1.0)
        said.append(type(session.events[-1]))
    assert set(said) == {Mark, Pulse}
    stop = Action("stop", cause="not firing")
    played, session, _ = _session(stop, DONE, scorch=0.5)
    assert (played.end, [type(event) for event in session.events]) == ("done", [Best])


def test_after_a_stop_the_owner_goes_on_once() -> None:
    """ "Best" or "mended" is entered and the session goes on; what was mended is so; the same stop again ends it."""
    stop = Action("stop", cause="yaw")
    played, session, bench = _session(stop, stop, kind="standard-yaw", onward="best")
    assert [type(event) for event in session.events] == [Best]
    assert (played.end, played.cause, played.offered) == ("stop", "yaw", ("yaw",))
    assert bench.state.yaw != 0.0
    played, session, bench = _session(stop, DONE, kind="standard-yaw", onward="mended")
    assert [type(event) for event in session.events] == [Mended]
    assert (played.end, bench.state.yaw) == ("done", 0.0)
    assert _session(stop, kind="standard-yaw")[0].offered == ()


def _played(end: str = "done", cause: str = "", worst: float = 0.5, **more: float) -> Played:
    return replace(Tally().played(1, end, cause, worst, 0.5), **more)  # type: ignore[arg-type]


def test_what_counts_as_ended_well() -> None:
    """On standard rows 1.25 mm at "done"; kind rows the tolerance itself; stops only where the row allows them."""
    plain, standard = case_named("plain"), case_named("standard")
    assert [ended_well(plain, _played(worst=worst), 1.0) for worst in (1.0, 1.01)] == [True, False]
    assert [ended_well(standard, _played(worst=worst), 1.0) for worst in (1.25, 1.26)] == [True, False]
    assert not ended_well(standard, _played("stop", "coarse"), 1.0)
    assert ended_well(case_named("rough-standard"), _played("stop", "coarse", 9.0), 1.0)
    assert not ended_well(case_named("rough-standard"), _played("stop", "loose", 0.1), 1.0)
    assert not ended_well(standard, _played("given up"), 1.0)
    left = case_named("tube-only")
    assert [ended_well(left, _played("stop", "coarse", worst), 1.0) for worst in (2.0, 2.1)] == [True, False]
    aligned = case_named("aligned-standard")
    assert ended_well(aligned, _played(), 1.0)
    assert not ended_well(aligned, _played(rounds=1), 1.0)
    assert not ended_well(aligned, _played(shifts=1), 1.0)


def test_a_score_is_made_of_its_sessions() -> None:
    """Medians, means, the least move of all, and what was falsely named, offered stops included."""
    sessions = [
        _played(minutes=10.0, tube_moves=1, smallest_move=0.4, early_moves=2),
        _played(minutes=20.0, worst=1.3),
        _played("stop", "loose", minutes=60.0),
        _played(minutes=30.0, offered=("coarse",)),
    ]
    result = score(case_named("standard"), sessions)
    assert result.minutes == pytest.approx((25.0, 55.5))
    assert (result.good, result.within, result.stops) == pytest.approx((0.5, 2 / 3, 0.25))
    assert (result.tube_moves, result.smallest_move, result.early_moves) == (0.25, 0.4, 0.5)
    assert result.false_stops == {"coarse": 0.25, "loose": 0.25, "station": 0.0}
    assert "loose" not in score(case_named("loose"), sessions).false_stops
    line = row("coach", result)
    assert line.count("|") == HEADER[0].count("|") == HEADER[1].count("|")
    assert "25 / 55.5 (52 / 85)" in line
    assert "25.0% / 25.0% / 0.0% |" in line
    assert "25.0% / 25.0% / 0.0% (≤ 0.01) |" in row("coach", score(case_named("strong-mounts"), sessions))


def test_harmless_is_harmless() -> None:
    """2 mm off an opening of 16.4 mm loses 0.04 % of a beam of w = 3.5 mm (noncentral χ², as tests/optics has it)."""
    from coach.optics.gaussian import passed_fraction
    from coach.practice.score import HARMLESS

    assert 1 - passed_fraction(16.4 / 2, 3.5, HARMLESS) == pytest.approx(0.0004, abs=0.0001)


@pytest.mark.parametrize("case", sampled(STANDARD_CASES, STANDARD_CASES[0]), ids=lambda case: case.name)
def test_every_standard_row_can_be_played(case: Case) -> None:
    """A session comes to an end, and costs what its pulses cost at least."""
    played = play_case(case, 3)
    assert played.minutes >= 1.5 * played.pulses > 0


def test_the_all_knowing_knows_the_hands_and_the_habit_spares_the_tube() -> None:
    """The all-knowing's belief has the true sizes of this owner's hands; the habit moves mirror 2 and head before the
    tube, and the tube where nothing else moves."""
    case = case_named("standard")
    bench = Bench(case.machine(2), 2, case.kind, travel=case.travel)
    _, adviser = oracle(case.machine(2), bench)
    hands = adviser._belief.tuning.hands  # type: ignore[attr-defined]
    assert (hands.turn_share, hands.turn_floor, hands.shift_share, hands.shift_floor) == (0.10, 0.012, 0.10, 0.25)
    spared = [play_case(case, seed, baseline) for seed in range(3, 6)]
    assert sum(p.shifts for p in spared) > 0
    assert sum(p.tube_moves for p in spared) == 0
    only = [play_case(case_named("tube-only"), seed, baseline) for seed in range(3, 6)]
    assert sum(p.tube_moves for p in only) == sum(p.shifts for p in only) > 0
    assert the_coach(case.machine(2), bench)[0] == case.machine(2)
    assert Aims(0.9, None, None, None).minutes is None
