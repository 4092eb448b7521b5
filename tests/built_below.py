"""One session for every step below mirror 3: head, lens and nozzle, and the pointer."""

from typing import Any

from head_following import Exactly, follow_below
from heads import ExactHead, head_machine
from machines import make_machine

from coach import Session
from coach.optics.mounts import PlateMotion
from coach.session.document import Document
from coach.shown import IN_MM
from coach.steps.current import current_step
from coach.steps.perform import perform

PULSED = ("rules", "eyewear", "firing", "fire", "air")
"""The gates before a part that pulses, the visit's rules first."""
BELOW_NAMES = (
    *("head-unknown", "nozzle-tape", "head-pulse", "nozzle-mark", "head-nothing", "head-flare"),
    *("bed-card", "lens-out", "bed-mark"),
    *("head-adjust", "head-turn", "head-shift", "head-move", "head-locks", "head-done", "head-stop", "no-levers"),
    *("pointer-card", "pointer-spot", "pointer-turn", "pointer-done", "pointer-beam"),
)
"""By the keys of their steps; "head-flare" is a flame there, "lens-out" a card without the lens, "head-move" an
adjusting that moves the lens, "head-locks" a "head-done" before the lock nuts are tight, "no-levers" a stop."""
MOST = 200


def below_documents() -> dict[str, Document]:
    """Name to the session at that step."""
    found = _walked(ExactHead(head_machine(), mirror3=PlateMotion(5.0, -4.0), lens=(0.5, -0.4)))
    far = _walked(ExactHead(head_machine(), mirror3=PlateMotion(12.0, 11.0)))
    found |= {"lens-out": far["lens-out"], "head-nothing": far["head-nothing"]}
    found["head-flare"] = _after(found["head-pulse"], "flare")
    found["head-stop"] = _walked(ExactHead(head_machine(), nozzle=(1.6, 0.0)))["head-stop"]
    found["no-levers"] = _fixed()
    found["head-unknown"] = _begun(make_machine(), "head")._doc
    found |= _pointed(found["head-done"])
    return {name: found[name] for name in BELOW_NAMES}


def _begun(machine: Any, part: str) -> Session:
    session = Session.start(machine)
    session.opened()
    session.begin(part)
    for gate in PULSED:
        session.gate(gate)
    return session


def _walked(head: ExactHead) -> dict[str, Document]:
    """Follows the coach to the end, and keeps the session where a step comes for the first time."""
    session, found = _begun(head.machine, "head"), {}
    for _ in range(MOST):
        step = current_step(session, IN_MM)
        found.setdefault(_name(step), session._doc)
        if step.key in ("head-done", "head-stop") and _name(step) != "head-locks":
            return found
        follow_below(session, step, Exactly(head))
    raise AssertionError("the part does not end")


def _name(step: Any) -> str:
    if step.key == "bed-card" and not step.below.lens:
        return "lens-out"
    if step.key == "head-adjust" and step.head.part:
        return "head-move"
    return "head-locks" if step.key == "head-done" and step.choices[0].key == "lock-three" else str(step.key)


def _fixed() -> Document:
    """A machine without a mount of mirror 3, of which nothing can be moved, and a beam that leans."""
    session, head = _begun(make_machine(), "head"), Exactly(ExactHead(head_machine(), lens=(1.0, 0.0)))
    session.refuse("lens")
    session.refuse("head")
    perform(session, current_step(session, IN_MM), "undescribed")
    for _ in range(MOST):
        step = current_step(session, IN_MM)
        if step.key == "head-stop":
            return session._doc
        follow_below(session, step, head)
    raise AssertionError("the part does not end")


def _pointed(document: Document) -> dict[str, Document]:
    """The pointer, off at first."""
    session = Session(document)
    session.end("head")
    session.begin("pointer")
    found = {"pointer-card": session._doc}
    found["pointer-spot"] = _after(session._doc, "ready", "mark")
    found["pointer-turn"] = _after(found["pointer-spot"], "spot")
    found["pointer-done"] = _after(found["pointer-turn"], "on-mark", "ready", "mark", "on-mark")
    found["pointer-beam"] = _after(found["pointer-turn"], "combiner")
    return found


def _after(document: Document, *choices: str) -> Document:
    session = Session(document)
    for choice in choices:
        given = {"figures": {"right": 1.2, "back": -0.4, "lowered": 0.0}} if choice == "spot" else {}
        perform(session, current_step(session, IN_MM), choice, **given)  # type: ignore[arg-type]
    return session._doc
