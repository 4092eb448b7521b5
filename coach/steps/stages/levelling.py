"""Levelling the bed: which corner hangs low and by how much, and how it is raised.  All of it common practice."""

from dataclasses import replace

from coach.cutting.limits import FEWEST
from coach.session.cut_checks import cut_runs
from coach.session.session import Session
from coach.shown import Wording
from coach.steps.about import About
from coach.steps.cautions import NOT_FIRING, SUPPLY, UNDER_BED
from coach.steps.deeds import Given, Typed
from coach.steps.keys import ChoiceKey
from coach.steps.kind import ChoiceKind, Said, StepKind
from coach.steps.stages.ends import END_PART
from coach.steps.visit_deeds import check_again
from coach.threads import METRIC_COARSE
from coach.triage.bed import hangs
from coach.triage.figures import CORNERS

LEVEL = "level"
"""Name of the entry that says that the person goes to level the bed."""
ALIKE = 0.05
"""mm; a corner that hangs lower by less is left as it is: no block and no rod tell it."""
HOW = (
    "Off, head slid by hand: set focus gauge or block so that it just slides under the nozzle at the highest corner. "
    "At each low corner slacken the lock nut of the bed's screw, raise until it just slides there, tighten.",
    f"One turn of M6 is {METRIC_COARSE['M6']:g} mm, of M8 {METRIC_COARSE['M8']:g}. Go round twice: each corner moves "
    "its neighbours. A bed on belt or chain: as its manual says.",
)


def _says(about: About, session: Session, wording: Wording) -> Said:
    found = session.checks().get("bed")
    low = hangs(found.figures) if found is not None else {}
    to_raise = {corner: mm for corner, mm in low.items() if mm >= ALIKE}
    if not to_raise:
        return _unmeasured(session)
    first = max(to_raise, key=lambda corner: to_raise[corner])
    stays = ", ".join(corner for corner in low if corner not in to_raise)
    amounts = ", ".join(f"{corner} {wording.length(mm)}" for corner, mm in to_raise.items())
    open_ = [corner.replace("_", " ") for corner in CORNERS if corner.replace("_", " ") not in low]
    left = (f"Not measured: {', '.join(open_)}.",) if open_ else ()
    measured = f"Low, as measured: {amounts}. Highest, and left as it is: {stays}."
    return Said("Checks", f"Raise {first}", wording.length(to_raise[first]), (measured, *left, *HOW))


def _unmeasured(session: Session) -> Said:
    """Nobody measured by how much: the cuts say where to begin, and not which way."""
    runs = cut_runs(session.effective)
    begin = ""
    if runs and len(runs[-1].limits) >= FEWEST:
        check = session.cuts()
        slowest = min(check.stations, key=lambda name: check.stations[name])
        begin = (
            f" Cuts are slowest at {slowest}: begin there; whether it hangs low or high only a gap tells."
            if check.uneven
            else " Where it cuts slowest, if anywhere, the cuts do not tell."
        )
    first = f"Which corner hangs low, and by how much, nobody measured yet: do that first.{begin}"
    labels: dict[ChoiceKey, str] = {"check-again": "Measure the corners' gaps"}
    return Said("Checks", "Bed: gaps first", "", (first, *HOW), labels=labels)


def _begin(session: Session, about: About, given: Given, typed: Typed) -> None:
    """To the bed's screws."""
    session.item("checks", LEVEL, True)


def _bed_was_found(about: About, session: Session) -> bool:
    verdict = session.verdict()
    return verdict.ends == "not alignment" and verdict.cause == "bed"


LEVEL_CHOICE = ChoiceKind(
    key="level-bed", label="Level the bed: show how", does=_begin, makes="item", offered=_bed_was_found
)
LEVELLING = StepKind(
    key="level-bed",
    says=_says,
    own_cautions=(NOT_FIRING, UNDER_BED, SUPPLY),
    choices=(
        ChoiceKind(key="check-again", label="Levelled: measure again", does=check_again, makes="item"),
        replace(END_PART, label="Not now: go on"),
    ),
    picture="check",
    about=("part", "item"),
)
