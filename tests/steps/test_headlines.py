"""Each headline, and each glance, read alone: by somebody who sees only that, from two metres."""

import re

import pytest
from built_steps import NAMES
from built_steps import step_at as at

from coach.plain.step_lines import action_words
from coach.steps.gates import GATES
from coach.steps.stages.check_words import CHECK_WORDS
from coach.steps.stages.checking import HALTS
from coach.steps.stages.closing import CLOSING
from coach.steps.stages.done import STOPS
from coach.steps.stages.head import STOPS as HEAD_STOPS
from coach.steps.stages.moves import LARGE
from coach.steps.stages.questions import BRIEF

OBJECTS = re.compile(
    r"\b(rules|alignment|optics|eyewear|person|extinguisher|water|tape|lid|pulse|key|marks?|target|mirrors? \d|"
    r"mirrors?|screws?|head|tube|plug|gantry|parts?|station|beam|nuts|nozzle|covers|settings|interlock|smoke|notes|"
    r"cuts?|lines|sheet|machine|bed|lens|focus|current|rails?|extraction|material|supply|cooling|combiner|card|pointer|spot)\b",
    re.IGNORECASE,
)
"""What there is at a laser cutter that can be looked at, held, turned or switched."""
PLACE = re.compile(r"\b(back|front|left|right|centre|corner|X [0-9])", re.IGNORECASE)
FIRING = re.compile(r"\b(fires?|firing|burn\w*|flame|shoot|shot|more|again|hold)\b", re.IGNORECASE)
"""Words that, beside a fire button, could be taken as an order to press it, or to go on pressing."""


def headlines() -> dict[str, str]:
    """Every headline but those of the steps: of every gate, every stop, every check, every part that is moved."""
    of_gates = {f"gate {gate.name}": gate.title for gate in GATES}
    of_stops = {f"stop {cause}": large for cause, (_, large) in (STOPS | HEAD_STOPS).items()}  # type: ignore[operator]
    of_closing = {f"closing {item.name}": item.title for item in CLOSING}
    of_questions = {f"question {key}": words for key, words in BRIEF.items()}
    of_checks = {f"check {name}": words.action for name, words in CHECK_WORDS.items()}
    of_closing |= of_questions | of_checks | {f"halt {name}": words for name, words in HALTS.items()}
    return of_closing | of_gates | of_stops | {f"move {part}": large for part, large in LARGE.items()}


HEADLINES = headlines()


def headline(name: str) -> str:
    """That of a step as it comes, or one of the others."""
    return HEADLINES.get(name) or at(name).action


def test_a_headline_names_its_object() -> None:
    """What is to be done, or what is so, is said of something: never "stop turning" or "a little more" alone."""
    for name in (*NAMES, *HEADLINES):
        words = headline(name)
        named = OBJECTS.search(words) or PLACE.search(words)
        assert named, f"{name}: {words!r} names nothing; where it does, OBJECTS in tests/steps/test_headlines.py"


def test_a_headline_is_no_order_to_fire() -> None:
    """No word of it could be an order to press the fire button or to keep it pressed; a pulse is spoken of only where
    one is due, and then as one and short."""
    for name in (*NAMES, *HEADLINES):
        words = headline(name)
        assert not FIRING.search(words), (name, words)
        if "pulse" in words.lower():
            assert (name, words) in (("pulse", "One short pulse"), ("head-pulse", "One short pulse"))


@pytest.mark.parametrize("name", NAMES)
def test_a_glance_is_no_order_to_fire(name: str) -> None:
    """Headline and figure are all that a glance shows large: together they order no pulse where none is due."""
    step = at(name)
    words = f"{step.action}; {step.figure}"
    assert not FIRING.search(words.replace("no more pulses", "").replace("no more turning", "")), words
    if "pulse" in words.lower().replace("no more pulses", ""):
        assert step.kind.fires


def test_done_and_stop_share_no_word_and_no_colour() -> None:
    """What ends well and what must not go on: neither says a word of the other, and each has a tone of its own."""
    words = {tone: " ".join(at(n).action for n in NAMES if at(n).tone == tone) for tone in ("good", "stop")}
    assert {name for name in NAMES if at(name).tone == "good"} == {
        *("done", "aligned", "visit-done", "parts-done", "cut-again", "check-up"),
        *("head-done", "head-locks", "pointer-done"),
    }
    assert {name for name in NAMES if at(name).tone == "stop"} >= {"stop", "elsewhere", "double", "off-tape"}
    assert "stop" not in words["good"].lower()
    assert not re.search(r"done|good|best|centred", words["stop"], re.IGNORECASE)


@pytest.mark.parametrize("name", NAMES)
def test_sentences_stand_in_normal_case(name: str) -> None:
    """Capitals are only how a headline is drawn: what is read aloud has them at its beginning and in names."""
    step = at(name)
    for word in re.findall(r"[A-Za-z]{2,}", f"{step.action} {action_words(step)}"):
        assert not word.isupper(), word
