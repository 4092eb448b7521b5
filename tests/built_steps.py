"""One session for every step of the job, built from its events without the screen: the same on every machine.

The marks come from practice benches with fixed seeds; the times from a clock that goes on a minute with every entry.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from copy import copy
from datetime import datetime, timedelta
from functools import cache, lru_cache
from pathlib import Path
from unittest.mock import patch

from built_below import BELOW_NAMES, below_documents
from built_cuts import CUT_NAMES, cut_visits
from following import follow

from coach.machine import Machine, Target
from coach.practice.demo import demo_machine
from coach.session.document import Document, Practice
from coach.session.events import Turn
from coach.session.found_and_left import marks_last
from coach.session.session import Session
from coach.session.visit_events import KeptLimit
from coach.shown import IN_MM
from coach.steps.check_up import WHY
from coach.steps.current import current_step
from coach.steps.gates import GATES as ALL_GATES
from coach.steps.moved import kept_marks
from coach.steps.parts.table import PARTS
from coach.steps.perform import perform
from coach.steps.stages.closing import CLOSING
from coach.steps.step import Step

BEGUN = datetime(2026, 3, 1, 18, 0)
"""Local time, so that the same time of day stands everywhere."""
MOST = 150
"""Entries after which every job that is walked here is over."""
GATES = tuple(gate.name for gate in ALL_GATES)
NAMES = (
    *GATES,
    *("go", "pulse", "nothing", "elsewhere", "flare", "measure", "adjust", "screw", "adjust-part", "move"),
    *("adjust-tube", "tube-off", "move-tube", "confirm", "done", "lock", "stop"),
    *("search", "search-measure", "nothing-mirror", "off-tape", "aligned", "double", "not-firing"),
    *("at-mirror", "edge"),
    *(
        "next-part",
        "isolated",
        "close-item",
        "interlock-test",
        "powered",
        "visit-done",
        "visit-stop",
        "parts-done",
        "still-weak",
    ),
    *("check-up", "check-up-alone"),
    *("ask", "ask-more", "suspects", "check", "check-bed", "attended", "halt", "verdict", "level-bed"),
    *("clean-combiner", "clean-optic", "clean-out", "halt-optic"),
    *CUT_NAMES,
    *BELOW_NAMES,
)
"""Every kind of step: gates by their names, the others by their keys.  Some in another situation: "confirm" is a "go"
after turning, "lock" one after lock nuts; "search" leads to a wide card, and "off-tape" is the stop there; "aligned"
is "done" on a machine on which nothing was turned; "double" is "elsewhere" with two marks;
"not-firing" is the stop after pulses, each stronger, that left nothing; "at-mirror" leads to mirror 1's own tape, as
a mark there lies near its edge; "nothing-mirror" is after a pulse there that left nothing, "edge" the stop there.
The last row is of a visit with other parts: "visit-done" and "visit-stop" are "done" and "stop" there;
"ask-more" is a question to which more can be said, "check-bed" one that comes with figures."""
FIGURES = {
    "slope": {"front_left": 5.0, "front_right": 6.2, "back_left": 5.1, "back_right": 6.0},
}
"""What is measured at checks: a bed that slopes."""
TUBE_ONLY = {
    "moves": [
        {"part": "mirror 1", "right": 0.0},
        {"part": "mirror 2", "right": 0.0},
        {"part": "head", "up": 0.0, "back": 0.0},
        {"part": "tube", "up": 10.0, "back": 10.0},
    ]
}
"""A machine of which nothing else can be moved."""


@contextmanager
def pinned(begin: int = 0) -> Iterator[None]:
    """Entries are made at known times, from so many minutes on."""
    minutes = iter(range(begin, 10_000))
    with patch("coach.session.kept.now", lambda: (BEGUN + timedelta(minutes=next(minutes))).astimezone()):
        yield


@lru_cache(1)
def documents() -> dict[str, Document]:
    """Name to the session at that step, on the practice bench; all of one job but what comes in others alone."""
    found = _walked(Practice(kind="fine", seed=1))
    found["stop"] = _walked_to(("stop",), "yaw", 7)["stop"]
    found["aligned"] = _walked_to(("done",), "aligned", 5)["done"]
    at_tube = ("adjust-tube", "tube-off", "move-tube")
    tube = _walked_to(at_tube, "fine", 35, Machine.model_validate(demo_machine().to_table() | TUBE_ONLY))
    found |= {name: tube[name] for name in at_tube}
    with pinned():
        found["search"] = _after(found["nothing"], "missed")
        found["search-measure"] = _after(found["search"], "arrived", "mark")
        found["off-tape"] = _after(found["search"], "arrived", "nothing", "missed")
        found["elsewhere"], found["double"] = (_after(found["pulse"], seen) for seen in ("mount", "double"))
        found["not-firing"] = _after(found["nothing"], *("arrived", "nothing") * 3)
        found["lock"] = _after(found["done"], "lock")
        found["at-mirror"] = _marked_at(found["done"], "mirror 1", 7.0)
        found["nothing-mirror"] = _after(found["at-mirror"], "arrived", "nothing")
        found["edge"] = _marked_at(_marked_at(found["at-mirror"], "mirror 1", 7.0), "mirror 2", 0.0)
    with pinned():
        found |= _visits(found)
    with pinned():
        found |= below_documents()
    return {name: found[name] for name in NAMES}


def built(name: str, *, practice: bool = True) -> Session:
    """A session at that step, in memory; without practice it is one on a machine called "Shed laser"."""
    return copy(_reckoned(name, practice))


@cache
def _reckoned(name: str, practice: bool) -> Session:
    """The same with all that its step needs worked out once: no session changes what it worked out, it makes anew."""
    document = documents()[name]
    if not practice:
        machine = document.machine.model_copy(update={"name": "Shed laser"})
        document = document.model_copy(update={"practice": None, "title": machine.name, "machine": machine})
    session = Session(document)
    current_step(session, IN_MM)
    return session


@lru_cache
def step_at(name: str) -> Step:
    """The step that the session of this name has come to, in millimetres: built once, as steps cannot change."""
    return current_step(built(name), IN_MM)


def stored(name: str, folder: Path, *, practice: bool = True) -> Path:
    """The same as a file in the data folder."""
    path = folder / "sessions" / f"{name}.toml"
    built(name, practice=practice).save(path)
    return path


def _walked_to(names: tuple[str, ...], kind: str, seed: int, machine: Machine | None = None) -> dict[str, Document]:
    """A job that comes by these steps; with another seed where a gate more has changed what the bench draws."""
    for each in (seed, *range(1, MOST)):
        found = _walked(Practice(kind=kind, seed=each), machine)
        if set(names) <= set(found):
            return found
    raise AssertionError(f"no {kind!r} machine leads to {names}")


@pinned()
def _walked(practice: Practice, machine: Machine | None = None) -> dict[str, Document]:
    """Follows the coach to the end, and keeps the session where a step comes for the first time."""
    session = Session.start(machine or demo_machine(), practice=practice)
    session.opened()
    found: dict[str, Document] = {}
    for _ in range(MOST):
        step = current_step(session, IN_MM)
        turned = any(isinstance(event, Turn) for event in session.effective)
        found.setdefault("confirm" if step.key == "go" and turned else step.gate or step.key, session._doc)
        if step.key in ("done", "stop"):
            return found | {seen: _after(found["pulse"], seen) for seen in ("nothing", "flare")}
        follow(session, step)
    raise AssertionError("the job does not end")


def _visits(found: dict[str, Document]) -> dict[str, Document]:
    """A visit that closes up before it comes to the beam's path, and the ends of that path in a visit."""
    visit = Session(found["go"])
    visit.begin("what changed")
    visit.begin("close up")
    there = {"isolated": visit._doc, "close-item": _after(visit._doc, "acknowledge")}
    there["next-part"] = _closed_up(there["close-item"])
    there["interlock-test"] = _closed_up(there["close-item"], until="interlock-test")
    plugged_in = Session(there["close-item"])
    plugged_in.begin("beam path")
    there["powered"] = plugged_in._doc
    there["parts-done"] = _after(there["next-part"], *["skip-part"] * (len(PARTS) - 1))
    there["still-weak"] = _cut_at(there["parts-done"], 20.0, 12.0)
    there["check-up"] = _checked_up(found["done"], compared=True)
    there["check-up-alone"] = _checked_up(found["done"], compared=False)
    for end in ("done", "stop"):
        visit = Session(found[end])
        visit.begin("beam path")
        there[f"visit-{end}"] = visit._doc
    return there | _before_the_beam(found["go"]) | cut_visits(found["go"])


