"""Lessons in plain sentences."""

from math import dist
from typing import assert_never

from coach.advice.lessons import DriveLearned, Lesson, ResponseLearned, Retest
from coach.shown import Wording


def retest_words(retest: Retest, wording: Wording) -> str:
    """Expected against seen: "middle: expected 0.2 mm left (give or take 0.9 mm), seen 0.3 mm left: as expected."."""
    place = wording.place(retest.expected_u, retest.expected_v)
    expected = f"{retest.station}: expected {place} (give or take {wording.length(2 * retest.expected_sd)})"
    if retest.seen is None:
        return f"{expected}, but no mark on the tape: not as expected, and the coach has learned from it."
    if not retest.as_expected:
        verdict = "not as expected, and the coach has learned from it"
    elif retest.vague:
        verdict = "no surprise, but too little was known for one"
    else:
        verdict = "a little beyond, yet no surprise" if _beyond(retest) else "as expected"
    return f"{expected}, seen {wording.place(*retest.seen)}: {verdict}."


def _beyond(retest: Retest) -> bool:
    """Whether the mark lies farther off than the give or take that was said."""
    assert retest.seen is not None
    return dist(retest.seen, (retest.expected_u, retest.expected_v)) > 2 * retest.expected_sd


def lesson_words(lesson: Lesson) -> str:
    """What was learned about a drive or a screw, in one sentence; it holds no length."""
    match lesson:
        case DriveLearned(mirror, push, said):
            way = "away from you" if push else "toward you"
            told = "" if said == "unknown" else f", not {said} as the profile says"
            drives = "push" if push else "pull"
            return f"Mirror {mirror}'s screws {drives}: a clockwise turn moves the plate {way}{told}."
        case ResponseLearned(mirror, screw, ratio, give):
            return (
                f"Mirror {mirror}, screw {screw} moves the mark {ratio:.1f} times as far as its geometry says "
                f"(give or take {give:.1f})."
            )
        case _:
            assert_never(lesson)
