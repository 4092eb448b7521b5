"""What has to come with some choices: a turn, a shift, a mirror."""

from collections.abc import Callable
from functools import partial
from typing import Any, Protocol

from textual.app import App

from coach.session.session import Session
from coach.steps import answers
from coach.steps.answers import NOTE, confirmation, drafted, keep_drafted
from coach.steps.step import Choice, Step
from coach.tui.screens.asking import Ask, Field, Typed
from coach.tui.screens.choices import Entry
from coach.tui.screens.dialogs import Confirm, Pick
from coach.units import parse_turns


class Asking(Protocol):
    """A screen at a step, which makes the entries and goes on."""

    session: Session
    step: Step

    @property
    def app(self) -> App[Any]:
        """Where boxes are opened."""

    def record(self, choice: str, *, mirror: int | None = None) -> None:
        """Make the entry."""

    def tell_after(self, words: str) -> None:
        """On to the next step."""


def ask_for(screen: Asking, choice: Choice) -> None:
    """Ask for what the choice wants, make the entry, and go on to the next step."""
    {"turns": _ask_turns, "shift": _ask_shift, "mirror": _ask_mirror}[choice.wants](screen, choice)


def ask_whether(screen: Asking, choice: Choice) -> bool:
    """Read a choice back where one key in passing would do harm; whether that was needed."""
    sentence = confirmation(screen.step, choice)
    if not sentence:
        return False
    box = Confirm(choice.label, (sentence,), "Right, that is so", "No, back")
    screen.app.push_screen(box, lambda answer: screen.record(choice.key) if answer == "right" else None)
    return True


def _ask_turns(screen: Asking, choice: Choice) -> None:
    session, step, task = screen.session, screen.step, screen.step.screw
    assert task is not None
    field = Field("turns", "Turned", drafted(session, choice).get("turns", ""), parse_turns)
    ask = Ask(
        "Turned differently",
        answers.turns_lead(task),
        (field,),
        lambda typed: answers.turns_echo(task, typed["turns"]),
        lambda typed: answers.enter_turns(session, step, choice, typed["turns"]),
        read_back=True,
        keep=partial(keep_drafted, session, choice),
    )
    screen.app.push_screen(ask, lambda done: screen.tell_after("") if done else None)


def _ask_shift(screen: Asking, choice: Choice) -> None:
    session, step, task = screen.session, screen.step, screen.step.shift
    assert task is not None
    before = drafted(session, choice)
    ask = Ask(
        "Moved differently",
        answers.shift_lead(task),
        tuple(
            Field(way, answers.WAYS[way], before.get(way, ""), partial(answers.shift_amount, way))
            for way in answers.shift_ways(task)
        ),
        lambda typed: answers.shift_echo(task, typed),
        lambda typed: answers.enter_shift(session, step, choice, typed),
        read_back=True,
        keep=partial(keep_drafted, session, choice),
    )
    screen.app.push_screen(ask, lambda done: screen.tell_after("") if done else None)


def _ask_mirror(screen: Asking, choice: Choice) -> None:
    def picked(key: str | None) -> None:
        if key is not None:
            screen.record(choice.key, mirror=int(key.removeprefix("mirror")))

    entries = [Entry(f"mirror{mirror}", f"Mirror {mirror}") for mirror in answers.lockable(screen.session)]
    screen.app.push_screen(Pick("Lock nuts tightened", (answers.MIRROR_LEAD,), entries), picked)


def ask_note(app: App[Any], session: Session, then: Callable[[], None]) -> None:
    """Ask for a note and keep it in the session.  Half a note is kept beside whatever else is half typed."""

    def keep(typed: Typed) -> None:
        others = {key: text for key, text in session.draft.items() if key != NOTE}
        session.keep_draft({**others, NOTE: typed[NOTE]} if typed[NOTE] else others)

    def accept(typed: Typed) -> None:
        session.note(typed[NOTE])
        if NOTE in session.draft:
            keep({NOTE: ""})

    field = Field(NOTE, "Note", session.draft.get(NOTE, ""))
    ask = Ask("Note", answers.NOTE_LEAD, (field,), lambda typed: "", accept, keep=keep)
    app.push_screen(ask, lambda done: then() if done else None)
