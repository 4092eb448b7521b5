"""How sure all of it is: what was found or cleared and why, what contradicts itself, the beam's doubt by station."""

from coach.advice.chance_words import percent
from coach.advice.outlook import station_risks
from coach.report.page import Section, Table
from coach.report.so_far import capital
from coach.session.cut_checks import cut_runs
from coach.session.events import Mark
from coach.session.session import Session
from coach.session.visit_events import Answer, Check, Cut
from coach.shown import Wording
from coach.steps.results import worst_before
from coach.steps.route import mended
from coach.steps.suspects_said import NAMED
from coach.triage.doubts import Doubt
from coach.triage.findings import CAUSE_OF
from coach.triage.suspects import Suspect

BEFORE_MENDING = {"weak", "cuts"}
"""What was said of the cuts when the visit began, and how they came out last: both are true once they are good."""
PUT_RIGHT = "was wrong, is put right"
STATES = {"found": "found by its test", "cleared": "cleared by its test", "open": "not tested"}


def suspects(session: Session) -> Section:
    """Every cause that anything speaks for or against, with how its own test ended."""
    asked = session.is_visit and any(isinstance(event, Answer | Check | Cut) for event in session.effective)
    righted = put_right(session)
    rows = tuple(
        (
            capital(NAMED[each.name]),
            _ended(each, righted),
            " ".join(each.speaks_for) or "–",
            " ".join(each.speaks_against) or "–",
        )
        for each in (session.suspects() if asked else ())
        if each.speaks_for or each.speaks_against or each.state != "open"
    )
    table = Table("As it stands at the end", ("Cause", "Its test", "Speaks for it", "Speaks against it"), rows)
    return Section("What spoke for and against each cause", (), (), (table,))


def put_right(session: Session) -> set[str]:
    """The causes that were found and seen good after that: by checks, and the beam's path by its marks."""
    before = worst_before(session.effective)
    beam = {"alignment"} if before is not None and before > session.machine.tolerance else set()
    return {CAUSE_OF[name] for name in mended(session)} | beam


def _ended(suspect: Suspect, righted: set[str]) -> str:
    """How its own test ended; "cleared" is said only of what was never found."""
    if suspect.skipped:
        return "could not be tested"
    return PUT_RIGHT if suspect.state == "cleared" and suspect.name in righted else STATES[suspect.state]


def contradictions(session: Session) -> tuple[Doubt, ...]:
    """Entries that contradict each other as it stands at the end."""
    good = len(cut_runs(session.effective)) > 1 and session.cuts().again == "yes"
    return tuple(each for each in session.doubts() if not (good and set(each.about) == BEFORE_MENDING))


def doubts(session: Session, wording: Wording) -> Section:
    """Entries that contradict each other, and where each station's beam is believed to be."""
    marked = any(isinstance(event, Mark) for event in session.effective)
    rows = _stations(session, wording) if marked else ()
    good = wording.exact(session.machine.tolerance)
    heads = ("Station", "Beam at the head, as believed now", "Give or take", f"Chance within {good}")
    says = tuple(doubt.asks for doubt in contradictions(session))
    return Section("Doubts", says, (), (Table("How surely the beam is where it should be", heads, rows),))


def _stations(session: Session, wording: Wording) -> tuple[tuple[str, ...], ...]:
    belief = session.belief
    risks = station_risks(belief.layout, belief.settled)
    rows = []
    for place, risk in zip(session.machine.stations, risks, strict=True):
        mark = belief.expected(place.x, place.y)
        doubt = wording.length(2 * max(mark.axes_sd))
        rows.append((place.name, wording.place(mark.u, mark.v), doubt, percent(1.0 - float(risk))))
    return tuple(rows)