def _cut_at(document: Document, then: float, now: float) -> Document:
    """The session on a machine that once cut so many mm/s at every station, and now so many."""
    session = Session(document)
    for station in session.machine.stations:
        session.cut(station.name, fastest=now, next=1.1 * now, material="ply 6 mm, lot 3")
    kept = session.kept_cuts()
    once = [KeptLimit(name=each.name, fastest=then, next=1.1 * then) for each in kept.stations]
    session.baseline(kept.model_copy(update={"stations": tuple(once)}))
    return session._doc


def _checked_up(document: Document, *, compared: bool) -> Document:
    """A check-up of the machine as that session left it, marked at every station; or compared with nothing."""
    session = Session.start(document.machine, practice=document.practice)
    last = marks_last(Session(document).effective)
    if compared:
        session.last_marks(kept_marks(last))
    session.skip("checks", WHY)
    for mark in last:
        session.mark(mark.station, u=mark.u + 0.1, v=mark.v)
    session.begin("beam path")
    for gate in ("rules", *GATES[3:]):
        session.gate(gate)
    return session._doc


def _closed_up(document: Document, until: str = "next-part") -> Document:
    """Item by item, the last one left open."""
    for _ in range(MOST):
        step = current_step(Session(document), IN_MM)
        if step.key == until:
            return document
        done = "item-open" if step.item == CLOSING[-1].name else "item-done"
        document = _after(document, "acknowledge" if step.gate else done)
    raise AssertionError("closing up does not end")


