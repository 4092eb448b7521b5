"""Answers and guesses in the person's words."""

from collections.abc import Iterable

from coach.describing import head_answers, typed
from coach.describing.description import MIRRORS, OTHER, OWN, SIZES, Description
from coach.describing.head_questions import LENS
from coach.describing.moving import NO, REACHES, YES
from coach.describing.moving_questions import BOTH_WAYS
from coach.describing.profile import forgotten, missing, pitch, points, size
from coach.describing.question import Question
from coach.describing.questions import GENERAL, options, questions
from coach.describing.usual import CORNER, NAME, SHAPE, THREAD, UNKNOWN
from coach.errors import InputError
from coach.frame import ZEROS
from coach.machine import Machine
from coach.parts import DIRECTIONS, PartMove
from coach.shown import Wording
from coach.units import parse_length

GUESSED = "guessed"
"""The word that stands beside every value that nobody measured."""
USUAL_ANSWERS = {
    "name": NAME, "zero": ZEROS[0], "shape": SHAPE, "corner": CORNER, "thread": THREAD, "drive": UNKNOWN,
    "stations": "usual", "can": UNKNOWN, "timed": UNKNOWN, "percent": UNKNOWN,
    "ms": "not known", "power": "not known",
    "places": "the usual places", "now": NO, "curved": UNKNOWN,
}  # fmt: skip
"""Answers that stand in for one that was not given, by the last part of the question's key."""
OVERRULED = {
    ("shape", OWN): "points of its own",
    ("thread", OTHER): "another",
    ("can", YES): "it can be moved",
    ("can", NO): "fixed",
}
OVERRULED_AT = {
    (head_answers.TURNS, YES): "within reach",
    (head_answers.TURNS, NO): "none, it is fixed",
    (head_answers.NOW, NO): "when its part comes",
    (head_answers.NOW, YES): "described now",
}
"""Answers that are said otherwise than they are offered."""
PULSE = ("timed", "percent", "ms", "power")
UNGUESSED = (
    "name", "drive", "stations", "can", "up", "right", "back", "wide", "now", "curved", "reach", "mirror_distance",
    *PULSE,
)  # fmt: skip
"""Not answered, these are no guess: a name, what the first turn tells, what can be moved, the usual places, and how
large a card is to be cut."""


def is_guessed(description: Description, question: Question) -> bool:
    """Whether the value that stands for this question is only a guess."""
    last = question.key.rpartition(".")[2]
    return question.key not in description.answers and last not in UNGUESSED and not question.required


def value_words(description: Description, question: Question, wording: Wording) -> str:
    """The value in words, answered or guessed, without the word that says which: "599.4 mm (typed 23.6 in)"."""
    key, text = question.key, description.answers.get(question.key)
    if key in missing(description):
        return "not answered yet"
    if key in SIZES:
        return _length_words(description, key, text, wording)
    if question.kind == "choice":
        return _choice_words(description, question, text, wording)
    last = key.rpartition(".")[2]
    if last == "screw":
        return _screw_words(description, question, text, wording)
    if last == "own" and text is None:
        return points_words(description, question.mirror, wording)
    return text if text is not None else USUAL_ANSWERS.get(last, "still to be typed")


def said(description: Description, question: Question, wording: Wording) -> str:
    """The value in words, with "guessed" behind it where it is."""
    words = value_words(description, question, wording)
    return f"{words}, {GUESSED}" if is_guessed(description, question) else words


def rest_guessed(description: Description) -> int:
    """How many of the questions that matter now have a guess for an answer."""
    return sum(is_guessed(description, question) for question in questions(description))


def guessed_words(description: Description) -> str:
    """How many values are guessed: "3 values are guessed"."""
    count = rest_guessed(description)
    return f"{count} value{'s are' if count != 1 else ' is'} guessed" if count else "Nothing is guessed"


def guessed_said(guessed: Iterable[str]) -> str:
    """What nobody measured of a profile, as the questions call it: "mirror 1 to 2; opening; mirror 1's thread"."""
    titles = {question.key: question.title for question in (*GENERAL, *LENS.values())}
    titles |= {f"mounts.{n}.{what}": f"mirror {n}'s {what}" for n in MIRRORS for what in ("points", "thread")}
    return "; ".join(titles.get(key, key) for key in guessed)


