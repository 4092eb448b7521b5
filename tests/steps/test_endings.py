"""What is said at the end: aligned all along, centred, at its best; a harmless offset; lock nuts still to do."""

import pytest
from built_steps import built
from following import follow
from machines import make_machine

from coach import Session
from coach.advice.advice import Shot
from coach.advice.faults import faults_taken
from coach.advice.offset_cost import harmless, worst_cost
from coach.advice.reasons import BestThereIs
from coach.reading.offsets import from_offsets
from coach.shown import IN_MM
from coach.steps.current import current_step
from coach.steps.gates import GATES
from coach.steps.locks import loose_locks
from coach.steps.measuring import questioned
from coach.steps.perform import perform
from coach.steps.readback import readback_answers
from coach.steps.stages.done import done_words
from coach.steps.standing import remaining_words, standing
from coach.steps.step import Step
from coach.steps.wanted import confirmation
from coach.tuning import TUNING


def _marked(offsets: dict[str, tuple[float, float]], **machine: object) -> Session:
    session = Session.start(make_machine(**machine))
    for gate in GATES:
        session.gate(gate.name)
    for station, (u, v) in offsets.items():
        session.mark(station, u=u, v=v)
    return session


def _to_the_end(session: Session) -> Step:
    """The person takes every fault as it is, and does what is advised."""
    for _ in range(150):
        step = current_step(session, IN_MM)
        if step.key == "done":
            return step
        if step.key == "stop":
            perform(session, step, "best")
        else:
            follow(session, step)
    raise AssertionError("it does not end")


def test_with_a_fault_that_stays_nobody_is_told_that_all_is_centred() -> None:
    """A gantry that yaws, taken as it is, on the practice bench: the best there is, its figure, the fault."""
    step = _to_the_end(built("stop"))
    assert isinstance(step.advice.reason, BestThereIs)
    assert (step.title, step.action) == ("Aligned to the best that can be had", "Tighten lock nuts")
    assert done_words(step.advice)[1] == "Done: beam at best"
    assert step.advice.now.chance < TUNING.deciding.done_at_least
    assert "What stays as it is: the gantry yaws as it travels." in step.do
    assert "centred" not in " ".join((step.title, step.action, step.figure, *step.do, step.why)).lower()
    assert f"{step.advice.now.worst:.1f} mm of 1 mm, which costs" in step.why


def test_too_coarse_taken_as_it_is_is_not_said_again() -> None:
    """Both faults taken as they are: what follows ends in "done", and no stop comes on the way."""
    session = built("stop")
    session.best("coarse")
    session.best("yaw")
    met = []
    for _ in range(150):
        step = current_step(session, IN_MM)
        met.append(step.key)
        if step.key == "done":
            break
        follow(session, step)
    assert met[-1] == "done"
    assert "stop" not in met


def test_where_nothing_was_turned_nobody_is_told_to_stop_turning() -> None:
    """Told what to look at instead; where something was turned it is said to stop."""
    step = current_step(built("aligned"), IN_MM)
    assert step.action == "Alignment is good"
    assert "stop turning" not in step.why
    assert step.why.endswith("the alignment was not your trouble.")
    for thing in ("focus", "lens", "bed", "water", "tube"):
        assert thing in " ".join(step.do)
    assert current_step(built("done"), IN_MM).why.endswith("stop turning.")


def test_lock_nuts_are_among_what_is_left_until_they_are_tight() -> None:
    """After done, and before: of the mirrors that were turned; a mark at each station follows."""
    session = built("done")
    step = current_step(session, IN_MM)
    turned = loose_locks(session)
    assert turned
    left = remaining_words(standing(session, step))
    assert left.startswith("lock nuts of mirror")
    assert left.endswith("then a mark at each station")
    for mirror in turned:
        session.lock(mirror)
    assert loose_locks(session) == ()
    assert "lock nuts" not in remaining_words(standing(session, current_step(session, IN_MM)))


@pytest.mark.parametrize(
    ("drift", "leave"),
    [(1.2, True), (4.0, False)],
)
def test_a_harmless_offset_may_be_left_before_anything_is_touched(drift: float, leave: bool) -> None:
    """Lean d/f (Burge): 1.5° at f 50.8 are 1.33 mm; what is worse is not offered to be left."""
    flat = {"back-left": 0.0, "back-right": 0.0, "middle": drift / 2, "front-right": drift, "front-left": drift}
    session = _marked({name: (0.0, v) for name, v in flat.items()}, tolerance=0.5)
    step = current_step(session, IN_MM)
    assert step.key == "adjust"
    assert harmless(session.belief) is leave
    assert (worst_cost(session.belief)[1] <= 1.5) is leave
    assert ("finish" in {choice.key for choice in step.choices}) is leave
    if leave:
        (choice,) = (choice for choice in step.choices if choice.key == "finish")
        assert choice.label == f"Leave it: < 0.1 % power, {worst_cost(session.belief)[1]:.1f}° lean"
        said = confirmation(session, step, choice, IN_MM)
        assert said.startswith(
            f"The worst station stays at about {step.advice.now.worst:.1f} mm: costs < 0.1 % power"
        )


def test_a_surprise_names_the_reading_that_is_likelier_wrong() -> None:
    """back-left read 4 mm too high; what front-right then shows is no surprise to the others."""
    session = _marked({"middle": (0.3, 0.5), "back-left": (0.3, 4.5)})
    place = session.machine.station("front-right")
    shot = Shot(place.name, place.x, place.y)
    reading = questioned(session, shot, from_offsets("0.3", "0.5"))
    (question,) = reading.questions
    assert "Likelier wrong is the mark at back-left, 0.3 mm right, 4.5 mm up (more than 99 %)" in question.sentence(
        IN_MM
    )
    labels = [answer.label for answer in readback_answers(reading, IN_MM)]
    assert labels[1] == "It is so: then back-left is made again"
    session.mark(place.name, u=0.3, v=0.5)
    assert [shot.name for shot in session.advice().stations] == ["back-left"]
    itself = questioned(session, shot, from_offsets("0.3", "9"))
    assert "Likelier wrong" not in " ".join(q.sentence(IN_MM) for q in itself.questions)


def test_that_it_does_fire_is_no_fault_that_stays() -> None:
    """Said after "does it fire at all?": the end is then no "best that can be had" because of it."""
    session = built("stop")
    session.best("not firing")
    assert faults_taken(session.belief) == ()
    session.best("yaw")
    assert faults_taken(session.belief) == ("yaw",)
