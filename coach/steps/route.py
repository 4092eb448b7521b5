"""Which parts of a visit the evidence passes over: what was found is mended first, and cut again."""

from coach.cutting.check import Again
from coach.cutting.limits import FEWEST
from coach.session.cut_checks import cut_runs
from coach.session.session import Session
from coach.session.visit_events import Care, Check
from coach.steps.bumped import unmarked
from coach.steps.cut_progress import CutPart, cut_progress, touched_since
from coach.steps.visit_progress import state_of
from coach.triage.causes import CheckName
from coach.triage.cleaned import OPTICS_OF, Optic
from coach.triage.suspects import Verdict
from coach.visit import VisitPart

BEAM_ROOMS: tuple[VisitPart, ...] = ("beam path", "head", "pointer")
"""Where marks are made."""


def passed_over(session: Session) -> tuple[VisitPart, ...]:
    """Parts that nothing speaks for as it stands; they can be gone to all the same.

    Only once the checks are through, and not any more once it was cut again and does not cut as it did; and none of
    which something was bumped since its last mark.
    """
    marks_first = unmarked(session)
    return tuple(part for part in _by_evidence(session) if part not in marks_first)


def _by_evidence(session: Session) -> tuple[VisitPart, ...]:
    again = _again(session, "cut again")
    if state_of("checks", session.effective) != "done" or again in ("no", "unsure") or touched_since(session):
        return ()
    seen_to = mended(session)
    if again == "yes" or (not again and seen_to):
        rooms = _unless_it_leans(session)
        return tuple(part for part in rooms if part != "clean") if OPTICS_OF.keys() & seen_to else rooms
    verdict = session.verdict()
    match verdict.ends:
        case "as it was" if _again(session, "cut check") == "yes":
            return _unless_it_leans(session)
        case "not alignment" if _by_its_own_test(session, verdict):
            cleaning = {"lens", "mirrors"} & {verdict.cause, *verdict.also}
            return BEAM_ROOMS if cleaning else ("clean", *BEAM_ROOMS)
        case _:
            return ()


def stale_now(session: Session) -> dict[CheckName, str]:
    """Checks that are to be made once more, with why; none once it was cut since, and cuts as it did."""
    good = _again(session, "cut again") == "yes" and not touched_since(session)
    return {} if good else session.stale_checks()


def stale_words(session: Session) -> str:
    """Which checks are to be made once more and why, for the person; "" where all of them hold."""
    return " ".join(f"{name.capitalize()} once more. {why}" for name, why in stale_now(session).items())


def still_weak(session: Session) -> bool:
    """Whether the newest cut check is whole and it does not cut as it did."""
    runs = cut_runs(session.effective)
    return bool(runs) and len(runs[-1].limits) >= FEWEST and session.cuts().again == "no"


def passed_words(parts: tuple[VisitPart, ...], session: Session) -> str:
    """Why they are passed over, for the person; "" where none is that is not done anyway."""
    waiting = [
        "cleaning" if part == "clean" else part for part in parts if state_of(part, session.effective) != "done"
    ]
    if not waiting:
        return ""
    *others, last = waiting
    listed = f"{', '.join(others)} and {last}" if others else last
    if _again(session, "cut again") == "yes":
        return f"It cuts as it did: nothing speaks for {listed}. Another part can be gone to at any time."
    return (
        f"Passed over as it stands: {listed}. What was found is mended first; whether it cuts again then tells more. "
        "Another part can be gone to at any time."
    )


def _by_its_own_test(session: Session, verdict: Verdict) -> bool:
    """Whether the cause was found, rather than being what is left over."""
    return any(each.name == verdict.cause and each.state == "found" for each in session.suspects())


def mended(session: Session) -> tuple[CheckName, ...]:
    """Checks that were bad and are good now, in the order in which that was seen; an optic is so once it is clean."""
    bad: set[CheckName] = set()
    good: dict[CheckName, None] = {}
    clean: set[Optic] = set()
    for event in session.effective:
        if isinstance(event, Check):
            good.pop(event.name, None)
            clean.difference_update(OPTICS_OF[event.name] if event.name in ("lens", "mirrors") else ())
            if event.result == "bad":
                bad.add(event.name)
            elif event.result == "good" and event.name in bad:
                good[event.name] = None
        elif isinstance(event, Care):
            (clean.add if event.result == "clean" else clean.discard)(event.optic)
            for name in (name for name in OPTICS_OF if name in bad and event.optic in OPTICS_OF[name]):
                good.pop(name, None)
                if clean.issuperset(OPTICS_OF[name]):
                    good[name] = None
    return tuple(good)


def _unless_it_leans(session: Session) -> tuple[VisitPart, ...]:
    """All that is about optics and beam; where an edge leans or is double the head is looked at, however it cuts."""
    odd = {"leaning", "double lines"} & set(session.answers().get("edge", ()))
    return tuple(part for part in ("clean", *BEAM_ROOMS) if not (odd and part == "head"))


def _again(session: Session, part: CutPart) -> Again:
    """Whether it cuts as it did, by that cut check; "" where none was made, or nothing is known of then."""
    progress = cut_progress(session, part)
    if state_of(part, session.effective) != "done" or progress.number is None or len(progress.limits) < FEWEST:
        return ""
    return session.cuts(progress.number).again
