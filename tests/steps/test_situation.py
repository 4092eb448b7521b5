"""Where the events leave the job: what is open is finished before anything new is advised."""

import pytest
from built_steps import built

from coach import Session
from coach.advice.advice import Shot
from coach.practice.demo import demo_machine
from coach.shown import IN_MM
from coach.steps.beam_stages import BEAM_STAGES as STAGES
from coach.steps.current import current_step
from coach.steps.gates import GATES
from coach.steps.perform import perform
from coach.steps.situation import situation
from coach.steps.standing import stage_index, standing


def past_the_gates() -> Session:
    """A session on the demo machine, ready to begin."""
    session = Session.start(demo_machine())
    for gate in GATES:
        session.gate(gate.name)
    return session


def with_plan() -> Session:
    """Two mirrors' screws of the same names are to be turned, then the head moved."""
    session = past_the_gates()
    session._add("plan", turns={"1": {"B": 0.125, "C": -0.0625}, "2": {"B": 0.25}}, part="head", up=1.0)
    return session


def test_a_plan_is_carried_out_screw_by_screw() -> None:
    """Each screw once, by mirror and name, numbered; then the part; then the advice.

    What was done before this plan does not count as done in it.
    """
    session = past_the_gates()
    session.turn(1, {"B": 0.5})
    session._add("plan", turns={"1": {"B": 0.125, "C": -0.0625}, "2": {"B": 0.25}}, part="head", up=1.0)
    seen = []
    for _ in range(3):
        step = current_step(session, IN_MM)
        seen.append(
            (step.key, step.screw.mirror, step.screw.screw, step.screw.turns, step.screw.number, step.screw.of)
        )
        perform(session, step, "turned")
    assert seen == [
        ("screw", 1, "B", 0.125, 1, 3),
        ("screw", 1, "C", -0.0625, 2, 3),
        ("screw", 2, "B", 0.25, 3, 3),
    ]
    step = current_step(session, IN_MM)
    assert (step.key, step.shift.part, step.shift.up) == ("move", "head", 1.0)
    perform(session, step, "shifted")
    assert situation(session.effective) is None


def test_lock_nuts_among_a_plan_do_not_end_it() -> None:
    """The next screw still waits."""
    session = with_plan()
    session.lock(1)
    assert situation(session.effective).screw.screw == "B"


@pytest.mark.parametrize(
    ("outcome", "key"), [("mark", "measure"), ("flare", "flare"), ("double", "elsewhere"), ("mount", "elsewhere")]
)
def test_what_was_seen_decides_what_comes_next(outcome: str, key: str) -> None:
    """Each outcome of a pulse leads to its own step, at the very station; notes in between change nothing."""
    session = past_the_gates()
    shot = Shot("own point", 123.0, 45.0)
    session.arrive(shot)
    assert situation(session.effective).key == "pulse"
    session.pulse(shot, outcome)
    session.note("tea")
    where = situation(session.effective)
    assert (where.key, where.shot) == (key, shot)


def test_what_follows_nothing_is_advised() -> None:
    """The same place, to be looked at first: the belief says whether another pulse there is sure enough."""
    session = past_the_gates()
    shot = Shot("own point", 20.0, 380.0)
    session.arrive(shot)
    session.pulse(shot, "nothing")
    assert situation(session.effective) is None
    step = current_step(session, IN_MM)
    assert (step.key, step.shot.name, step.shot.x, step.shot.y) == ("nothing", "own point", 20.0, 380.0)


def test_after_a_mark_or_a_miss_it_is_the_advices_turn() -> None:
    """Measured, missed, or a flame that is out: nothing is open."""
    for after in ("mark", "miss", "flame-out"):
        session = past_the_gates()
        shot = Shot("middle", 300.0, 200.0)
        session.pulse(shot, "flare" if after == "flame-out" else "mark")
        if after == "flame-out":
            session.gate(after)
        elif after == "mark":
            session.mark("middle", u=1.0, v=0.0)
        else:
            session.miss("middle")
        assert situation(session.effective) is None, after


def test_stages_behind_and_ahead() -> None:
    """Every step stands in one stage; those before it are behind, itself and those after it are not."""
    for name in ("rules", "clean", "tape", "flare", "pulse", "screw", "done"):
        step = current_step(built(name), IN_MM)
        stages = standing(built(name), step).stages
        assert [stage for stage, _ in stages] == [stage.name for stage in STAGES]
        assert [behind for _, behind in stages] == [index < stage_index(step.key) for index in range(len(STAGES))]
