"""What has to come with some choices (a turn, a shift, a mirror), and what is read back before it counts."""

from collections.abc import Mapping

from coach.errors import InputError
from coach.optics.shifts import USEFUL
from coach.session.checks import checked_shift
from coach.session.events import Gate, Note, Opened
from coach.session.session import Session
from coach.shown import UNIT_WORDS, show_length, show_turns, shown_unit
from coach.steps.current import shift_words, turn_words
from coach.steps.perform import perform
from coach.steps.step import Choice, ScrewTask, ShiftTask, Step
from coach.units import parse_length, parse_turns, with_unit

WAYS = {
    "up": "Up (down is negative)",
    "right": "To the right (to the left is negative)",
    "back": "To the back (to the front is negative)",
}
DIRECTIONS = {"up": ("up", "down"), "right": ("right", "left"), "back": ("to the back", "to the front")}
NOTE = "note"
NOTE_LEAD = "Anything worth remembering, in your own words."
MIRROR_LEAD = "Of which mirror? Its mount may have moved a little: the stations are confirmed again."

CONFIRMED: dict[tuple[str, str], str] = {
    ("measure", "missed"): "There was no mark at {station} after all: the pulse missed the tape.",
    ("nothing", "missed"): "The mark at {station} lies outside the tape, although the pulses were strong enough.",
    ("question", "finish"): "It is something else than alignment: close this session, with no pulse made.",
}
"""What is read back before it counts, by step and choice: one key in passing must not make these entries."""


def confirmation(step: Step, choice: Choice) -> str:
    """The sentence to read back before the choice counts; "" where one answer is enough."""
    sentence = CONFIRMED.get((step.key, choice.key), "")
    return sentence.format(station=step.shot.name if step.shot else "")


# -- drafts ---------------------------------------------------------------------------------------


def draft_key(session: Session, choice: Choice) -> str:
    """Says in the draft what it is for: this choice, after the newest entry about the beam."""
    newest = next((e.id for e in reversed(session.effective) if not isinstance(e, Opened | Gate | Note)), 0)
    return f"{choice.key} after {newest}"


def drafted(session: Session, choice: Choice) -> Mapping[str, str]:
    """What was typed for this very choice before; lengths with their unit, if that was another than is shown now."""
    draft = session.draft if session.draft.get("for") == draft_key(session, choice) else {}
    unit = draft.get("unit", "mm")
    if choice.wants != "shift" or unit == shown_unit():
        return draft
    return {name: with_unit(text, unit) if name in WAYS else text for name, text in draft.items()}


def keep_drafted(session: Session, choice: Choice, typed: Mapping[str, str]) -> None:
    """Keep what is typed for this choice.  Raises Unwritable."""
    unit = _unit_typed() if choice.wants == "shift" else {}
    session.keep_draft({"for": draft_key(session, choice), **typed, **unit})


def _unit_typed() -> dict[str, str]:
    """The unit of lengths that were typed without one, kept with them where it is not mm."""
    return {} if shown_unit() == "mm" else {"unit": shown_unit()}


# -- turns ----------------------------------------------------------------------------------------


def turns_lead(task: ScrewTask) -> str:
    """What is asked when a screw was turned differently."""
    return (
        f"Mirror {task.mirror}, screw {task.screw}: told was {turn_words(task.turns)}. What was really turned? "
        "Clockwise is plus, counterclockwise is minus, or write cw or ccw: 1/8 ccw, -0.125, 45° cw."
    )


def turns_echo(task: ScrewTask, text: str) -> str:
    """What was understood.  Raises InputError or OutOfReach."""
    turns = parse_turns(text, "the turn")
    words = show_turns(turns)
    amount = f"{words.fraction} ({words.degrees}) {words.direction}" if words.direction else "not turned at all"
    other = " That is the other way than told." if turns * task.turns < 0 else ""
    return f"Understood: mirror {task.mirror}, screw {task.screw}: {amount}.{other}"


def enter_turns(session: Session, step: Step, choice: Choice, text: str) -> None:
    """Make the entry.  Raises CoachError."""
    perform(session, step, choice.key, turns=parse_turns(text, "the turn"), typed={"turns": text.strip()})


# -- shifts ---------------------------------------------------------------------------------------


def shift_ways(task: ShiftTask) -> tuple[str, ...]:
    """The directions in which moving that part does anything."""
    return USEFUL[task.part]


def shift_lead(task: ShiftTask) -> str:
    """What is asked when a part was moved differently."""
    return (
        f"Told was: the {task.part} {shift_words(task)}. How far was it really moved, in {UNIT_WORDS[shown_unit()]}?"
    )


def shift_amount(way: str, text: str) -> float:
    """How far it was moved in one direction, mm; nothing typed is nothing moved.  Raises InputError."""
    name = WAYS[way].split(" (")[0]
    return checked_shift(name, parse_length(text, shown_unit(), name).mm) if text.strip() else 0.0


def read_shift(task: ShiftTask, typed: Mapping[str, str]) -> dict[str, float]:
    """All directions, mm.  Raises InputError, also where nothing was typed at all."""
    ways = shift_ways(task)
    if not any(typed.get(way, "").strip() for way in ways):
        raise InputError("Nothing was entered", expected=f"how far it was moved, in {UNIT_WORDS[shown_unit()]}")
    return {way: shift_amount(way, typed.get(way, "")) for way in ways}


def shift_echo(task: ShiftTask, typed: Mapping[str, str]) -> str:
    """What was understood.  Raises InputError."""
    moved = ", ".join(moved_words(way, amount) for way, amount in read_shift(task, typed).items())
    return f"Understood: {task.part}: {moved}."


def enter_shift(session: Session, step: Step, choice: Choice, typed: Mapping[str, str]) -> None:
    """Make the entry.  Raises CoachError."""
    assert step.shift is not None
    kept = {way: text.strip() for way, text in typed.items() if text.strip()}
    perform(session, step, choice.key, shift=read_shift(step.shift, typed), typed={**kept, **_unit_typed()})


def moved_words(way: str, amount: float) -> str:
    """One direction of a shift, also where nothing was moved: "1.2 mm up", "not moved up or down"; mm."""
    plus, minus = DIRECTIONS[way]
    if amount:
        return f"{show_length(abs(amount), 2)} {plus if amount > 0 else minus}"
    return f"not moved {plus} or {minus}"


# -- mirrors --------------------------------------------------------------------------------------


def lockable(session: Session) -> list[int]:
    """The mirrors whose lock nuts one tightens in this job."""
    return sorted(mount.mirror for mount in session.machine.mounts if mount.mirror in (1, 2))
