"""Checks with covers shut: what costs least and tells most comes first, and the machine is switched seldom."""

from coach.session.part_events import Item
from coach.session.session import Session
from coach.session.visit_events import Care, Check
from coach.steps.about import About
from coach.steps.part import Laser, PartKind
from coach.steps.route import stale_now
from coach.steps.stages.check_words import CHECK_WORDS
from coach.steps.stages.checking import CHECKING, check_of
from coach.steps.stages.levelling import LEVEL
from coach.steps.visit_progress import power_now, since_anew, since_begun, state_of
from coach.triage.causes import ABOUT, CheckName
from coach.triage.suspects import Suspect

ALWAYS_CHECKED: tuple[CheckName, ...] = ("focus", "bed", "lens", "water", "tube", "extraction")
"""What is looked at in every visit; the others where something speaks for what they find."""


def _where(session: Session) -> About:
    """The next check; then what all of them come to."""
    if _levels(session):
        return About(key="level-bed", part="checks", item="bed")
    stale = stale_now(session)
    answered = _answered(session) - stale.keys()
    again = _asked_again(session) | stale.keys()
    left = [(each, check) for each in session.suspects() if (check := _to_check(each, answered, again)) is not None]
    if left:
        off = power_now(session.effective) == "off"
        as_it_is = [check for _, check in left if (CHECK_WORDS[check].laser == "off") == off]
        return About(key="check", part="checks", item=(as_it_is or [check for _, check in left])[0])
    return About(key="verdict", part="checks")


def _levels(session: Session) -> bool:
    """Whether the person went to level the bed, and neither measured it since nor went on."""
    for event in reversed(since_begun(session, "checks")):
        match event:
            case Item(part="checks", name=name):
                return name == LEVEL
            case Check(name="bed"):
                return False
    return False


def _answered(session: Session) -> set[str]:
    """Checks that were answered, and not to be looked at again since."""
    answered: set[str] = set()
    for event in since_anew(session.effective, "checks"):
        match event:
            case Check():
                answered.add(event.name)
            case Care(optic="lens", result="cracked"):  # seen while looking at it: the answer of that check
                answered.add("lens")
            case Item(part="checks", done=False):
                answered.discard(event.name)
    return answered


def _asked_again(session: Session) -> set[str]:
    """Checks that the person went to from the verdict, whatever speaks for them."""
    events = since_anew(session.effective, "checks")
    return {event.name for event in events if isinstance(event, Item) and event.part == "checks" and not event.done}


def _to_check(suspect: Suspect, answered: set[str], again: set[str]) -> CheckName | None:
    """The check that is left of a suspect, if it is worth its minutes, or was asked for."""
    check = ABOUT[suspect.name].check
    if check is None or check in answered:
        return None
    return check if check in ALWAYS_CHECKED or check in again or suspect.per_minute > 0 else None


def _to_be_made_again(session: Session) -> bool:
    """Whether a check that ended well says nothing of the machine as it is now; who left them out knows that."""
    return state_of("checks", session.effective) == "done" and bool(stale_now(session))


def _laser(about: About) -> Laser:
    if about.key == "level-bed":
        return "off"
    return "untouched" if about.key == "verdict" else CHECK_WORDS[check_of(about)].laser


CHECKS_PART = PartKind(
    name="checks",
    title="Checks, covers shut",
    about="Focus, bed, lens, water, tube and extraction: good, bad or not checked; what they come to is said.",
    laser="off",
    minutes=10,
    needs="a block and callipers, a torch, a tissue, a board for the ramp, a thermometer",
    stages=(CHECKING,),
    where=_where,
    counts_no_more=_to_be_made_again,
    laser_at=_laser,
)
