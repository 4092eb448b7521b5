"""What the practice machine shows beside each step of a rehearsed visit, where there is something to be seen."""

from collections.abc import Callable, Mapping

from coach.practice import visit_seen
from coach.practice.visit_bench import VisitBench
from coach.practice.visit_seen import Seen
from coach.session.events import Gate, Note, Opened
from coach.session.head_events import HeadPulse
from coach.session.session import Session
from coach.shown import Wording
from coach.steps.about import BelowShot
from coach.steps.cut_progress import cut_progress, series
from coach.steps.known_sheets import cut_part
from coach.steps.stages.checking import check_of
from coach.steps.stages.cleaning import optic_of
from coach.steps.step import Step

Beside = Callable[[VisitBench, Session, Step, Wording], Seen | None]


def seen_at(bench: VisitBench, session: Session, step: Step, wording: Wording) -> Seen | None:
    """What somebody sees there who does what the step asks."""
    looks = BESIDE.get(step.key)
    return looks(bench, session, step, wording) if looks is not None else None


def _coming(session: Session) -> int:
    """A number of its own for what is seen until the next entry about the machine; opening anew changes nothing."""
    return 1 + max((event.id for event in session.events if not isinstance(event, Opened | Gate | Note)), default=0)


def _asked(bench: VisitBench, session: Session, step: Step, wording: Wording) -> Seen:
    assert step.item is not None
    return visit_seen.of_question(bench, step.item, more=step.more)


def _checked(bench: VisitBench, session: Session, step: Step, wording: Wording) -> Seen:
    return visit_seen.of_check(bench, check_of(step), _coming(session), wording)


def _sheet(bench: VisitBench, session: Session, step: Step, wording: Wording) -> Seen:
    return visit_seen.of_sheet(bench)


def _cut(bench: VisitBench, session: Session, step: Step, wording: Wording) -> Seen:
    assert step.item is not None
    progress = cut_progress(session, cut_part(step.part))
    assert progress.sheet is not None
    lines, warm = series(session, progress, step.item), progress.station is None
    return visit_seen.of_cut(bench, step.item, lines, progress.sheet.id, warm=warm)


def _seen_to(bench: VisitBench, session: Session, step: Step, wording: Wording) -> Seen | None:
    return visit_seen.of_verdict(bench, session.verdict().cause)


def _optic(bench: VisitBench, session: Session, step: Step, wording: Wording) -> Seen:
    return visit_seen.of_optic(bench, optic_of(step))


def _below_pulse(bench: VisitBench, session: Session, step: Step, wording: Wording) -> Seen:
    """Whether the pulse that is made now leaves a mark."""
    shot = step.below
    assert shot is not None
    came = shot.target == "pointer" or bool(_mark_below(bench, shot, _coming(session), wording).figures)
    return Seen("a mark." if came else "no mark at all.", picks="mark" if came else "nothing")


def _below_mark(bench: VisitBench, session: Session, step: Step, wording: Wording) -> Seen:
    """Where the mark of the pulse that was made lies, or that it came through nothing."""
    pulse = next(event for event in reversed(session.effective) if isinstance(event, HeadPulse))
    assert step.below is not None
    return _mark_below(bench, step.below, pulse.id, wording)


def _mark_below(bench: VisitBench, shot: BelowShot, key: int, wording: Wording) -> Seen:
    if shot.target == "pointer":
        return visit_seen.of_pointer(bench, shot.lowered, key=key, wording=wording)
    if shot.target == "nozzle":
        return visit_seen.of_nozzle(bench, key=key, wording=wording)
    return visit_seen.of_card(bench, shot.lowered, lens=shot.lens, key=key, wording=wording)


def _turned_pointer(bench: VisitBench, session: Session, step: Step, wording: Wording) -> Seen:
    assert step.below is not None
    return visit_seen.of_pointer(bench, step.below.lowered, key=_coming(session), wording=wording)


BESIDE: Mapping[str, Beside] = {
    "ask": _asked,
    "check": _checked,
    "halt": _checked,
    "verdict": _seen_to,
    "level-bed": _seen_to,
    "clean-optic": _optic,
    "head-pulse": _below_pulse,
    "head-nothing": _below_mark,
    "bed-mark": _below_mark,
    "nozzle-mark": _below_mark,
    "pointer-spot": _below_mark,
    "pointer-turn": _turned_pointer,
    "cut-sheet": _sheet,
    "cut-station": _cut,
}
"""Step to what is seen there."""
