"""What has to come with some choices (a turn, a shift, a mirror), and what is read back before it counts."""

from collections.abc import Collection, Mapping
from dataclasses import replace

from coach.errors import InputError
from coach.parts import MOVED_ALONG, Direction
from coach.session.checks import checked_shift
from coach.session.events import Gate, Note, Opened
from coach.session.part_events import Begin, newest_part
from coach.session.session import Session
from coach.session.visit_events import Baseline
from coach.shown import UNIT_WORDS, Wording
from coach.steps.about import ScrewTask, ShiftTask
from coach.steps.deeds import multiplied, part_of
from coach.steps.head_said import head_figure
from coach.steps.keys import ChoiceKey, EntryKind
from coach.steps.locks import slack_words
from coach.steps.perform import perform
from coach.steps.reach import beyond_reach
from coach.steps.stages.leaving import worst_words
from coach.steps.stages.moves import TIMES
from coach.steps.step import Choice, Step
from coach.steps.words import BOTH_SENSES, moved_words, named, shift_words, turn_words
from coach.units import parse_length, parse_turns, with_unit

NAMES: dict[Direction, str] = {"up": "Up", "right": "To the right", "back": "To the back"}
"""What is asked for each direction."""
NOTE = "note"
NOTE_LEAD = "Anything worth remembering, in your own words."
OTHER_WAY = "That is the other way than told. Was it really so?"
"""Questions an amount with the other sign than the one that was told."""
LEAVING: tuple[EntryKind, ...] = ("finish", "end")
"""Entries with which the beam is left as it is."""
WHY_LEADS: dict[ChoiceKey, str] = {
    "skip-part": "Why is this part left out?  It stands so in the record of the visit.",
    "new-baseline": "What was changed on purpose, a new tube or lens?  The old baseline stays in the record.",
    "cut-left-out": "Why can nothing be cut here?  It stands so in the record of the visit.",
}
"""What is asked where a reason has to be given, by the choice."""
WHY_TITLES: dict[ChoiceKey, str] = {"new-baseline": "New baseline"}
"""What the box is called that asks for it; "Left out" where it is not named."""
MIRROR_LEAD = "Of which mirror? Its mount may have moved a little: the stations are confirmed again."


def confirmation(session: Session, step: Step, choice: Choice, wording: Wording) -> str:
    """The sentence to read back before the choice counts; "" where one answer is enough."""
    row, part = step.kind.choice(choice.key), part_of(step)
    station, beyond = step.shot.name if step.shot else "", ""
    if step.shift is not None and choice.key in TIMES:
        moved = multiplied(step.shift, TIMES[choice.key])
        beyond = beyond_reach(session, step.shift.part, moved, wording)
    if row is None or not row.read_back:
        leaving = row is not None and row.makes in LEAVING
        return slack_words(session) if leaving else beyond
    worst = worst_words(session, step.advice, wording) if step.advice is not None else ""
    turned, slid = _the_other_way(step, wording)
    head = head_figure(step.head.now, wording) if step.head is not None else ""
    said = row.read_back.format(
        station=station, part=named(part) if part else "", worst=worst, turned=turned, moved=slid, head=head
    )
    return f"{said} {beyond}".rstrip()


def _the_other_way(step: Step, wording: Wording) -> tuple[str, str]:
    """As far as told and the other way, in words: of the step's screw, and of its part that is moved."""
    turned = turn_words(-step.screw.turns, wording) if step.screw is not None else ""
    told = step.shift
    back = replace(told, up=-told.up, right=-told.right, back=-told.back) if told is not None else None
    return turned, shift_words(back, wording) if back is not None else ""


# -- drafts ---------------------------------------------------------------------------------------


def draft_key(session: Session, choice: Choice) -> str:
    """Says in the draft what it is for: this choice, after the newest entry (of a visit: in its part)."""
    newest, part, here = 0, None, newest_part(session.effective)
    for event in session.effective:
        if isinstance(event, Begin):
            part = event.part
        elif part == here and not isinstance(event, Opened | Gate | Note | Baseline):
            newest = event.id
    return f"{choice.key} after {newest}"


def drafted(
    session: Session, choice: Choice, wording: Wording, lengths: Collection[str] = tuple(NAMES)
) -> Mapping[str, str]:
    """What was typed for this very choice before; fields that are `lengths` with their unit, if that was another
    than is shown now."""
    draft = session.draft if session.draft.get("for") == draft_key(session, choice) else {}
    unit = draft.get("unit", "mm")
    if unit == wording.unit:
        return draft
    return {name: with_unit(text, unit) if name in lengths else text for name, text in draft.items()}


def keep_drafted(session: Session, choice: Choice, typed: Mapping[str, str], wording: Wording) -> None:
    """Keep what is typed for this choice.  Raises Unwritable."""
    unit = unit_typed(wording) if choice.wants in ("shift", "figures") else {}
    session.keep_draft({"for": draft_key(session, choice), **typed, **unit})


