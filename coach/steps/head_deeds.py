"""What choices about head, lens, nozzle and pointer do: each makes one entry."""

from coach.errors import InputError
from coach.session.head_events import HeadOutcome
from coach.session.session import Session
from coach.steps.about import About
from coach.steps.deeds import Deed, Given, Typed
from coach.steps.form import Figures

READY = "ready"
"""Name of the entry that card or tape are in place for the next pulse."""
UNDESCRIBED = "undescribed"
"""Name of the entry that the head stays undescribed."""
NO_POINTER = "this machine has no pointer"


def ready(session: Session, about: About, given: Given, typed: Typed) -> None:
    """Card or tape are in place."""
    assert about.part is not None
    session.item(about.part, READY, True)


def fired(outcome: HeadOutcome) -> Deed:
    """One pulse was made there, and that was seen."""

    def deed(session: Session, about: About, given: Given, typed: Typed) -> None:
        shot = about.below
        assert shot is not None
        session.head_pulse(shot.target, outcome, lowered=shot.lowered, lens=shot.lens)

    return deed


def nothing_through(session: Session, about: About, given: Given, typed: Typed) -> None:
    """A pulse, and nothing came through the nozzle."""
    session.nozzle_mark()


def card_measured(session: Session, about: About, given: Given, typed: Typed) -> None:
    """The mark on the card was measured."""
    assert given.figures is not None
    assert about.below is not None
    right, back, lowered = (millimetres(given.figures, name) for name in ("right", "back", "lowered"))
    session.bed_mark(right, back, lowered, lens=about.below.lens, typed=dict(typed))


def nozzle_measured(*, cut: bool) -> Deed:
    """The mark under the nozzle was measured; `cut` by its rim."""

    def deed(session: Session, about: About, given: Given, typed: Typed) -> None:
        assert given.figures is not None
        right, back = (millimetres(given.figures, name) for name in ("right", "back"))
        session.nozzle_mark(right, back, cut=cut, typed=dict(typed))

    return deed


def set_out_below(session: Session, about: About, given: Given, typed: Typed) -> None:
    """The person sets out to adjust as advised."""
    assert about.head is not None
    session.plan(about.head)


def lock_mirror_3(session: Session, about: About, given: Given, typed: Typed) -> None:
    """The lock nuts of mirror 3 were tightened."""
    session.lock(3)


def head_mended(session: Session, about: About, given: Given, typed: Typed) -> None:
    """What the stop named was seen to."""
    assert about.head is not None
    session.mended(about.head.cause)


def head_as_it_is(session: Session, about: About, given: Given, typed: Typed) -> None:
    """It is brought to the best that can be had, as it is."""
    assert about.head is not None
    session.best(about.head.cause)


def spot_measured(session: Session, about: About, given: Given, typed: Typed) -> None:
    """Where the pointer's spot lies beside the mark."""
    assert given.figures is not None
    right, back, lowered = (millimetres(given.figures, name) for name in ("right", "back", "lowered"))
    session.pointer(right, back, lowered, typed=dict(typed))


def spot_on_mark(session: Session, about: About, given: Given, typed: Typed) -> None:
    """The pointer's spot lies on the mark."""
    assert about.below is not None
    session.pointer(0.0, 0.0, about.below.lowered)


def no_pointer(session: Session, about: About, given: Given, typed: Typed) -> None:
    """This machine has none."""
    session.skip("pointer", NO_POINTER)


def combiner_moved(session: Session, about: About, given: Given, typed: Typed) -> None:
    """The combiner was tilted or refitted: the beam behind it stands elsewhere, as after work at the tube."""
    session.disturbed("tube")


def to_the_beam(session: Session, about: About, given: Given, typed: Typed) -> None:
    """Back to the marks along the beam's path."""
    session.begin("beam path")


def millimetres(figures: Figures, name: str) -> float:
    """A length of a form, mm.  Raises InputError where it was not given."""
    if name not in figures:
        raise InputError(
            f"{name!r} was not given", expected="right and back, in mm, and of a card how far it was lowered"
        )
    return float(figures[name])


def described(session: Session, about: About, given: Given, typed: Typed) -> None:
    """Mirror 3, lens and nozzle were described."""
    assert given.machine is not None
    session.described(given.machine)


def undescribed(session: Session, about: About, given: Given, typed: Typed) -> None:
    """They stay undescribed: on without mirror 3's screws."""
    session.item("head", UNDESCRIBED, False)
