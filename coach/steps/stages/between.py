"""Between two parts of the visit: what comes next, what was done, and leaving a part out."""

from collections.abc import Collection, Sequence

from coach.session.session import Session
from coach.shown import Wording
from coach.steps import deeds
from coach.steps.about import About
from coach.steps.bumped import waits_words
from coach.steps.cautions import NOT_FIRING, SMOULDER, SUPPLY
from coach.steps.keys import ChoiceKey
from coach.steps.kind import ChoiceKind, Maker, Said, Stage, StepKind
from coach.steps.part import LASER_WORDS, PartKind
from coach.steps.part_state import became
from coach.steps.route import passed_over, passed_words, stale_words
from coach.steps.suspects_said import NAMED
from coach.steps.visit_deeds import begin_other, begin_part, leave_untested, skip_part
from coach.steps.visit_progress import one_part_alone, part_now
from coach.triage.causes import ABOUT
from coach.visit import VisitPart


def between(parts: Sequence[PartKind]) -> Stage:
    """The stage between these parts."""
    named = {part.name: part for part in parts}

    def says(about: About, session: Session, wording: Wording) -> Said:
        passed = passed_over(session)
        assert about.part is not None
        part = named[about.part]
        return Said(
            "Visit",
            f"Part {parts.index(part) + 1}: {part.title[0].lower()}{part.title[1:]}",
            f"about {part.minutes} minutes",
            (
                part.about,
                f"{LASER_WORDS[part.laser]} At hand: {part.needs}.",
                " ".join(_listed(parts, passed, session)),
            ),
            why=waits_words(session)
            or _once_more(part, session)
            or passed_words(_untouched(parts, passed, session), session),
            labels={"begin-part": f"Go on: {part.title}", "finish": "Close this visit here"},
        )

    def says_all(about: About, session: Session, wording: Wording) -> Said:
        passed = passed_over(session)
        all_done = all(became(part, session) == "done" for part in parts)
        return Said(
            "Visit",
            "Every part is done" if all_done else "No part left to do",
            "",
            _listed(parts, passed, session),
            why=passed_words(_untouched(parts, passed, session), session),
        )

    return Stage("Next", (_next_part(says), _parts_done(says_all), _STILL_WEAK))


def _listed(parts: Sequence[PartKind], passed: Collection[VisitPart], session: Session) -> tuple[str, ...]:
    """What became of all of them, a sentence for each that can become of one: "Done: what changed; cut check."."""
    alone = one_part_alone(session.effective)
    became_of: dict[str, list[str]] = {}
    for part in parts:
        became_of.setdefault(_stands(part, passed, session), []).append(f"{part.title[0].lower()}{part.title[1:]}")
    return tuple(
        f"{'Not gone to' if alone and state == 'to come' else state.capitalize()}: {'; '.join(became_of[state])}."
        for state in sorted(became_of, key=STATES.index)
    )


def _untouched(parts: Sequence[PartKind], passed: Collection[VisitPart], session: Session) -> tuple[VisitPart, ...]:
    """The parts that are passed over and were not gone to either."""
    return tuple(part.name for part in parts if _stands(part, passed, session) == "passed over")


def _stands(part: PartKind, passed: Collection[VisitPart], session: Session) -> str:
    """What became of a part, or that nothing speaks for it."""
    state = became(part, session)
    return "passed over" if part.name in passed and state == "to come" else state


def _once_more(part: PartKind, session: Session) -> str:
    """Why checks that were through come again."""
    return stale_words(session) if part.name == "checks" else ""


STATES = ("done", "left out", "left open", "now", "passed over", "to come")
"""All that is said of a part, in the order in which it is said."""
OTHER_PART = ChoiceKind(key="other-part", label="Another part", wants="part", does=begin_other, makes="begin")
UNTESTED = ChoiceKind(
    key="item-open",
    label="Close up unfired: interlock untested",
    does=leave_untested,
    makes="item",
    read_back="The interlock stays untested, and stands so in the record of this visit.",
    offered=lambda about, session: part_now(session.effective) == "close up",
)
"""Where nothing may be fired the rest of closing up goes on: somebody still has to look for smoke."""
CLOSE = ChoiceKind(
    key="finish",
    label="Close this visit",
    does=deeds.finish,
    makes="finish",
    read_back="What was left out or open stands so in the record of this visit.",
)


def _next_part(says: Maker) -> StepKind:
    return StepKind(
        key="next-part",
        says=says,
        own_cautions=(NOT_FIRING, SUPPLY, SMOULDER),
        choices=(
            ChoiceKind(key="begin-part", label="Go on", does=begin_part, makes="begin"),
            ChoiceKind(
                key="skip-part", label="Leave it out, with a reason", wants="why", does=skip_part, makes="skip"
            ),
            OTHER_PART,
            CLOSE,
        ),
        danger_begins=True,
        about=("part",),
    )


def _parts_done(says: Maker) -> StepKind:
    return StepKind(
        key="parts-done",
        says=says,
        own_cautions=(NOT_FIRING, SMOULDER),
        tone="good",
        choices=(CLOSE, OTHER_PART),
        danger_begins=True,
        about=("part",),
    )


def _says_weak(about: About, session: Session, wording: Wording) -> Said:
    verdict = session.verdict(wording)
    if service_left(session):
        found = "what was found" if verdict.found else "what is left"
        through = f"Every part is through, it does not cut as it did, and {found} is not its owner's to mend."
        labels: dict[ChoiceKey, str] = {"finish": f"Close: {NAMED[verdict.cause]} is for the service"}
        return Said(
            "Visit",
            f"{'Service' if verdict.found else 'Ask the service'}: {verdict.cause}",
            "cuts still weak",
            (through, verdict.says),
            labels=labels,
            first="finish",
        )
    through = "Every part is through, and it does not cut as it did. Look once more at what was not found."
    return Said("Visit", "Cuts still weak", "", (through, verdict.says))


def service_left(session: Session) -> bool:
    """Whether nothing is left that was found but what is the service's."""
    verdict = session.verdict()
    found = (verdict.cause, *verdict.also) if verdict.cause else ()
    return verdict.ends == "not alignment" and all(ABOUT[cause].service for cause in found)


_STILL_WEAK = StepKind(
    key="still-weak",
    says=_says_weak,
    own_cautions=(NOT_FIRING, SUPPLY, SMOULDER),
    choices=(
        ChoiceKind(key="begin-part", label="Back to the checks", does=begin_part, makes="begin"),
        OTHER_PART,
        CLOSE,
    ),
    danger_begins=True,
    about=("part",),
)