def unit_typed(wording: Wording) -> dict[str, str]:
    """The unit of lengths that were typed without one, kept with them where it is not mm."""
    return {} if wording.unit == "mm" else {"unit": wording.unit}


# -- turns ----------------------------------------------------------------------------------------


def turns_lead(task: ScrewTask, wording: Wording) -> str:
    """What is asked when a screw was turned differently."""
    advised = turn_words(task.turns, wording)
    return (
        f"Mirror {task.mirror}, screw {task.screw}: told was {advised}. What was really turned? "
        "Clockwise is plus, counterclockwise is minus, or write cw or ccw: 7 ticks cw, 45° ccw, 1/8 ccw, -0.125."
    )


def turns_echo(task: ScrewTask, text: str, wording: Wording, *, loud: bool = True) -> str:
    """What was understood, its direction in capitals where eyes read it.  Raises InputError or OutOfReach."""
    turns = parse_turns(text, "the turn")
    words = wording.turns(turns)
    direction = words.direction if loud else words.direction.lower()
    size = f"{words.ticks}, {words.fraction}, {words.degrees}," if direction else ""
    amount = f"{size} {direction}" if direction else "not turned at all"
    understood = f"Understood: mirror {task.mirror}, screw {task.screw}: {amount}."
    return f"{understood} {OTHER_WAY}" if turned_back(task, text) else understood


def turned_back(task: ScrewTask, text: str) -> bool:
    """Whether that is a turn the other way than told: it is questioned.  Raises InputError or OutOfReach."""
    return parse_turns(text, "the turn") * task.turns < 0


def enter_turns(session: Session, step: Step, choice: Choice, text: str) -> None:
    """Make the entry.  Raises CoachError."""
    perform(session, step, choice.key, turns=parse_turns(text, "the turn"), typed={"turns": text.strip()})


# -- shifts ---------------------------------------------------------------------------------------


def useful_directions(task: ShiftTask) -> tuple[Direction, ...]:
    """The directions in which moving that part does anything."""
    return MOVED_ALONG[task.part]


def direction_label(direction: Direction) -> str:
    """What is asked for one direction: "Up (down is negative)"."""
    return f"{NAMES[direction]} ({BOTH_SENSES[direction][1]} is negative)"


def shift_lead(task: ShiftTask, wording: Wording) -> str:
    """What is asked when a part was moved differently."""
    unit = UNIT_WORDS[wording.unit]
    return f"Told was: the {task.part} {shift_words(task, wording)}. How far was it really moved, in {unit}?"


def shift_amount(direction: Direction, text: str, wording: Wording) -> float:
    """How far it was moved in one direction, mm; nothing typed is nothing moved.  Raises InputError."""
    name = NAMES[direction]
    return checked_shift(name, parse_length(text, wording.unit, name).mm, wording) if text.strip() else 0.0


def read_shift(task: ShiftTask, typed: Mapping[str, str], wording: Wording) -> dict[Direction, float]:
    """All directions, mm.  Raises InputError, also where nothing was typed at all."""
    directions = useful_directions(task)
    if not any(typed.get(direction, "").strip() for direction in directions):
        raise InputError("Nothing was entered", expected=f"how far it was moved, in {UNIT_WORDS[wording.unit]}")
    return {direction: shift_amount(direction, typed.get(direction, ""), wording) for direction in directions}


def shift_echo(session: Session, task: ShiftTask, typed: Mapping[str, str], wording: Wording) -> str:
    """What was understood, questioned where that is the other way than told, or farther than the part was said to
    go.  Raises InputError."""
    amounts = read_shift(task, typed, wording)
    moved = ", ".join(moved_or_not(direction, amount, wording) for direction, amount in amounts.items())
    beyond = beyond_reach(session, task.part, amounts, wording)
    other = OTHER_WAY if moved_back(task, typed, wording) else ""
    return " ".join(filter(None, (f"Understood: {task.part}: {moved}.", other, beyond)))


def moved_back(task: ShiftTask, typed: Mapping[str, str], wording: Wording) -> bool:
    """Whether that is a move the other way than told, in any direction: it is questioned.  Raises InputError."""
    told: dict[Direction, float] = {"up": task.up, "right": task.right, "back": task.back}
    return any(amount * told[direction] < 0 for direction, amount in read_shift(task, typed, wording).items())


def enter_shift(session: Session, step: Step, choice: Choice, typed: Mapping[str, str], wording: Wording) -> None:
    """Make the entry.  Raises CoachError."""
    assert step.shift is not None
    kept = {direction: text.strip() for direction, text in typed.items() if text.strip()}
    moved = read_shift(step.shift, typed, wording)
    perform(session, step, choice.key, shift=moved, typed={**kept, **unit_typed(wording)})


def moved_or_not(direction: Direction, amount: float, wording: Wording) -> str:
    """One direction of a shift, also where nothing was moved: "1.20 mm up", "not moved up or down"; mm."""
    plus, minus = BOTH_SENSES[direction]
    return moved_words(direction, amount, wording, 2) if amount else f"not moved {plus} or {minus}"