def forgotten_words(description: Description) -> str:
    """What earlier sessions taught and no longer fits, said before it is dropped; "" where nothing is."""
    try:
        mirrors = forgotten(description)
    except InputError:
        return ""
    which = " and ".join(f"mirror {mirror}" for mirror in mirrors)
    return (
        f"What earlier sessions taught about the mount of {which} no longer fits and is dropped." if mirrors else ""
    )


def points_words(description: Description, mirror: int, wording: Wording) -> str:
    """Where the three points lie: "A to B 40.0 mm, A to C 40.0 mm"."""
    a, b, c = points(description, mirror)
    ways = [(a, b), (a, c)]
    return ", ".join(
        f"{p.name} to {q.name} {wording.length(((p.x - q.x) ** 2 + (p.y - q.y) ** 2) ** 0.5)}" for p, q in ways
    )


def _length_words(description: Description, key: str, text: str | None, wording: Wording) -> str:
    if text is None and key in (*REACHES, head_answers.REACH, head_answers.HANGS):
        return "not known"
    words = wording.length(size(description, _key_of_size(description, key)))
    if text is not None and parse_length(text).unit == "in":
        words += f" (typed {text})"
    return words


def _key_of_size(description: Description, key: str) -> str:
    mirror = next((mirror for mirror in MIRRORS if key.startswith(f"mounts.{mirror}.")), None)
    return key.replace(f"{mirror}", "1", 1) if mirror is not None and description.like_first(mirror) else key


def _choice_words(description: Description, question: Question, text: str | None, wording: Wording) -> str:
    key, last = question.key, question.key.rpartition(".")[2]
    answer = text or USUAL_ANSWERS.get(last, "")
    label = next((option.label for option in options(question, description) if option.key == answer), answer)
    if last == "thread" and answer != OTHER:
        return f"{label}, {wording.length(pitch(description, question.mirror), 2)} in one turn"
    if (key, answer) in OVERRULED_AT:
        return OVERRULED_AT[key, answer]
    if (last, answer) in OVERRULED:
        return OVERRULED[last, answer]
    return label


def _screw_words(description: Description, question: Question, text: str | None, wording: Wording) -> str:
    if text is None:
        return f"{THREAD}, {wording.length(pitch(description, question.mirror), 2)} in one turn"
    turn = f"{wording.length(pitch(description, question.mirror), 2)} in one turn"
    return turn if "pitch" in typed.screw(text, "mm") else f"{text}, {turn}"


def head_words(machine: Machine, wording: Wording) -> str:
    """What is known of the head: "mirror 3 with 2 screws; lens 50.8 mm, nozzle 2.5 mm wide"; "" where nothing is."""
    mount = next((mount for mount in machine.mounts if mount.mirror == 3), None)
    said = ["mirror 3 fixed"] if machine.mirror3 == "fixed" else []
    if mount is not None:
        said.append(f"mirror 3 with {len(mount.screws)} screw{'s' if len(mount.screws) > 1 else ''}")
    if (lens := machine.lens) is not None:
        far = "fixed" if lens.reach == 0 else f"to move {wording.length(lens.reach or 0.0)}"
        tube = f", lens tube {far}" if lens.reach is not None else ""
        said.append(f"lens {wording.length(lens.focal)}, nozzle {wording.length(lens.nozzle)} wide{tube}")
    return "; ".join(said)


def moves_words(moves: Iterable[PartMove], wording: Wording) -> str:
    """Which parts can be moved, in words: "can be moved: mirror 2 right and left 4.0 mm; fixed: tube"."""
    far: list[str] = []
    fixed: list[str] = []
    for move in moves:
        ways = {way: move.reach(way) for way in DIRECTIONS[move.part]}
        far += [f"{move.part} {BOTH_WAYS[way]} {wording.length(reach)}" for way, reach in ways.items() if reach]
        nowhere = [BOTH_WAYS[way] for way, reach in ways.items() if reach == 0]
        fixed += [move.part] if len(nowhere) == len(ways) else [f"{move.part} {way}" for way in nowhere]
    said = [f"{what}: {', '.join(which)}" for what, which in (("can be moved", far), ("fixed", fixed)) if which]
    return "; ".join(said) or "nothing known of parts that move"
