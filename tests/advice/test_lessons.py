"""After each retest: expected against seen, what was learned, and how much is probably left."""

import re
from dataclasses import replace

import numpy as np
import pytest
from machines import make_machine

from coach import Session
from coach.advice.facts import Outlook
from coach.advice.lesson_words import lesson_words, retest_words
from coach.advice.lessons import DriveLearned, lessons, retest
from coach.advice.outlook import outlook
from coach.advice.remaining import remaining
from coach.belief.belief import Belief, Sighting
from coach.belief.layout import Layout
from coach.optics.mounts import screw_responses
from coach.practice.bench import Bench
from coach.shown import IN_MM
from coach.steps.news import news


def _marked(machine=None, seed: int = 3) -> tuple[Session, Bench]:
    """Every station marked once on a plain bench."""
    session = Session.start(machine or make_machine())
    bench = Bench(session.machine, seed, "plain")
    for key, station in enumerate(session.machine.stations, start=1):
        seen = bench.pulse(station.x, station.y, key=key)
        assert seen is not None
        session.mark(station.name, seen.u, seen.v)
    return session, bench


def _expected(session: Session, x: float, y: float) -> np.ndarray:
    return session.belief.expected(x, y).mean


def test_before_any_turn_there_is_no_retest_to_tell_of() -> None:
    """The first round's marks were expected nowhere in particular: no news."""
    assert news(_marked()[0], IN_MM) == ()


def test_a_retest_where_it_was_expected_says_so_with_both_places() -> None:
    """A mark read exactly where the belief expects it after a turn: one sentence, "as expected", no lesson."""
    session, _ = _marked()
    session.turn(1, {"B": 0.0625})
    u, v = _expected(session, 300.0, 200.0)
    session.mark("middle", float(u), float(v))
    (sentence,) = news(session, IN_MM)
    assert sentence.startswith("middle: expected ")
    assert sentence.endswith(": as expected.")


def test_nothing_is_as_expected_where_nothing_could_surprise() -> None:
    """In the very middle of what was expected: "as expected" is said only where two deviations of it are less than
    half of what the tape can show; before any mark, or on a tape too small for the doubt, it is not.
    """
    session, _ = _marked()
    fresh, known = Session.start(session.machine).belief, session.belief
    for belief, radius, said in ((fresh, 11.0, False), (known, 11.0, True), (fresh, 60.0, True), (known, 0.9, False)):
        tape = belief.layout.machine.tape.model_copy(update={"radius": radius})
        machine = belief.layout.machine.model_copy(update={"tape": tape})
        belief = replace(belief, layout=Layout(machine))
        mark = belief.expected(300.0, 200.0)
        words = retest_words(retest(belief, Sighting("middle", 300.0, 200.0, "head", mark.u, mark.v, 0.25)), IN_MM)
        assert words.endswith(": as expected.") is said, (radius, words)
        assert ("too little was known" in words) is not said


def test_a_retest_elsewhere_and_a_miss_are_called_unexpected() -> None:
    """Five millimetres off what a sixteenth of a turn can do, or no mark at all: "not as expected"."""
    session, _ = _marked()
    session.turn(1, {"B": 0.0625})
    u, v = _expected(session, 300.0, 200.0)
    session.mark("middle", float(u) + 5.0, float(v))
    assert "not as expected" in news(session, IN_MM)[0]
    session.undo()
    session.miss("middle")
    assert "no mark on the tape: not as expected" in news(session, IN_MM)[0]


def test_a_screw_that_answers_one_and_a_half_times_is_told_with_a_ratio_that_has_no_unit() -> None:
    """Marks that moved 1.5 times as far as the geometry says, for one screw turned twice: the lesson names the screw
    and a ratio near 1.5 with its doubt, both without a unit; a screw that answers as it should gives none."""
    stretched = _lesson_after_turns(1.5)
    assert len(stretched) == 1
    found = re.fullmatch(
        r"Mirror 2, screw B moves the mark (\d\.\d) times as far as its geometry says \(give or take (\d\.\d)\)\.",
        stretched[0],
    )
    assert found is not None, stretched
    assert abs(float(found[1]) - 1.5) <= float(found[2]) <= 0.5
    assert _lesson_after_turns(1.0) == []


def _lesson_after_turns(times: float) -> list[str]:
    """What is learned when mirror 2's screw B moves the marks that many times as far as believed at first."""
    session, _ = _marked()
    first = session.belief
    for turn in (0.25, -0.25):
        session.turn(2, {"B": turn})
        for station in session.machine.stations:
            rows = first.layout.measurement_matrix(station.x, station.y, "head")
            moved = (
                times
                * turn
                * (
                    rows
                    @ np.tensordot(first.layout.turn_vector(2, {"B": 1.0}), first.layout.screw_maps, axes=1)
                    @ _mean(first)
                )
            )
            was = rows @ _mean(first)
            u, v = was + (moved if turn > 0 else 0.0)
            session.mark(station.name, float(u), float(v), sd=0.1)
    return [lesson_words(lesson) for lesson in lessons(session.belief)]


def _mean(belief: Belief) -> np.ndarray:
    return belief.settled.mixture.moments.mean


@pytest.mark.parametrize("drive", ["unknown", "push"])
def test_a_drive_is_told_once_it_is_found_out(drive) -> None:
    """Machines driven the other way than the profile says, or of which nobody knew: the lesson names the mirror."""
    from coach.practice.peers import the_coach
    from coach.practice.play import play
    from coach.practice.zoo import zoo_machine

    machine = zoo_machine("L", drive=drive)
    bench = Bench(machine, 4, "drive")
    profile, adviser = the_coach(machine, bench)
    session = Session.start(profile)
    play(session, bench, adviser)
    told = [lesson for lesson in lessons(session.belief) if isinstance(lesson, DriveLearned)]
    assert told
    for lesson in told:
        pushing = screw_responses(machine.mount(lesson.mirror), machine.path.side)
        really_pushes = (bench.true_responses(lesson.mirror) * pushing).sum() > 0
        assert lesson.push == really_pushes
        away = "clockwise turn moves the plate away from you" in lesson_words(lesson)
        assert away == really_pushes  # a push moves the plate away from someone facing the screw heads


def test_what_is_left_falls_to_the_unmarked_stations_when_all_is_probably_well() -> None:
    """With every station centred for sure, one pulse for each station without a mark is left, and no round; on an
    untouched machine more than a mark for each station, and more than a round."""
    session = Session.start(make_machine())
    for station in ("back-left", "middle"):
        session.mark(station, 0.0, 0.0)
    sure = Outlook(1.0, 0.1, 0.2)
    assert remaining(session.belief, sure).pulses == 3
    assert remaining(session.belief, sure).rounds == 0
    fresh = Session.start(make_machine()).belief
    left = remaining(fresh, outlook(fresh.layout, fresh.settled))
    assert left.pulses > 10
    assert left.rounds > 1
