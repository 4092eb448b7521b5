"""What is asked before anything is measured: when it began, what was touched, and how it cuts.

Questions and answers are data: a front end shows them; `coach.triage.table` says what each speaks for.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from coach.errors import UnknownName

NOT_KNOWN = "not known"


@dataclass(frozen=True)
class Question:
    """One question with its answers, in the order in which they are shown; "not known" is always one."""

    key: str
    asks: str
    answers: tuple[str, ...]
    many: bool = False
    """Several answers may hold together; the first one, or "not known", stands alone."""

    @property
    def alone(self) -> frozenset[str]:
        """The answers beside which no other holds."""
        return frozenset((self.answers[0], NOT_KNOWN))


QUESTIONS: tuple[Question, ...] = (
    Question("weak", "Where does it cut worse?",
             ("everywhere alike", "toward one corner", "along one axis", "at one place", "on and off", NOT_KNOWN)),
    Question("since", "Since when?", ("suddenly", "slowly, over weeks", "always", NOT_KNOWN)),
    Question("fades", "Is it good when cold and fades within minutes?", ("no", "yes", NOT_KNOWN)),
    Question("edge", "How does the edge of a cut look?",
             ("upright", "leaning", "double lines", NOT_KNOWN), many=True),
    Question("moved", "Was the machine moved or bumped?", ("no", "moved", "bumped", NOT_KNOWN)),
    Question("changed", "Was something changed, or out and put back?",
             ("nothing", "tube", "mirror", "lens", "head", NOT_KNOWN), many=True),
    Question("material", "Is the material new, or of another batch?", ("the same", "new", NOT_KNOWN)),
)  # fmt: skip
"""In the order in which they are asked: first what costs least to say and tells most."""


def question(key: str) -> Question:
    """The question of that key.  Raises UnknownName."""
    for each in QUESTIONS:
        if each.key == key:
            return each
    raise UnknownName(f"There is no question {key!r}", expected="one of: " + ", ".join(q.key for q in QUESTIONS))


def checked_answer(key: str, answer: str) -> tuple[str, str]:
    """Question and answer.  Raises UnknownName."""
    asked = question(key)
    if answer not in asked.answers:
        raise UnknownName(
            f"To {asked.asks!r} there is no answer {answer!r}", expected="one of: " + "; ".join(asked.answers)
        )
    return key, answer


Answers = Mapping[str, tuple[str, ...]]
"""Question to the answers that stand."""


def standing(given: tuple[tuple[str, str], ...]) -> dict[str, tuple[str, ...]]:
    """The answers that stand, from all in order: a later one replaces, or joins where several may hold."""
    stand: dict[str, tuple[str, ...]] = {}
    for key, answer in given:
        asked = question(key)
        before = tuple(a for a in stand.get(key, ()) if a not in asked.alone and a != answer)
        stand[key] = (*before, answer) if asked.many and answer not in asked.alone else (answer,)
    return stand
