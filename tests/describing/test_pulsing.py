"""How a machine pulses: asked, typed, kept with the profile, and read back."""

import pytest
from machines import make_machine

from coach.describing import profile
from coach.describing.description import Description
from coach.describing.questions import questions
from coach.errors import InputError

LEAST = {"bed.width": "600", "bed.depth": "400", "path.side": "left"}


@pytest.mark.parametrize(
    ("answers", "kept"),
    [
        ({}, {}),
        ({"pulse.timed": "unknown", "pulse.ms": "70"}, {}),
        ({"pulse.timed": "yes", "pulse.ms": "70 ms"}, {"timed": True, "ms": 70.0}),
        ({"pulse.timed": "no", "pulse.ms": "70"}, {"timed": False}),
        ({"pulse.percent": "yes", "pulse.power": "12,5 %"}, {"percent": True, "power": 12.5}),
        ({"pulse.percent": "no", "pulse.power": "12"}, {"percent": False}),
    ],
)
def test_what_is_answered_is_kept_and_given_back(answers: dict[str, str], kept: dict[str, object]) -> None:
    """A time counts only where the controller times, a power only where it is set in per cent."""
    description = Description(LEAST)
    for key, text in answers.items():
        description = description.answered(key, text)
    machine = profile.machine_of(description)
    assert machine.pulse.model_dump(exclude_none=True) == kept
    assert profile.machine_of(profile.describe(machine)) == machine
    assert ("pulse.ms" in {q.key for q in questions(description)}) is (answers.get("pulse.timed") == "yes")


@pytest.mark.parametrize(
    ("key", "text", "words"),
    [
        ("pulse.ms", "0", "A pulse of 0 ms is none"),
        ("pulse.ms", "0.07", "in seconds, 0.07 would be 70 ms"),
        ("pulse.ms", "700", "at most 500 ms"),
        ("pulse.ms", "short", "'short' cannot be read"),
        ("pulse.power", "0", "more than 0 and at most 100 %"),
        ("pulse.power", "120 %", "A power of 120 % cannot be"),
        ("pulse.power", "-5", "cannot be read"),
    ],
)
def test_what_cannot_be_is_one_sentence(key: str, text: str, words: str) -> None:
    """A dose of nothing, or typed in seconds."""
    with pytest.raises(InputError, match=words):
        Description(LEAST).answered(key, text)


def test_a_profile_that_says_nothing_of_pulses_stays_so() -> None:
    """An older file."""
    assert "pulse" not in profile.machine_of(profile.describe(make_machine())).to_table()
