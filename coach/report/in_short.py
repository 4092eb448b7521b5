"""A visit in a few sentences: what was wrong, what was done, whether it cuts again, how the beam stands."""

import math
from collections.abc import Sequence
from typing import Any

from coach.advice import words
from coach.advice.chance_words import percent
from coach.advice.outlook import outlook
from coach.cutting.limits import FEWEST
from coach.session.cut_checks import cut_runs
from coach.session.events import Finish, Lock, Mark, Mended, Miss, Shift, Turn
from coach.session.session import Session
from coach.session.visit_events import Care, Check, Cut
from coach.shown import Wording
from coach.steps.current import current_step
from coach.steps.entries import doing_words
from coach.steps.results import worst_before
from coach.steps.stages.cut_words import headline, told
from coach.steps.stages.verdict import headline as verdict_headline
from coach.steps.suspects_said import NAMED
from coach.triage.findings import CAUSE_OF

INVENTED = "Practice: machine, marks and cuts are invented. Nothing here is true of any real machine."
NOTHING = "Nothing was measured so far: what is wrong is not known."


def finished(session: Session) -> bool:
    """Whether the person closed the job."""
    return any(isinstance(event, Finish) for event in session.effective)


def warnings(session: Session) -> tuple[str, ...]:
    """What stands above everything else."""
    invented = (INVENTED,) if session.practice is not None else ()
    if finished(session):
        return invented
    doing = doing_words(session.effective)
    return (*invented, f"Not finished: this is how it stood so far ({doing}). What follows may still change.")


def wrong(session: Session, wording: Wording) -> str:
    """What was wrong, as far as the entries say: the checks' verdict in a visit, and how far off the marks lay."""
    found: list[str] = []
    if session.is_visit and any(isinstance(event, Check | Cut | Mark) for event in session.effective):
        checks = [event for event in session.effective if isinstance(event, Check)]
        bad = [NAMED[CAUSE_OF[check.name]] for check in checks if check.result == "bad"]
        found += [f"Found by checks: {_and(list(dict.fromkeys(bad)))}."] if bad else []
        found.append(_verdict(session, wording))
    good = wording.exact(session.machine.tolerance)
    before = worst_before(session.effective)
    if before is not None:
        off = wording.length(before)
        found.append(
            f"Before anything was adjusted the worst mark at the head lay {off} off the middle (good: {good})."
        )
    elif (marks := _at_head(session.effective)) and not session.belief.adjustments:
        off = wording.length(max(marks))
        found.append(f"The worst mark at the head lies {off} off the middle (good: {good}); nothing was adjusted.")
    missed = sum(isinstance(event, Miss) for event in session.effective)
    found += [f"Pulses that missed their target: {missed}."] if missed else []
    return " ".join(found) or NOTHING


def _verdict(session: Session, wording: Wording) -> str:
    verdict = session.verdict(wording)
    if verdict.ends == "test":
        return f"As it stands now the cause is not known; to be looked at next: {NAMED[verdict.cause]}."
    state = next((each.state for each in session.suspects() if each.name == verdict.cause), "open")
    return f"As it stands now: {verdict_headline(verdict, by_its_test=state == 'found')}. {verdict.says}"


def _at_head(events: Sequence[Any]) -> list[float]:
    return [math.hypot(event.u, event.v) for event in events if isinstance(event, Mark) and event.target == "head"]


def done(session: Session) -> str:
    """What was done about it."""
    events = session.effective
    turned = sorted({event.mirror for event in events if isinstance(event, Turn) and any(event.screws.values())})
    moved = list(dict.fromkeys(e.part for e in events if isinstance(e, Shift) and (e.up or e.right or e.back)))
    cleaned = list(dict.fromkeys(e.optic for e in events if isinstance(e, Care) and e.result != "not opened"))
    seen_to = list(dict.fromkeys(e.cause for e in events if isinstance(e, Mended)))
    locked = sorted({event.mirror for event in events if isinstance(event, Lock)})
    deeds = [
        f"screws turned at mirror{_s(turned)} {_and(turned)}" if turned else "",
        f"moved: {_and(moved)}" if moved else "",
        f"optics seen to: {_and(cleaned)}" if cleaned else "",
        f"put right after a stop: {_and(seen_to)}" if seen_to else "",
        f"lock nuts tightened at mirror{_s(locked)} {_and(locked)}" if locked else "",
    ]
    said = "; ".join(deed for deed in deeds if deed)
    return f"{said[:1].upper()}{said[1:]}." if said else "Nothing was turned, moved or cleaned so far."


def _s(things: Sequence[object]) -> str:
    return "s" if len(things) > 1 else ""


def _and(things: Sequence[object]) -> str:
    *first, last = [str(thing) for thing in things]
    return f"{', '.join(first)} and {last}" if first else last


def beam_now(session: Session, wording: Wording) -> str:
    """How far off the beam is to be expected now, with its doubt; "" where there is no mark to say it from."""
    if not any(isinstance(event, Mark) for event in session.effective):
        return ""
    view = outlook(session.belief.layout, session.belief.settled)
    return (
        f"Beam at the head as believed now: worst station {wording.length(view.worst)} off the middle (one time in "
        f"ten more than {wording.length(view.worst_high)}); every station within "
        f"{wording.exact(session.machine.tolerance)} with {percent(view.chance)} probability."
    )


def cut_result(session: Session, number: int) -> tuple[str, tuple[str, ...]]:
    """A cut check's headline with its figure, and all else that it says; `number` counts from 0."""
    cut = len(cut_runs(session.effective)[number].limits)
    if cut < FEWEST:
        return f"Cuts as it did: not known ({cut} of at least {FEWEST} stations cut)", ()
    check = session.cuts(number)
    before = session.cut_beside(number, number - 1) if number else None
    return ", ".join(headline(check, before)), told(session, check, before, number)


def cuts_now(session: Session) -> str:
    """The newest cut check's answer."""
    runs = len(cut_runs(session.effective))
    return (
        f"Newest cut check: {cut_result(session, runs - 1)[0]}."
        if runs
        else "Does it cut again: no cut check was made."
    )


def next_step(session: Session, wording: Wording) -> str:
    """What the coach would go on with; "" once finished."""
    if finished(session):
        return ""
    step = current_step(session, wording)
    advised = "" if session.is_visit else f" About the beam: {words.why(session.advice().reason, wording)}"
    if step.gate is not None:
        return f"Next step: its cautions are to be confirmed first.{advised}"
    action = f": {step.action}" if step.action and step.action != step.title else ""
    said = f"Next step: {step.title}{action}"
    return f"{said if said.endswith(('.', '?', '!')) else f'{said}.'}{advised}"
