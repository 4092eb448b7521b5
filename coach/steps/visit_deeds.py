"""What choices about the parts of a visit do: each makes one entry, as those along the beam do."""

from coach.session.part_events import ANEW
from coach.session.session import Session
from coach.steps.about import About
from coach.steps.deeds import Deed, Given, Typed
from coach.steps.visit_progress import out_of, said_out
from coach.triage.causes import ABOUT

NOTHING_TURNED = "no screw was turned, so no lock nut was slackened"
"""What the entry keeps of it, so that nobody takes the nuts for tried."""


def begin_part(session: Session, about: About, given: Given, typed: Typed) -> None:
    """On to the part that comes next."""
    assert about.part is not None
    session.begin(about.part)


def begin_other(session: Session, about: About, given: Given, typed: Typed) -> None:
    """To another part than the one that comes next."""
    assert given.part is not None
    session.begin(given.part)


def skip_part(session: Session, about: About, given: Given, typed: Typed) -> None:
    """The part that comes next is left out, for a reason."""
    assert about.part is not None
    assert given.why is not None
    session.skip(about.part, given.why)


def end_beam_path(session: Session, about: About, given: Given, typed: Typed) -> None:
    """The beam's path is as good as it gets today: on with the visit."""
    session.end("beam path")


def end_part(session: Session, about: About, given: Given, typed: Typed) -> None:
    """The person is through with this part."""
    assert about.part is not None
    session.end(about.part)


def part_anew(session: Session, about: About, given: Given, typed: Typed) -> None:
    """This part is gone through once more."""
    assert about.part is not None
    session.item(about.part, ANEW, False)


def answer(session: Session, about: About, given: Given, typed: Typed) -> None:
    """A question about what changed is answered."""
    assert about.item is not None
    assert given.option is not None
    session.answer(about.item, given.option)


def checked(session: Session, about: About, given: Given, typed: Typed) -> None:
    """A check ended, as the eye says."""
    assert about.item is not None
    assert given.option is not None
    session.check(about.item, given.option)


def check_measured(session: Session, about: About, given: Given, typed: Typed) -> None:
    """A check was measured: its figures say how it ended."""
    assert about.item is not None
    assert given.figures is not None
    found = session.judged(about.item, given.figures)
    session.check(about.item, found.result, **found.figures)


def check_again(session: Session, about: About, given: Given, typed: Typed) -> None:
    """What the verdict names is looked at again."""
    check = ABOUT[session.verdict().cause or "alignment"].check
    assert check is not None
    session.item("checks", check, False)


def cared(session: Session, about: About, given: Given, typed: Typed) -> None:
    """An optic was cleaned, or left, and that is how it looks."""
    assert about.item is not None
    assert given.option is not None
    session.care(about.item, given.option, taken_out=said_out(session.effective, about.item))


def comes_out(session: Session, about: About, given: Given, typed: Typed) -> None:
    """The optic cannot be reached where it is."""
    assert about.item is not None
    session.item("clean", out_of(about.item), True)


def none_here(session: Session, about: About, given: Given, typed: Typed) -> None:
    """The machine has no such optic."""
    assert about.item is not None
    session.item("clean", about.item, True)


def renewed(session: Session, about: About, given: Given, typed: Typed) -> None:
    """A broken optic was replaced: a new one is in its mount."""
    assert about.item is not None
    session.care(about.item, "clean", taken_out=True)


def enough(session: Session, about: About, given: Given, typed: Typed) -> None:
    """All that there is to say to a question was said."""
    assert about.part is not None
    assert about.item is not None
    session.item(about.part, about.item, True)


def leave_untested(session: Session, about: About, given: Given, typed: Typed) -> None:
    """Nothing may be fired: the interlock's test stays open, and closing up goes on."""
    session.item("close up", "interlock", False)


def nothing_turned(session: Session, about: About, given: Given, typed: Typed) -> None:
    """No lock nut was slackened: the thing on the list is done with, and nobody tried a nut."""
    session.item("close up", "locks", True, NOTHING_TURNED)


def found_broken(session: Session, about: About, given: Given, typed: Typed) -> None:
    """The look at the lens found a crack or a burnt spot: nothing is fired at it before a new one is in."""
    session.care("lens", "cracked")


def seen_to(done: bool) -> Deed:
    """The thing on the list was seen to, or stays open."""

    def deed(session: Session, about: About, given: Given, typed: Typed) -> None:
        assert about.part is not None
        assert about.item is not None
        session.item(about.part, about.item, done)

    return deed
