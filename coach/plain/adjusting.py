"""What was really turned or moved, and whose lock nuts were tightened; read back before it counts."""

from coach.errors import InputError
from coach.plain.talk import Talk, numbered
from coach.session.session import Session
from coach.steps import answers
from coach.steps.answers import drafted, keep_drafted
from coach.steps.perform import perform
from coach.steps.step import Choice, Step


def ask_turns(talk: Talk, session: Session, step: Step, choice: Choice) -> None:
    """How far a screw was turned.  Raises CoachError, Back and Ended."""
    task = step.screw
    assert task is not None
    talk.say(answers.turns_lead(task))
    before = drafted(session, choice).get("turns", "")
    while True:
        text = talk.ask(f"Turned how far?{_kept(before)}", before)
        try:
            echo = answers.turns_echo(task, text)
        except InputError as error:
            talk.say(str(error))
            continue
        keep_drafted(session, choice, {"turns": text})
        talk.say(_calm(echo))
        if talk.confirmed("Right, keep it", "Type it again"):
            answers.enter_turns(session, step, choice, text)
            return
        before = ""


def ask_shift(talk: Talk, session: Session, step: Step, choice: Choice) -> None:
    """How far a part was moved.  Raises CoachError, Back and Ended."""
    task = step.shift
    assert task is not None
    talk.say(answers.shift_lead(task))
    before = drafted(session, choice)
    typed = {way: before.get(way, "") for way in answers.shift_ways(task)}
    while True:
        for way in answers.shift_ways(task):
            typed[way] = _amount(talk, way, typed[way])
            keep_drafted(session, choice, typed)
        try:
            talk.say(answers.shift_echo(task, typed))
        except InputError as error:
            talk.say(str(error))
            continue
        if talk.confirmed("Right, keep it", "Type it again"):
            answers.enter_shift(session, step, choice, typed)
            return
        typed = dict.fromkeys(typed, "")


def ask_mirror(talk: Talk, session: Session, step: Step, choice: Choice) -> None:
    """Whose lock nuts were tightened.  Raises CoachError, Back and Ended."""
    talk.say(answers.MIRROR_LEAD)
    mirrors = [(str(mirror), f"Mirror {mirror}") for mirror in answers.lockable(session)]
    perform(session, step, choice.key, mirror=int(talk.choose("Which mirror?", numbered(mirrors))))


ASK = {"turns": ask_turns, "shift": ask_shift, "mirror": ask_mirror}
"""What a choice wants to who asks for it."""


def _amount(talk: Talk, way: str, before: str) -> str:
    """One direction of a shift as it was typed, once it can be used."""
    enter = _kept(before) or " Enter alone: not moved."
    while True:
        text = talk.ask(f"{answers.WAYS[way]}?{enter}", before)
        try:
            answers.shift_amount(way, text)
        except InputError as error:
            talk.say(str(error))
            continue
        return text


def _kept(before: str) -> str:
    return f" Enter alone keeps {before}." if before else ""


def _calm(echo: str) -> str:
    """Directions in small letters: capitals are for eyes."""
    return echo.replace("COUNTERCLOCKWISE", "counterclockwise").replace("CLOCKWISE", "clockwise")
