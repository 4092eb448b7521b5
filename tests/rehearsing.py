"""Somebody who rehearses a visit: does what the steps say, and picks or types what stands beside them."""

from collections.abc import Iterator

from coach.practice.assist import Assist
from coach.practice.visit_seen import Seen
from coach.reading.offsets import from_offsets
from coach.session.session import Session
from coach.shown import IN_MM
from coach.steps.asked_figures import enter_figures, form_of
from coach.steps.current import current_step
from coach.steps.locks import loose_locks
from coach.steps.measuring import questioned
from coach.steps.part_state import next_part
from coach.steps.parts.table import PARTS
from coach.steps.perform import perform
from coach.steps.step import Choice, Step

MOST = 600
"""Steps of the longest visit; one that takes more hangs."""


def rehearse(session: Session, *, every_part: bool = False) -> Iterator[Step]:
    """Step by step to the end; yields each step before it is answered.  Raises AssertionError where it never ends.

    `every_part`: also the parts that the evidence passes over.
    """
    for _ in range(MOST):
        if session.effective and session.effective[-1].kind == "finish":
            return
        step = current_step(session, IN_MM)
        yield step
        before = len(session.events)
        passed = next_part(PARTS, session) if every_part and step.key == "next-part" else step.part
        if passed not in (None, step.part):
            perform(session, step, "other-part", part=passed)
        else:
            answer(session, step)
        assert len(session.events) > before, f"nothing was entered at {step.key} {step.item}"
    raise AssertionError(f"no end after {MOST} steps: {step.key} {step.item}, {step.title}")


def answer(session: Session, step: Step) -> None:
    """As told, by what is seen."""
    assist = Assist(session)
    seen = assist.seen(step, IN_MM)
    if step.kind.fires and step.shot is not None:
        assist.fire(step)
    elif step.measures:
        mark = assist.mark()
        assert mark is not None
        assert step.shot is not None
        reading = from_offsets(f"{mark.u:.1f}", f"{mark.v:.1f}")
        perform(session, step, "measured", reading=questioned(session, step.shot, reading))
    elif step.key == "verdict" and session.verdict().ends == "test":
        perform(session, step, "check-again")
    elif step.key == "still-weak":
        perform(session, step, "finish")
    elif step.key == "stop" and _stopped_before(session, step):
        perform(session, step, next(c.key for c in step.choices if c.key in ("best", "end-part")))
    elif seen is None or not _by_sight(session, step, seen):
        first = step.choices[0]
        perform(session, step, first.key, mirror=loose_locks(session)[0] if first.wants == "mirror" else None)


def _stopped_before(session: Session, step: Step) -> bool:
    """Whether what this stop names was seen to already: then the best that can be had is taken."""
    assert step.advice is not None
    return any(event.kind == "mended" and event.cause == step.advice.cause for event in session.effective)


def _by_sight(session: Session, step: Step, seen: Seen) -> bool:
    """Type the figures, else pick the answer; False where neither is offered."""
    picked = next((c for c in step.choices if seen.picks and seen.picks in (c.option, c.key)), None)
    typed = next((c for c in step.choices if c.wants == "figures" and _fits(session, step, c, seen)), None)
    if picked is not None and picked.wants != "figures" and (picked.key != "checked" or typed is None):
        perform(session, step, picked.key, option=picked.option or None)
    elif typed is not None:
        form = form_of(session, step, typed, IN_MM)
        texts = {name: value if isinstance(value, str) else f"{value:g}" for name, value in seen.figures.items()}
        enter_figures(session, step, typed, form, texts, IN_MM)
    return picked is not None or typed is not None


def _fits(session: Session, step: Step, choice: Choice, seen: Seen) -> bool:
    fields = {field.name for field in form_of(session, step, choice, IN_MM).fields}
    return bool(seen.figures) and set(seen.figures) <= fields
