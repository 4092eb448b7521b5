"""What has to come with some choices: a turn, a shift, a mirror."""

from collections.abc import Callable, Mapping
from functools import partial
from typing import TYPE_CHECKING, Any

from textual.app import App

from coach.errors import InputError
from coach.optics.shifts import USEFUL
from coach.session.checks import checked_shift
from coach.session.events import Gate, Note, Opened
from coach.session.session import Session
from coach.steps.current import shift_words
from coach.steps.perform import perform
from coach.steps.step import Choice
from coach.tui.screens.asking import Ask, Field, Typed
from coach.tui.screens.dialogs import Confirm, Pick
from coach.tui.screens.parts import Entry
from coach.units import parse_length, parse_turns, show_length, show_turns

if TYPE_CHECKING:
    from coach.tui.screens.session import SessionScreen

WAYS = {
    "up": "Up (down is negative)",
    "right": "To the right (to the left is negative)",
    "back": "To the back (to the front is negative)",
}
DIRECTIONS = {"up": ("up", "down"), "right": ("right", "left"), "back": ("to the back", "to the front")}
NOTE = "note"


def ask_for(screen: "SessionScreen", choice: Choice) -> None:
    """Ask for what the choice wants, make the entry, and go on to the next step."""
    {"turns": _ask_turns, "shift": _ask_shift, "mirror": _ask_mirror}[choice.wants](screen, choice)


CONFIRMED: dict[tuple[str, str], str] = {
    ("measure", "missed"): "There was no mark at {station} after all: the pulse missed the tape.",
    ("nothing", "missed"): "The mark at {station} lies outside the tape, although the pulses were strong enough.",
    ("question", "finish"): "It is something else than alignment: close this session, with no pulse made.",
}
"""What is read back before it counts, by step and choice: one key in passing must not make these entries."""


def ask_whether(screen: "SessionScreen", choice: Choice) -> bool:
    """Read a choice back where one key in passing would do harm; whether that was needed."""
    sentence = CONFIRMED.get((screen.step.key, choice.key))
    if sentence is None:
        return False
    station = screen.step.shot.name if screen.step.shot else ""
    box = Confirm(choice.label, (sentence.format(station=station),), "Right, that is so", "No, back")
    screen.app.push_screen(box, lambda answer: screen.record(choice.key) if answer == "right" else None)
    return True


def _keeping(session: Session, choice: Choice) -> tuple[Mapping[str, str], Callable[[Typed], None]]:
    """What was typed for this very choice before, and how to keep what is typed now."""
    key = draft_key(session, choice)
    before = session.draft if session.draft.get("for") == key else {}
    return before, lambda typed: session.keep_draft({"for": key, **typed})


def draft_key(session: Session, choice: Choice) -> str:
    """Says in the draft what it is for: this choice, after the newest entry about the beam."""
    newest = next((e.id for e in reversed(session.effective) if not isinstance(e, Opened | Gate | Note)), 0)
    return f"{choice.key} after {newest}"


def _ask_turns(screen: "SessionScreen", choice: Choice) -> None:
    task = screen.step.screw
    assert task is not None
    told = show_turns(task.turns)

    def echo(typed: Typed) -> str:
        turns = parse_turns(typed["turns"], "the turn")
        words = show_turns(turns)
        amount = f"{words.fraction} ({words.degrees}) {words.direction}" if words.direction else "not turned at all"
        other = " That is the other way than told." if turns * task.turns < 0 else ""
        return f"Understood: mirror {task.mirror}, screw {task.screw}: {amount}.{other}"

    def accept(typed: Typed) -> None:
        turns = parse_turns(typed["turns"], "the turn")
        perform(screen.session, screen.step, choice.key, turns=turns, typed={"turns": typed["turns"].strip()})

    lead = (
        f"Mirror {task.mirror}, screw {task.screw}: told was {told.fraction} {told.direction.lower()}. What was "
        "really turned? Clockwise is plus, counterclockwise is minus, or write cw or ccw: 1/8 ccw, -0.125, 45° cw."
    )
    before, keep = _keeping(screen.session, choice)
    field = Field("turns", "Turned", before.get("turns", ""), parse_turns)
    ask = Ask("Turned differently", lead, (field,), echo, accept, read_back=True, keep=keep)
    screen.app.push_screen(ask, lambda done: screen.tell_after("") if done else None)


def _ask_shift(screen: "SessionScreen", choice: Choice) -> None:
    task = screen.step.shift
    assert task is not None
    ways = USEFUL[task.part]

    def length(way: str, text: str) -> float:
        name = WAYS[way].split(" (")[0]
        return checked_shift(name, parse_length(text, "mm", name).mm)

    def read(typed: Typed) -> dict[str, float]:
        if not any(typed[way].strip() for way in ways):
            raise InputError("Nothing was entered", expected="how far it was moved, in mm", example="1.2")
        return {way: length(way, typed[way]) if typed[way].strip() else 0.0 for way in ways}

    def echo(typed: Typed) -> str:
        moved = ", ".join(moved_words(way, amount) for way, amount in read(typed).items())
        return f"Understood: {task.part}: {moved}."

    def accept(typed: Typed) -> None:
        kept = {way: text.strip() for way, text in typed.items() if text.strip()}
        perform(screen.session, screen.step, choice.key, shift=read(typed), typed=kept)

    lead = f"Told was: the {task.part} {shift_words(task)}. How far was it really moved, in mm?"
    before, keep = _keeping(screen.session, choice)
    fields = tuple(Field(way, WAYS[way], before.get(way, ""), partial(length, way)) for way in ways)
    ask = Ask("Moved differently", lead, fields, echo, accept, read_back=True, keep=keep)
    screen.app.push_screen(ask, lambda done: screen.tell_after("") if done else None)


def moved_words(way: str, amount: float) -> str:
    """One direction of a shift, also where nothing was moved: "1.2 mm up", "not moved up or down"; mm."""
    plus, minus = DIRECTIONS[way]
    if amount:
        return f"{show_length(abs(amount), 2)} {plus if amount > 0 else minus}"
    return f"not moved {plus} or {minus}"


def _ask_mirror(screen: "SessionScreen", choice: Choice) -> None:
    mirrors = sorted(m.mirror for m in screen.session.machine.mounts if m.mirror in (1, 2))

    def picked(key: str | None) -> None:
        if key is not None:
            screen.record(choice.key, mirror=int(key.removeprefix("mirror")))

    screen.app.push_screen(
        Pick(
            "Lock nuts tightened",
            ("Of which mirror? Its mount may have moved a little: the stations are confirmed again.",),
            [Entry(f"mirror{mirror}", f"Mirror {mirror}") for mirror in mirrors],
        ),
        picked,
    )


def ask_note(app: App[Any], session: Session, then: Callable[[], None]) -> None:
    """Ask for a note and keep it in the session.  Half a note is kept beside whatever else is half typed."""

    def keep(typed: Typed) -> None:
        others = {key: text for key, text in session.draft.items() if key != NOTE}
        session.keep_draft({**others, NOTE: typed[NOTE]} if typed[NOTE] else others)

    def accept(typed: Typed) -> None:
        session.note(typed[NOTE])
        if NOTE in session.draft:
            keep({NOTE: ""})

    lead = "Anything worth remembering, in your own words."
    field = Field(NOTE, "Note", session.draft.get(NOTE, ""))
    ask = Ask("Note", lead, (field,), lambda typed: "", accept, keep=keep)
    app.push_screen(ask, lambda done: then() if done else None)
