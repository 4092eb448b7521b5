"""The questions about parts that can be moved: whether, and how far each way."""

from coach.describing.moving import NO, YES, key_of
from coach.describing.question import Option, Question
from coach.describing.usual import UNKNOWN
from coach.parts import DIRECTIONS, PARTS, Part

BOTH_WAYS = {"up": "up and down", "right": "right and left", "back": "back and front"}
PLACED: dict[Part, tuple[str, str, str]] = {
    "mirror 2": (
        "mirror 2 in its slots",
        "Mirror 2 in slots?",
        "Look at its foot: can the whole mount slide along the gantry, right and left, in slots, without tilting?",
    ),
    "head": (
        "head in its bracket",
        "Head in a bracket?",
        "Look at its bracket: can the head with its opening be bolted on higher or lower, or further back or front?",
    ),
    "mirror 1": (
        "mirror 1 in its slots",
        "Mirror 1 in slots?",
        "Look at its foot: can the whole mount slide right and left, in slots, without tilting?",
    ),
    "tube": (
        "tube in its holders",
        "Tube in its holders?",
        "Only look: two holders carry the glass. Do slots or screws take it up and down, or back and front?",
    ),
}
"""Title, question, and what to look at, by part."""
NOT_KNOWN = "Not to be seen? Say so: the coach then asks when it matters."
MOVABLE = (
    Option(NO, "No, it is fixed"),
    Option(YES, "Yes: how far is asked next"),
    Option(UNKNOWN, "I do not know"),
)


def _move_questions(part: Part) -> tuple[Question, ...]:
    title, words, look = PLACED[part]
    return (
        Question(key_of(part), title, words, (look, NOT_KNOWN), "choice", MOVABLE),
        *(
            Question(
                key_of(part, way),
                f"{part} {way}",
                f"{part.capitalize()}: how far{'' if part.startswith('mirror') else f' {way}'}?",
                (
                    f"From where it stands, how far each way: {BOTH_WAYS[way]}? 0 where it cannot. Measure in the "
                    "slot, from the bolt to its nearer end.",
                    NOT_KNOWN,
                ),
            )
            for way in DIRECTIONS[part]
        ),
    )


MOVES = {part: _move_questions(part) for part in PARTS}