def _before_the_beam(document: Document) -> dict[str, Document]:
    """What changed, and the checks: all of them answered in the order in which they are asked."""
    visit = Session(document)
    visit.begin("what changed")
    there = {"ask": visit._doc}
    there["ask-more"] = _after(
        there["ask"], "answer: toward one corner", "answer: suddenly", "answer: no", "answer: leaning"
    )
    rest = ("enough", "answer: bumped", "answer: nothing", "answer: the same")
    there["suspects"] = _after(there["ask-more"], *rest)
    there |= _cleaning(there["suspects"])
    visit = Session(there["suspects"])
    visit.begin("checks")
    ended = visit._doc
    for _ in range(MOST):
        step = current_step(Session(ended), IN_MM)
        if step.key == "verdict":
            return there | {"verdict": ended, "level-bed": _after(ended, "level-bed")}
        if step.gate == "attended":
            there["attended"] = ended
            warm = Session(ended)
            warm.check("water", "bad", celsius=31.5, room=26.0, humidity=55.0)
            there["halt"] = warm._doc
        if step.key == "check":
            there["check-bed" if step.item == "bed" else "check"] = ended
        ended = _after(ended, _answer_to(step))
    raise AssertionError("the checks do not end")


def _cleaning(document: Document) -> dict[str, Document]:
    """Optic by optic; the lens turns out to be cracked, and then pulses are due."""
    visit = Session(document)
    visit.begin("clean")
    there = {"clean-combiner": _after(visit._doc, "acknowledge")}
    there["clean-optic"] = _after(there["clean-combiner"], "none-here")
    there["clean-out"] = _after(there["clean-optic"], "comes-out")
    cracked = Session(_after(there["clean-out"], *["cared: clean"] * 3, "cared: cracked"))
    cracked.begin("beam path")
    return there | {"halt-optic": cracked._doc}


def _answer_to(step: Step) -> str:
    if step.gate:
        return "acknowledge"
    return "check-figures: slope" if step.item == "bed" else "checked: good"


def _marked_at(document: Document, target: Target, u: float) -> Document:
    """The session with one mark more, so many mm to the right of the middle of that mirror's own opening."""
    session = Session(document)
    session.mark(target, u=u, v=0.5, x=0.0, y=400.0, target=target)
    return session._doc


def _after(document: Document, *choices: str) -> Document:
    """The session as it would be after these choices."""
    session = Session(document)
    for choice in choices:
        key, _, came = choice.partition(": ")
        given = {
            "lock": {"mirror": 1},
            "skip-part": {"why": "the service sees to it"},
            "other-part": {"part": "beam path"},
        }.get(key, {})
        given |= {"option": came} if key in ("answer", "checked", "cared") else {}
        given |= {"figures": FIGURES[came]} if key == "check-figures" else {}
        perform(session, current_step(session, IN_MM), key, **given)  # type: ignore[arg-type]
    return session._doc
