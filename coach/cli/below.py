"""`bed-mark`, `nozzle-mark` and `pointer`: what one pulse below mirror 3 left, as it was measured."""

from argparse import Namespace

from coach.cli.entered import entered
from coach.cli.where import length, session_of
from coach.cli.words import typed_words
from coach.errors import InputError
from coach.head.expectation import unlikely
from coach.head.marks import HeadMark
from coach.session.checks import checked_sd
from coach.session.events import Typed
from coach.session.head_entries import checked_lowered
from coach.session.session import Session
from coach.shown import IN_MM
from coach.steps.entries import entry_words
from coach.steps.head_forms import doubt_words

ADVISE = "Ask for advice before the next pulse: coach advise-head."


def bed_mark(arguments: Namespace) -> int:
    """Enter a mark on the card on the bed."""
    session, typed = session_of(arguments), _typed(arguments)
    right, back = _place(arguments)
    lowered = checked_lowered(length(arguments.lowered, arguments.unit, "how far the bed was lowered") or 0.0)
    sd = checked_sd(length(arguments.sd, arguments.unit, "the doubt"))
    read = sd or session.head_belief.tuning.head.card_sd
    _ask(session, HeadMark("bed", right, back, read, lowered, arguments.lens), keep=arguments.keep)
    session.bed_mark(right, back, lowered, lens=arguments.lens, sd=sd, typed=typed)
    return _entered(session, typed, ADVISE)


def nozzle_mark(arguments: Namespace) -> int:
    """Enter a mark on the tape under the nozzle, or that nothing came through."""
    session, typed = session_of(arguments), _typed(arguments)
    sd = checked_sd(length(arguments.sd, arguments.unit, "the doubt"))
    if arguments.nothing:
        if typed.keys() - {"unit"} or arguments.cut or sd is not None:
            raise InputError("Nothing came through, and yet a mark is told", expected="--nothing alone")
        session.nozzle_mark()
        return _entered(session, {}, ADVISE)
    right, back = _place(arguments)
    _ask(
        session, HeadMark("nozzle", right, back, sd or session.head_belief.tuning.head.nozzle_sd), keep=arguments.keep
    )
    session.nozzle_mark(right, back, cut=arguments.cut, sd=sd, typed=typed)
    return _entered(session, typed, ADVISE)


def pointer(arguments: Namespace) -> int:
    """Enter where the pointer's spot lies beside the mark."""
    session, typed = session_of(arguments), _typed(arguments)
    right, back = _place(arguments)
    lowered = checked_lowered(length(arguments.lowered, arguments.unit, "how far the bed was lowered") or 0.0)
    session.pointer(right, back, lowered, typed=typed)
    return _entered(session, typed, "Ask for advice: coach advise-pointer.")


def _place(arguments: Namespace) -> tuple[float, float]:
    """Right and back, mm.  Raises InputError."""
    right, back = (
        length(getattr(arguments, way), arguments.unit, f"how far to the {way}") for way in ("right", "back")
    )
    if right is None or back is None:
        raise InputError(
            "No place was given", expected="--right and --back together", example="--right 0,3 --back -0,1"
        )
    return right, back


def _typed(arguments: Namespace) -> Typed:
    told = {name: getattr(arguments, name, None) for name in ("right", "back", "lowered")}
    return {name: text.strip() for name, text in told.items() if text is not None} | {"unit": arguments.unit}


def _ask(session: Session, mark: HeadMark, *, keep: bool) -> None:
    """Raises InputError about a mark far from where it is expected, unless it is kept."""
    if not keep and unlikely(session.head_belief, mark):
        question = doubt_words(session, mark, IN_MM)
        raise InputError(f"Nothing was entered: {question} To keep it, add --keep")


def _entered(session: Session, typed: Typed, then: str) -> int:
    told = {name: text for name, text in typed.items() if name != "unit"}
    entered(session, f"{entry_words(session.effective[-1], IN_MM)}{typed_words(told)}. {then}")
    return 0
