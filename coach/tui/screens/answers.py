"""What has to come with some choices: a turn, a shift, a mirror."""

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from textual.app import App

from coach.errors import InputError
from coach.optics.shifts import USEFUL
from coach.session.session import Session
from coach.steps.current import shift_words
from coach.steps.perform import perform
from coach.steps.step import Choice, ShiftTask
from coach.tui.screens.dialogs import Ask, Field, Pick, Typed
from coach.tui.screens.parts import Entry
from coach.units import parse_length, parse_turns, show_turns

if TYPE_CHECKING:
    from coach.tui.screens.session import SessionScreen

WAYS = {
    "up": "Up (down is negative)",
    "right": "To the right (to the left is negative)",
    "back": "To the back (to the front is negative)",
}
LENGTHS = r"[-+−0-9.,/ a-zA-Z\"″]*"


def ask_for(screen: "SessionScreen", choice: Choice) -> None:
    """Ask for what the choice wants, make the entry, and go on to the next step."""
    {"turns": _ask_turns, "shift": _ask_shift, "mirror": _ask_mirror}[choice.wants](screen, choice)


def _ask_turns(screen: "SessionScreen", choice: Choice) -> None:
    task = screen.step.screw
    assert task is not None
    told = show_turns(task.turns)

    def echo(typed: Typed) -> str:
        turns = parse_turns(typed["turns"], "the turn")
        words = show_turns(turns)
        if not words.direction:
            return "Understood: not turned at all."
        other = "  That is the other way than told." if turns * task.turns < 0 else ""
        return f"Understood: {words.fraction} ({words.degrees}) {words.direction}.{other}"

    def accept(typed: Typed) -> None:
        turns = parse_turns(typed["turns"], "the turn")
        perform(screen.session, screen.step, choice.key, turns=turns, typed={"turns": typed["turns"].strip()})

    lead = (
        f"Mirror {task.mirror}, screw {task.screw}: told was {told.fraction} {told.direction.lower()}. What was "
        "really turned? Clockwise is plus, counterclockwise is minus, or write cw or ccw: 1/8 ccw, -0.125, 45° cw."
    )
    ask = Ask("Turned differently", lead, (Field("turns", "Turned"),), echo, accept)
    screen.app.push_screen(ask, lambda done: screen.tell_after("") if done else None)


def _ask_shift(screen: "SessionScreen", choice: Choice) -> None:
    task = screen.step.shift
    assert task is not None
    ways = USEFUL[task.part]

    def read(typed: Typed) -> dict[str, float]:
        given = {way: typed[way] for way in ways if typed[way].strip()}
        if not given:
            raise InputError("Nothing was entered", expected="how far it was moved, in mm", example="1.2")
        return {way: parse_length(text, "mm", WAYS[way].split(" (")[0]).mm for way, text in given.items()}

    def echo(typed: Typed) -> str:
        moved = {"up": 0.0, "right": 0.0, "back": 0.0} | read(typed)
        return f"Understood: {shift_words(ShiftTask(task.part, **moved))}."

    def accept(typed: Typed) -> None:
        kept = {way: text.strip() for way, text in typed.items() if text.strip()}
        perform(screen.session, screen.step, choice.key, shift=read(typed), typed=kept)

    lead = f"Told was: the {task.part} {shift_words(task)}. How far was it really moved, in mm?"
    fields = tuple(Field(way, WAYS[way], restrict=LENGTHS) for way in ways)
    ask = Ask("Moved differently", lead, fields, echo, accept)
    screen.app.push_screen(ask, lambda done: screen.tell_after("") if done else None)


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
    """Ask for a note and keep it in the session."""
    ask = Ask(
        "Note",
        "Anything worth remembering, in your own words.",
        (Field("note", "Note"),),
        lambda typed: "",
        lambda typed: session.note(typed["note"]),
    )
    app.push_screen(ask, lambda done: then() if done else None)
