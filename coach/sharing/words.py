"""What is said of a visit that is given away or taken up."""

from datetime import datetime

from coach.session.document import Document
from coach.session.events import Mark, effective
from coach.session.store import Store
from coach.sharing.personal import Kind, Personal
from coach.sharing.taking import Taken
from coach.steps.entries import doing_words, when_words
from coach.steps.stored import is_finished

GOES_ALONG: dict[str, tuple[str, tuple[Kind, ...]]] = {
    "neither": ("Without names and notes", ("name", "note")),
    "names": ("Without names", ("name",)),
    "notes": ("Without notes", ("note",)),
    "all": ("All of it goes along", ()),
}
"""What of a session is given away: in words, and what is left out."""
LONGER: dict[str, str] = {
    "continue": "Go on here with what this copy has more",
    "beside": "Keep it as a copy of its own",
}
"""How a copy that goes on after the one that is here can be taken up."""
KINDS: dict[Kind, str] = {"name": "a name", "note": "a note", "stays": "stays in any case"}


def _counted(count: int, one: str, more: str) -> str:
    return f"{count} {one if count == 1 else more}"


def about(document: Document, now: datetime) -> tuple[str, ...]:
    """What is in a visit's file, in a few lines."""
    counting = effective(document.events)
    marks = sum(isinstance(event, Mark) for event in counting)
    last = f", the last {when_words(document.events[-1].at, now)}" if document.events else ""
    stands = "finished" if is_finished(document) else f"not finished: {doing_words(counting)}"
    return (
        f"{document.title}: begun {when_words(document.created, now)} on the machine {document.machine.name}"
        f"{', invented for practice' if document.practice else ''}.",
        f"{_counted(len(document.events), 'entry', 'entries')}{last}; "
        f"{_counted(marks, 'mark that counts', 'marks that count')}; {stands}.",
    )


def machine_words(document: Document, store: Store) -> str:
    """How the visit's machine stands to those that are described here."""
    name = document.machine.name
    known = next((found.content for found in store.machines() if found.content and found.content.name == name), None)
    if known is None:
        return "Its machine is not described here: the visit has its own description and works by itself."
    if known == document.machine:
        return "Its machine is described here in the same way."
    return f"A machine {name} is described here in another way; the visit keeps its own description."


def taken_words(taken: Taken) -> tuple[str, ...]:
    """What came of it."""
    match taken.done:
        case "kept":
            return (f"Kept in {taken.path}.",)
        case "nothing new":
            assert taken.how is not None
            less = "exactly this copy" if taken.how.kind == "same" else "this copy and more"
            return (f"Nothing new: {taken.path} holds {less}{_left_out(taken)}. Nothing was changed.",)
        case "continued":
            return (f"{taken.path} goes on with what was entered elsewhere, up to entry {_last(taken)}.",)
        case "kept beside":
            return (_parted(taken), f"Both are kept: {_here(taken)} as it was, and this copy in {taken.path}.")
        case "looked at":
            return (_parted(taken),) if taken.how is not None else ("It is not here yet.",)


def _parted(taken: Taken) -> str:
    assert taken.here is not None
    assert taken.how is not None
    mine, common = taken.here.content, taken.how.common
    assert mine is not None
    agree = f"agree up to entry {taken.how.last}" if common else "agree on no entry"
    here, there = len(mine.events) - common, len(taken.document.events) - common
    ways = f"after that {here} more here, {there} more in this copy" if here or there else "and are the same"
    return f"The visit is here already, in {_here(taken)}. Both {agree}; {ways}{_left_out(taken)}."


def _left_out(taken: Taken) -> str:
    exact = taken.how is None or taken.how.word_for_word
    return "" if exact else " (names or notes were left out of one of them)"


def _here(taken: Taken) -> str:
    assert taken.here is not None
    return taken.here.path.name


def _last(taken: Taken) -> int:
    return taken.document.events[-1].id if taken.document.events else 0


def personal_lines(found: tuple[Personal, ...], out: tuple[Kind, ...] = ()) -> tuple[str, ...]:
    """Everything personal, a line each, with what becomes of it."""
    return tuple(
        f"{each.what}: {' '.join(each.text.split())} ({'left out' if each.kind in out else KINDS[each.kind]})"
        for each in found
    )
