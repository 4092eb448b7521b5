"""The end of a check-up's marks: the beam is as it was, or it moved; aligning is a choice then."""

from coach.session.session import Session
from coach.shown import Wording
from coach.steps.about import About
from coach.steps.cautions import COVERS, NOT_FIRING, SMOULDER, SUPPLY
from coach.steps.check_up import ALIGN, beam_word
from coach.steps.deeds import Given, Typed
from coach.steps.kind import ChoiceKind, Said, StepKind
from coach.steps.moved import Comparison, since_begun
from coach.steps.moved_words import comparison_lines
from coach.steps.visit_deeds import end_beam_path

NEXT = "Key out, all tape off. The cut check tells next whether it cuts as it did."


def _go_on_to_align(session: Session, about: About, given: Given, typed: Typed) -> None:
    """Screws are turned after all: the beam's path goes on as in any visit."""
    session.item("beam path", ALIGN, True)


def _says(about: About, session: Session, wording: Wording) -> Said:
    return checked_up(session, wording)


def checked_up(session: Session, wording: Wording) -> Said:
    """What the marks of a check-up say, once they are made."""
    seen = since_begun(session)
    if seen is None:
        count = sum(event.kind == "mark" for event in session.effective)
        marks = f"{count} mark{'' if count == 1 else 's'}"
        nothing = (
            "No visit before this one was closed with marks: nothing can be compared. Later ones are, with these."
        )
        return Said("Check-up", "Beam marked", marks, (nothing, NEXT))
    word = beam_word(seen)
    action = {"as it was": "Beam as it was", "moved": "Beam moved", "not known": "Beam: not known"}[word]
    lines = comparison_lines(seen, wording)
    do = (*lines, NEXT)
    return Said("Check-up", action, _figure(seen, wording), do, tone="good" if word == "as it was" else "do")


def _figure(seen: Comparison, wording: Wording) -> str:
    """The mark that lies farthest from where it lay; where only their mean is sure, that."""
    if seen.verdict == "moved" and not seen.moved and seen.together is not None:
        return f"everywhere {wording.length(seen.together.distance)}"
    if not seen.stations:
        return ""
    far = seen.stations[0]
    return f"{far.station} {wording.length(far.distance)}"


CHECKED_UP = StepKind(
    key="check-up",
    says=_says,
    own_cautions=(NOT_FIRING, SUPPLY, SMOULDER, COVERS),
    choices=(
        ChoiceKind(key="end-part", label="On with the check-up", does=end_beam_path, makes="end"),
        ChoiceKind(key="align", label="Go on to align: screws are turned", does=_go_on_to_align, makes="item"),
    ),
    picture="bed",
    about=("part",),
    danger_begins=True,
)
