"""Which parts can be moved sideways: from what was answered or typed to a profile's `moves`, and back.

Each part has one closed question, `moves.PART.can`, and where it can, one length each way, `moves.PART.DIRECTION`.
What is not answered is not known, and is left out of the profile.
"""

from collections.abc import Iterable, Mapping
from typing import Any

from coach.describing.usual import UNKNOWN
from coach.errors import InputError
from coach.parts import DIRECTIONS, PARTS, Direction, Part, PartMove

YES, NO = "yes", "no"
EXAMPLE = "mirror 2 right 4; head up 0 back 3; tube no"

CAN: dict[str, Part] = {f"moves.{part.replace(' ', '')}.can": part for part in PARTS}
"""The closed questions."""
REACHES: dict[str, tuple[Part, Direction]] = {
    f"moves.{part.replace(' ', '')}.{way}": (part, way) for part in PARTS for way in DIRECTIONS[part]
}
"""The lengths, mm each way."""


def key_of(part: Part, direction: Direction | None = None) -> str:
    """The question about a part, or about one way in which it can be moved."""
    return f"moves.{part.replace(' ', '')}.{direction or 'can'}"


def moves_table(answers: Mapping[str, str], reach: Mapping[str, float]) -> list[dict[str, Any]]:
    """A profile's `moves` from answers to the closed questions and the lengths that were answered, in mm."""
    table = []
    for part in PARTS:
        keys = {way: key_of(part, way) for way in DIRECTIONS[part]}
        known: dict[str, float] = {}
        match answers.get(key_of(part)):
            case "no":
                known = dict.fromkeys(keys, 0.0)
            case "yes":
                known = {way: reach[key] for way, key in keys.items() if key in reach}
        if known:
            table.append({"part": part, **known})
    return table


def said_of(moves: Iterable[PartMove]) -> dict[str, float | str]:
    """The answers that a profile's `moves` give: lengths in mm, "yes" and "no" to the closed questions."""
    said: dict[str, float | str] = {}
    for move in moves:
        far = {way: reach for way in DIRECTIONS[move.part] if (reach := move.reach(way)) is not None}
        fixed = len(far) == len(DIRECTIONS[move.part]) and not any(far.values())
        if far:
            said[key_of(move.part)] = NO if fixed else YES
        if not fixed:
            said |= {key_of(move.part, way): reach for way, reach in far.items()}
    return said


def typed_moves(text: str) -> dict[str, str]:
    """Answers from "mirror 2 right 4; head up 0 back 3; tube no": lengths as typed.

    Raises InputError for what cannot be read, a part or a direction that is none, and whatever is named twice.
    """
    answers: dict[str, str] = {}
    for piece in (piece for piece in text.split(";") if piece.strip()):
        part, words = _part_of(piece)
        if key_of(part) in answers:
            raise InputError(f"The {part} is named twice", expected="each part once", example=EXAMPLE)
        answers |= _one(part, words, piece)
    if not answers:
        raise InputError("No part is named", expected="a part and how far it can be moved", example=EXAMPLE)
    return answers


def _part_of(piece: str) -> tuple[Part, list[str]]:
    words = piece.lower().replace("mirror2", "mirror 2").replace("mirror1", "mirror 1").split()
    for part in PARTS:
        named = part.split()
        if words[: len(named)] == named:
            return part, words[len(named) :]
    raise InputError(
        f"{' '.join(piece.split())[:60]!r} names no part that is moved", expected=f"one of: {', '.join(PARTS)}",
        example=EXAMPLE,
    )  # fmt: skip


def _one(part: Part, words: list[str], piece: str) -> dict[str, str]:
    if words in ([NO], [UNKNOWN]):
        return {key_of(part): words[0]}
    answers, useful = {key_of(part): YES}, DIRECTIONS[part]
    while words:
        way, *words = words
        count = next((i for i, word in enumerate(words) if word.isalpha() and word not in _UNITS), len(words))
        found = next((direction for direction in useful if direction == way), None)
        if found is None:
            raise InputError(
                f"{way!r} is no way in which moving the {part} centres the beam", expected=" or ".join(useful),
                example=EXAMPLE,
            )  # fmt: skip
        if count == 0:
            raise InputError(f"How far the {part} goes {way} is not said", expected="a length", example=EXAMPLE)
        if key_of(part, found) in answers:
            raise InputError(f"{way!r} is said twice of the {part}", expected="each way once", example=EXAMPLE)
        answers[key_of(part, found)] = " ".join(words[:count])
        words = words[count:]
    if len(answers) == 1:
        raise InputError(
            f"Whether {' '.join(piece.split())!r} can be moved is not said", expected="no, unknown, or how far",
            example=EXAMPLE,
        )  # fmt: skip
    return answers


_UNITS = ("mm", "cm", "in", "inch", "inches")
