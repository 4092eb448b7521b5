"""What choices about the parts of a visit do: each makes one entry, as those along the beam do."""

from coach.session.session import Session
from coach.steps.about import About
from coach.steps.deeds import Deed, Given, Typed


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


def seen_to(done: bool) -> Deed:
    """The thing on the list was seen to, or stays open."""

    def deed(session: Session, about: About, given: Given, typed: Typed) -> None:
        assert about.part is not None
        assert about.item is not None
        session.item(about.part, about.item, done)

    return deed
