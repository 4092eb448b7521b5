"""The adjusting steps say what comes next, and that is what comes."""

from following import follow

from coach import Session
from coach.practice.zoo import zoo_machine
from coach.session.document import Practice
from coach.shown import IN_MM
from coach.steps.current import current_step
from coach.steps.gates import GATES
from coach.steps.step import Step
from coach.steps.words import named


def test_each_screw_and_shift_says_what_follows_and_it_follows() -> None:
    """Four practice sessions to their ends: what the last screw of a plan or a shift announces is what comes,
    every time; a screw before the last says that the next one follows."""
    told = [pair for seed in (5, 6, 7, 8) for pair in _announcements(seed)]
    assert len(told) >= 5
    for announced, step in told:
        if announced.startswith(
            "Then: covers on, plug in"
        ):  # after the tube: what must be true before the beam is on
            assert step.gate == "eyewear"
            continue
        advice = step.advice
        assert advice is not None
        happens = {
            "shoot": f"Then: a pulse at {step.shot.name}." if step.shot else "",
            "shift": f"Then: move {named(advice.part or 'tube')}.",
            "turn": "Then: turn on.",
        }
        assert announced == happens[advice.kind]


def _announcements(seed: int) -> list[tuple[str, Step]]:
    """What adjusting steps announced, with the step that came then."""
    session = Session.start(zoo_machine(), practice=Practice(seed=seed))
    for gate in GATES:
        session.gate(gate.name)
    told: list[tuple[str, Step]] = []
    announced = ""
    for _ in range(300):
        step = current_step(session, IN_MM)
        if announced:
            told.append((announced, step))
        announced = step.then if step.then.startswith("Then: ") else ""
        if step.screw is not None and step.screw.number < step.screw.of:
            assert step.then.endswith("then the next one.")
        if step.key in ("done", "stop"):
            return told
        follow(session, step)
    raise AssertionError("neither done nor stop")
