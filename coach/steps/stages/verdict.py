"""Where answers, checks and cuts lead: the headline, what was found, and what can be done about it."""

from coach.session.session import Session
from coach.shown import Wording
from coach.steps.about import About
from coach.steps.cautions import COVERS, NOT_FIRING, SUPPLY
from coach.steps.kind import ChoiceKind, Said, StepKind
from coach.steps.route import mended
from coach.steps.stages.ends import END_PART
from coach.steps.stages.levelling import LEVEL_CHOICE, LEVELLING
from coach.steps.suspects_said import NAMED, lines_about
from coach.steps.visit_deeds import check_again, part_anew
from coach.triage.causes import ABOUT
from coach.triage.findings import CAUSE_OF
from coach.triage.suspects import Verdict


def headline(verdict: Verdict) -> str:
    """The verdict in a few words; only what its own test found is called found, or sent to the service."""
    match verdict.ends:
        case "on to the beam":
            return "On to the beam"
        case "as it was":
            return "Machine as it was"
        case "cut again":
            return "Beam aligned: cut again"
        case "test":
            return f"Look again: {verdict.cause}"
        case "stop":
            return f"Key out: {verdict.cause}"
        case "not alignment":
            if not verdict.found:
                return f"Likeliest: {verdict.cause}"
            return f"Service: {verdict.cause}" if verdict.service else f"Found: {verdict.cause}"


def _says(about: About, session: Session, wording: Wording) -> Said:
    verdict = session.verdict(wording)
    suspect = next((each for each in session.suspects() if each.name == verdict.cause), None)
    found = suspect is not None and suspect.state == "found"
    checks = session.checks(wording)
    figures = tuple(words for name, each in checks.items() if CAUSE_OF[name] == verdict.cause for words in each.says)
    also = (f"Found besides: {', '.join(NAMED[cause] for cause in verdict.also)}.",) if verdict.also else ()
    odd = tuple(doubt.asks for doubt in session.doubts())
    open_ = sorted(name for name, each in checks.items() if each.result == "not checked")
    left = (f"Not checked: {', '.join(open_)}.",) if open_ else ()
    why = "" if suspect is None or found else " ".join(lines_about(suspect))
    seen_to = mended(session)
    if seen_to and not found and verdict.ends != "stop":
        named = ", ".join(NAMED[CAUSE_OF[name]] for name in seen_to)
        then = f"Seen to: {named}. The cut check tells next whether that was all; what else there is comes after it."
        return Said("Checks", f"Mended: {seen_to[-1]}; cut again", "", (then, *also, *odd, *left))
    return Said("Checks", headline(verdict), "", (verdict.says, *figures, *also, *odd, *left), why)


def _can_be_looked_at_again(about: About, session: Session) -> bool:
    cause = session.verdict().cause
    return cause != "" and ABOUT[cause].check is not None


VERDICT = (
    StepKind(
        key="verdict",
        says=_says,
        own_cautions=(NOT_FIRING, SUPPLY, COVERS),
        choices=(
            LEVEL_CHOICE,
            END_PART,
            ChoiceKind(
                key="check-again",
                label="Seen to, or looked again: check it again",
                does=check_again,
                makes="item",
                offered=_can_be_looked_at_again,
            ),
            ChoiceKind(key="part-again", label="All checks again", does=part_anew, makes="item"),
        ),
        about=("part",),
        danger_begins=True,
    ),
    LEVELLING,
)
