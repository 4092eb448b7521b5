"""What was really turned or moved, and whose lock nuts were tightened; read back before it counts."""

from typing import assert_never

from coach.errors import InputError
from coach.parts import Direction
from coach.plain.talk import Talk, numbered
from coach.session.session import Session
from coach.steps import dosing, wanted
from coach.steps.asked_figures import enter_figures, form_of, stands
from coach.steps.bumped import BUMPED, LEAD
from coach.steps.form import FormField
from coach.steps.locks import loose_locks
from coach.steps.perform import perform
from coach.steps.step import Choice, Step
from coach.steps.visit import part_rows
from coach.steps.visit_words import PART_LEAD
from coach.steps.wanted import drafted, keep_drafted
from coach.visit import VisitPart


def ask_turns(talk: Talk, session: Session, step: Step, choice: Choice) -> None:
    """How far a screw was turned.  Raises CoachError, Back and Ended."""
    task = step.screw
    assert task is not None
    talk.say(wanted.turns_lead(task, talk.wording))
    before = drafted(session, choice, talk.wording).get("turns", "")
    while True:
        text = talk.ask(f"Turned how far?{_kept(before)}", before)
        try:
            echo = wanted.turns_echo(task, text, talk.wording, loud=False)
        except InputError as error:
            talk.say(str(error))
            continue
        keep_drafted(session, choice, {"turns": text}, talk.wording)
        talk.say(echo)
        if _confirmed(talk, wanted.turned_back(task, text)):
            wanted.enter_turns(session, step, choice, text)
            return
        before = ""


def ask_shift(talk: Talk, session: Session, step: Step, choice: Choice) -> None:
    """How far a part was moved.  Raises CoachError, Back and Ended."""
    task = step.shift
    assert task is not None
    talk.say(wanted.shift_lead(task, talk.wording))
    before = drafted(session, choice, talk.wording)
    typed: dict[str, str] = {direction: before.get(direction, "") for direction in wanted.useful_directions(task)}
    while True:
        for direction in wanted.useful_directions(task):
            typed[direction] = _amount(talk, direction, typed[direction])
            keep_drafted(session, choice, typed, talk.wording)
        try:
            talk.say(wanted.shift_echo(session, task, typed, talk.wording))
        except InputError as error:
            talk.say(str(error))
            continue
        if _confirmed(talk, wanted.moved_back(task, typed, talk.wording)):
            wanted.enter_shift(session, step, choice, typed, talk.wording)
            return
        typed = dict.fromkeys(typed, "")


def ask_mirror(talk: Talk, session: Session, step: Step, choice: Choice) -> None:
    """Whose lock nuts were tightened.  Raises CoachError, Back and Ended."""
    talk.say(wanted.MIRROR_LEAD)
    mirrors = [(str(mirror), f"Mirror {mirror}") for mirror in loose_locks(session)]
    perform(session, step, choice.key, mirror=int(talk.choose("Which mirror?", numbered(mirrors))))


def ask_dose(talk: Talk, session: Session, step: Step, choice: Choice) -> None:
    """What was set in place of the dose that was told.  Raises CoachError, Back and Ended."""
    talk.say(dosing.dose_lead(step))
    typed: dict[str, str] = {**dosing.dose_told(step), **drafted(session, choice, talk.wording)}
    while True:
        typed = {
            name: _setting(talk, name, typed.get(name, "")) for name in dosing.dose_fields(session.machine.pulse)
        }
        keep_drafted(session, choice, typed, talk.wording)
        try:
            talk.say(dosing.dose_echo(session, typed))
        except InputError as error:
            talk.say(str(error))
            continue
        if _confirmed(talk, dosing.doubtful(session, typed)):
            dosing.enter_dose(session, step, choice, typed)
            return


def _setting(talk: Talk, name: str, before: str) -> str:
    """One field of a dose as it was typed, once it can be used."""
    while True:
        text = talk.ask(f"{dosing.LABELS[name]}?{_kept(before)}", before)
        try:
            dosing.check_dose(name, text)
        except InputError as error:
            talk.say(str(error))
            continue
        return text


def ask_part(talk: Talk, session: Session, step: Step, choice: Choice) -> None:
    """To which part of the visit.  Raises CoachError, Back and Ended."""
    perform(session, step, choice.key, part=pick_part(talk, session))


def pick_part(talk: Talk, session: Session) -> VisitPart:
    """Which part of the visit.  Raises Back and Ended."""
    talk.say(PART_LEAD)
    rows = part_rows(session)
    chosen = talk.choose("Which part?", numbered([(str(number), words) for number, (_, words) in enumerate(rows)]))
    return rows[int(chosen)][0]


def pick_bumped(talk: Talk) -> str:
    """What was out, or was bumped.  Raises Back and Ended."""
    talk.say(LEAD)
    return talk.choose("What was out, or was bumped?", numbered([(each.part, each.label) for each in BUMPED]))


def ask_figures(talk: Talk, session: Session, step: Step, choice: Choice) -> None:
    """What was measured, field by field.  Raises CoachError, Back and Ended."""
    form = form_of(session, step, choice, talk.wording)
    talk.say(form.lead)
    typed = stands(session, choice, form, talk.wording)
    while True:
        for field in form.fields:
            typed[field.name] = _field(talk, field, typed[field.name])
            keep_drafted(session, choice, typed, talk.wording)
        try:
            talk.say(form.echo(typed))
            doubtful = form.doubtful(typed)
        except InputError as error:
            talk.say(str(error))
            continue
        if _confirmed(talk, doubtful):
            enter_figures(session, step, choice, form, typed, talk.wording)
            return


def _field(talk: Talk, field: FormField, before: str) -> str:
    """One field as it was typed, once it can be used."""
    enter = _kept(before) or ("" if field.needed else " Enter alone: not known.")
    while True:
        text = talk.ask(f"{field.label}?{enter}", before)
        try:
            field.checked(text)
        except InputError as error:
            talk.say(str(error))
            continue
        return text


def ask_for(talk: Talk, session: Session, step: Step, choice: Choice) -> None:
    """What the choice wants, and the entry.  Raises CoachError, Back and Ended."""
    match choice.wants:
        case "turns":
            ask_turns(talk, session, step, choice)
        case "shift":
            ask_shift(talk, session, step, choice)
        case "mirror":
            ask_mirror(talk, session, step, choice)
        case "dose":
            ask_dose(talk, session, step, choice)
        case "why":
            perform(session, step, choice.key, why=talk.ask(wanted.WHY_LEADS[choice.key]))
        case "part":
            ask_part(talk, session, step, choice)
        case "figures":
            ask_figures(talk, session, step, choice)
        case "" | "option" | "reading" | "machine" | "bench":
            raise ValueError(f"{choice.key!r} wants nothing that is asked here")
        case _:
            assert_never(choice.wants)


def _confirmed(talk: Talk, doubtful: bool) -> bool:
    """Whether what was read back is right; Enter alone says so only where nothing about it is doubtful."""
    return talk.confirmed("Yes, keep it", "No, back", 2 if doubtful else 1)


def _amount(talk: Talk, direction: Direction, before: str) -> str:
    """One direction of a shift as it was typed, once it can be used."""
    enter = _kept(before) or " Enter alone: not moved."
    while True:
        text = talk.ask(f"{wanted.direction_label(direction)}?{enter}", before)
        try:
            wanted.shift_amount(direction, text, talk.wording)
        except InputError as error:
            talk.say(str(error))
            continue
        return text


def _kept(before: str) -> str:
    return f" Enter alone keeps {before}." if before else ""
