"""A visit's file from elsewhere is taken up: checked, compared with what is here, kept beside it, never over it."""

from collections.abc import Callable
from dataclasses import dataclass
from itertools import count
from pathlib import Path
from typing import Any, Literal, assert_never

from coach import files
from coach.errors import Changed, InputError, Unreadable
from coach.session.document import Document, read, to_table
from coach.session.found import Found
from coach.session.session import Session
from coach.session.store import Store
from coach.sharing.copies import Relation, relation

OTHER_COPY = " (other copy{})"
LONGEST_TITLE = 60
"""Signs, as of every name."""
Done = Literal["kept", "kept beside", "continued", "nothing new", "looked at"]
Choice = Literal["", "look", "continue", "beside"]
"""What was said beforehand: nothing; only look; let a longer copy go on here; keep it as one of its own."""


@dataclass(frozen=True)
class Taken:
    """What came of it."""

    document: Document
    done: Done
    path: Path | None
    """The file here, if there is one."""
    here: Found[Document] | None
    """The copy that was here already, if one was."""
    how: Relation | None
    """How the other stands to it."""


def take(folder: Path, path: Path, choice: Choice = "") -> Taken:
    """Take up the visit in a file.  Raises Unreadable for anything else, InputError where a choice is needed first.

    The file itself is left as it is.
    """
    document = checked(path)
    store = Store(folder)
    here, how = _nearest(store, document)
    if choice == "look":
        return Taken(document, "looked at", here.path if here else None, here, how)
    if here is None or how is None:
        return Taken(document, "kept", _keep(store, document), None, None)
    match how.kind:
        case "same" | "shorter":
            return Taken(document, "nothing new", here.path, here, how)
        case "forked":
            return _beside(store, document, here, how)
        case "further":
            return _further(store, document, here, how, choice)
        case _:
            assert_never(how.kind)


def checked(path: Path) -> Document:
    """The document in a visit's file, with nothing in it that cannot be.  Raises Unreadable."""
    table = files.read_toml(path)
    for what, fits in OTHERS.items():
        if fits(table):
            raise Unreadable(path, f"this is {what}, not the file of a visit")
    Session.load(path)
    return read(path)


OTHERS: dict[str, Callable[[dict[str, Any]], bool]] = {
    "the description of a machine": lambda table: "bed" in table and "path" in table,
    "a machine's log of upkeep": lambda table: isinstance(table.get("machine"), str) and "events" in table,
    "what a machine is compared with": lambda table: isinstance(table.get("machine"), str),
}
"""Other files of ours, and how each is known."""


def _nearest(store: Store, document: Document) -> tuple[Found[Document] | None, Relation | None]:
    """The copy here with most in common, the longest of those alike."""
    begun_then = [each for each in store.summaries() if each.content and each.content.created == document.created]
    stored = [each.holding(read(each.path)) for each in begun_then]
    found = [(each, how) for each in stored if each.content and (how := relation(each.content, document))]
    order = ("same", "shorter", "further", "forked")
    found.sort(key=lambda pair: (order.index(pair[1].kind), -pair[1].common))
    return found[0] if found else (None, None)


def _keep(store: Store, document: Document) -> Path:
    return store.keep_new(document.title, document.created, to_table(document))[0]


def _beside(store: Store, document: Document, here: Found[Document], how: Relation) -> Taken:
    """Both stay, and the one that came is called what it is."""
    used = {each.content.title for each in store.summaries() if each.content}
    endings = (OTHER_COPY.format(f" {number}" if number > 1 else "") for number in count(1))
    titles = (f"{document.title[: LONGEST_TITLE - len(ending)].rstrip()}{ending}" for ending in endings)
    named = document.model_copy(update={"title": next(title for title in titles if title not in used)})
    return Taken(named, "kept beside", _keep(store, named), here, how)


def _further(store: Store, document: Document, here: Found[Document], how: Relation, choice: Choice) -> Taken:
    """Only on request it goes on in the file that is here, and only where nothing of that is lost."""
    assert here.content is not None
    if choice == "beside":
        return _beside(store, document, here, how)
    if choice != "continue":
        raise InputError(
            f"Nothing was changed: the visit is here already, in {here.path.name}, and this copy goes on after its "
            f"entry {how.last} with {len(document.events) - how.common} more",
            expected="--continue to let it go on there, or --beside to keep it as a copy of its own",
        )
    if not how.word_for_word:
        raise InputError(
            "Nothing was changed: names or notes were left out of one of both copies, and would be mixed",
            expected="--beside to keep it as a copy of its own",
        )
    draft = document.draft or here.content.draft
    longer = document.model_copy(update={"title": here.content.title, "draft": draft})
    with files.locked(here.path):
        if read(here.path) != here.content:
            raise Changed(here.path)
        files.write_toml(here.path, to_table(longer))
    return Taken(longer, "continued", here.path, here, how)
