"""What was wrong, as far as the entries say: by checks, by looks at the optics, by marks."""

import math
from collections.abc import Iterator
from typing import Any

from coach.cutting.limits import FEWEST
from coach.head.outlook import outlook
from coach.report.good_now import MEASURED, weak_as_it_stands
from coach.report.page import Answer
from coach.report.so_far import capital, listed
from coach.session.cut_checks import cut_runs
from coach.session.events import Event, Mark, Miss, Shift, Turn
from coach.session.head_replay import head_belief
from coach.session.session import Session
from coach.session.visit_events import Care, Check, Cut
from coach.shown import Wording
from coach.steps.entries import entry_words
from coach.steps.head_said import lean_sentence
from coach.steps.results import worst_before
from coach.steps.stages.verdict import headline
from coach.steps.suspects_said import NAMED
from coach.triage.cleaned import DULL
from coach.triage.findings import CAUSE_OF

QUESTION = "What was wrong?"
NOTHING = "Not known: nothing was measured so far"
NOT_ALL = "That is not all of it: it still cuts weaker than it did, and what else weakens it was not found."
PLACES = {"toward one corner", "at one place"}
"""What was said of where the cuts are worse that leaves open which place that is."""
Fault = tuple[str, str]
"""What it is called, and what showed it."""


def wrong_answer(session: Session, wording: Wording) -> Answer:
    """Every fault that was found; else what is believed, and that nothing is known where nothing was entered."""
    faults = list(_faults(session, wording))
    said = tuple(dict.fromkeys(words for _, words in faults))
    if faults:
        named = listed(list(dict.fromkeys(name for name, _ in faults)))
        named = f"Not all of it was found; found: {named}" if _more_is_wrong(session) else capital(named)
        return Answer(QUESTION, named, (*said, *_complaint(session), *_missed(session), *_not_all(session)))
    return Answer(QUESTION, *_without_fault(session, wording))


def _not_all(session: Session) -> tuple[str, ...]:
    return (NOT_ALL,) if _more_is_wrong(session) else ()


def _more_is_wrong(session: Session) -> bool:
    return weak_as_it_stands(session) and not session.verdict().service


def _faults(session: Session, wording: Wording) -> Iterator[Fault]:
    bad: dict[str, Event] = {}
    for event in session.effective:
        if isinstance(event, Check) and event.result == "bad":
            bad.setdefault(NAMED[CAUSE_OF[event.name]], event)
        elif isinstance(event, Care) and event.result in DULL:
            bad.setdefault(f"{event.optic} ({DULL[event.result]})", event)
    yield from ((name, f"{entry_words(event, wording)}.") for name, event in bad.items())
    yield from _of_the_beam(session, wording)
    yield from _of_the_head(session, wording)


def _of_the_beam(session: Session, wording: Wording) -> Iterator[Fault]:
    good = session.machine.tolerance
    before = worst_before(session.effective)
    marks = [math.hypot(e.u, e.v) for e in session.effective if isinstance(e, Mark) and e.target == "head"]
    if before is not None and before > good:
        yield (
            "the beam's path",
            f"Before anything was adjusted the worst mark at the head lay {wording.length(before)} off the middle "
            f"(good: {wording.exact(good)}).",
        )
    elif before is None and marks and not session.belief.adjustments and max(marks) > good:
        yield (
            "the beam's path",
            f"The worst mark at the head lies {wording.length(max(marks))} off the middle (good: "
            f"{wording.exact(good)}); nothing was adjusted.",
        )


def _of_the_head(session: Session, wording: Wording) -> Iterator[Fault]:
    """Mirror 3 or the lens, where it was adjusted: how the beam leaned there as it was believed to before."""
    events = session.effective
    number = next((n for n, e in enumerate(events) if _adjusts_head(e)), None)
    if number is None:
        return
    belief = head_belief(session.machine, events[:number], session.created.date())
    now, good = outlook(belief), belief.tuning.head
    leans = math.hypot(*now.lean) - 2 * max(now.lean_sd) > good.lean
    if not leans and math.hypot(*now.nozzle) - 2 * max(now.nozzle_sd) <= good.nozzle:
        return  # within the doubt it was good, and only set more finely
    said = lean_sentence(now, wording) if max(now.lean_sd) < MEASURED else ""
    adjusted = [e for e in events if _adjusts_head(e)]
    parts = [name for name in ("mirror 3", "the lens") if any(_part_of(e) == name for e in adjusted)]
    showed = (
        f"Before the head was adjusted, of the beam below it: {said[:1].lower()}{said[1:]}"
        if said
        else f"The beam did not go straight through the head: {listed(parts)} had to be adjusted."
    )
    yield f"the head ({listed(parts)})", showed


def _adjusts_head(event: Event) -> bool:
    return _part_of(event) != ""


def _part_of(event: Event) -> str:
    match event:
        case Turn(mirror=3) if any(event.screws.values()):
            return "mirror 3"
        case Shift(part="lens") if event.up or event.right or event.back:
            return "the lens"
        case _:
            return ""


def _complaint(session: Session) -> tuple[str, ...]:
    """What the person said of the cuts."""
    weak = session.answers().get("weak", ())
    if not weak or weak == ("not known",):
        return ()
    return (f"Said of the cuts: worse {listed(weak)}{_slowest(session) if set(weak) & PLACES else ''}.",)


def _slowest(session: Session) -> str:
    """Which place that was, by the first cut check; "" where it does not show any station to be slower."""
    limits = [limit for run in cut_runs(session.effective)[:1] for limit in run.limits.values()]
    if len(limits) < FEWEST or not session.cuts(0).uneven:
        return ""
    least = min(limit.high for limit in limits)
    slowest = [limit.station for limit in limits if limit.high == least]
    return f" (the first cut check was slowest at {slowest[0]})" if len(slowest) == 1 else ""


def _missed(session: Session) -> tuple[str, ...]:
    missed = sum(isinstance(event, Miss) for event in session.effective)
    return (f"Pulses that missed their target: {missed}.",) if missed else ()


def _without_fault(session: Session, wording: Wording) -> tuple[str, tuple[str, ...]]:
    """What is believed where no fault was found."""
    events: tuple[Any, ...] = session.effective
    more = (*_complaint(session), *_missed(session))
    if session.is_visit and any(isinstance(event, Check | Cut) for event in events):
        verdict = session.verdict(wording)
        if verdict.ends == "as it was":
            return "Nothing that could be found: the machine is as it was", (verdict.says, *more)
        if verdict.ends == "cut again":
            return "Whether that was all is not known yet", (verdict.says, *more)
        if verdict.ends == "test":
            return "Not known yet", (f"To be looked at next: {NAMED[verdict.cause]}.", *more)
        return headline(verdict), (verdict.says, *more)
    return _by_marks(session) or NOTHING, more


def _by_marks(session: Session) -> str:
    """What marks that all lay within what is good have shown: of stations that nobody marked, nothing; "" without."""
    marks = [event for event in session.effective if isinstance(event, Mark)]
    at_head = {mark.station for mark in marks if mark.target == "head"}
    stations = {station.name for station in session.machine.stations}
    if marks and not at_head:
        targets = listed(sorted({mark.target for mark in marks}))
        return f"Not known: the head's opening was not looked at, only {targets}"
    if stations <= at_head:
        return "Nothing at the head's opening: every mark lay within what is good"
    seen = f"{len(stations & at_head)} of {len(stations)} stations marked, and good"
    return f"Not known: at the head's opening only {seen}" if at_head else ""
