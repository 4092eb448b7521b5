"""What was done about it: what was mended, cleaned, turned, moved and tightened."""

from collections import Counter
from collections.abc import Iterator, Sequence

from coach.report.page import Answer
from coach.report.so_far import capital, finished, listed
from coach.session.events import Lock, Mended, Shift, Turn
from coach.session.session import Session
from coach.session.visit_events import Check
from coach.shown import Wording
from coach.steps.entries import entry_words

QUESTION = "What was done?"


def done_answer(session: Session, wording: Wording) -> Answer:
    """Every deed in a few words, then what was turned and moved how often."""
    short = [*_put_right(session), *_handled(session)]
    if not short:
        return Answer(QUESTION, f"Nothing was turned, moved or cleaned{'' if finished(session) else ' so far'}")
    return Answer(QUESTION, capital("; ".join(short)), tuple(_told(session, wording)))


def _put_right(session: Session) -> Iterator[str]:
    """Checks that were bad and are good now; stops that were mended."""
    ever_bad = [e.name for e in session.effective if isinstance(e, Check) and e.result == "bad"]
    now = session.checks()
    good = [name for name in dict.fromkeys(ever_bad) if now[name].result == "good"]
    if good:
        yield f"put right: {listed(good)}"
    seen_to = list(dict.fromkeys(e.cause for e in session.effective if isinstance(e, Mended)))
    if seen_to:
        yield f"seen to after a stop: {listed(seen_to)}"


def _handled(session: Session) -> Iterator[str]:
    events = session.effective
    cared = {optic: result for optic, result in session.cared().items() if result != "not opened"}
    if cared:
        yield f"{len(cared)} optic{_s(list(cared))} looked at and cleaned"
    turned = sorted({e.mirror for e in events if isinstance(e, Turn) and any(e.screws.values())})
    if turned:
        yield f"screws turned at mirror{_s(turned)} {listed(turned)}"
    moved = list(dict.fromkeys(e.part for e in events if isinstance(e, Shift) and (e.up or e.right or e.back)))
    if moved:
        yield f"moved: {listed(moved)}"
    locked = sorted({e.mirror for e in events if isinstance(e, Lock)})
    if locked:
        yield (
            "lock nuts tightened"
            if locked == turned
            else f"lock nuts tightened at mirror{_s(locked)} {listed(locked)}"
        )


def _told(session: Session, wording: Wording) -> Iterator[str]:
    """How often each mirror's screws were turned, and each move with its amount."""
    cared = session.cared()
    if cared:
        yield f"Optics: {'; '.join(f'{optic} {result}' for optic, result in cared.items())}."
    times = Counter(e.mirror for e in session.effective if isinstance(e, Turn) and any(e.screws.values()))
    if times:
        rounds = [f"mirror {mirror}, {_times(count)}" for mirror, count in sorted(times.items())]
        yield f"Turned: {'; '.join(rounds)}."
    yield from (
        f"{entry_words(e, wording)}."
        for e in session.effective
        if isinstance(e, Shift) and (e.up or e.right or e.back)
    )


def _times(count: int) -> str:
    return "once" if count == 1 else f"{count} times"


def _s(things: Sequence[object]) -> str:
    return "s" if len(things) > 1 else ""
