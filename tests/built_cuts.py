"""Sessions at the steps of a cut check, before and after, with what the machine once cut beside them."""

from datetime import date

from cutting_side import cut_stations, lay, seen
from visiting import at, through_the_gates

from coach.cutting.cuts import Cuts
from coach.cutting.limits import Limit
from coach.cutting.sheet import checked_sheet
from coach.session.document import Document
from coach.session.session import Session
from coach.session.visit_events import KeptCuts
from coach.steps.perform import perform

CUT_NAMES = ("cut-sheet", "cut-station", "cut-more", "cut-result", "key-out", "sheet-again", "cut-again")
"""Before: the sheet, a station, one where no line fell through, what it says; after: the key out, then as before."""
WEAK = {"back-left": 19.0, "front-left": 16.0, "middle": 15.5, "back-right": 15.0, "front-right": 9.0}
WELL = {"back-left": 19.0, "front-left": 18.6, "middle": 18.4, "back-right": 18.3, "front-right": 17.8}
"""mm/s at which the sheet is just cut through."""


def cut_visits(document: Document) -> dict[str, Document]:
    """A visit that goes from the sheet through cuts that fade along the beam to cuts as they were."""
    visit = Session(document)
    visit.begin("cut check")
    there = {"cut-sheet": visit._doc}
    lay(visit, "cut check")
    there["cut-station"] = visit._doc
    perform(visit, at(visit), "cut-through", option=seen(at(visit), 8.0))
    there["cut-more"] = visit._doc
    visit = Session(there["cut-station"])
    cut_stations(visit, WEAK)
    there["cut-result"] = visit._doc
    visit.baseline(_once())
    visit.care("lens", "clean")
    visit.begin("cut again")
    there["key-out"] = visit._doc
    through_the_gates(visit)
    there["sheet-again"] = visit._doc
    perform(visit, at(visit), "sheet-known", option=at(visit).choices[0].option)
    through_the_gates(visit)
    cut_stations(visit, WELL)
    there["cut-again"] = visit._doc
    return there


def _once() -> KeptCuts:
    limits = tuple(Limit(name, speed, 1.1 * speed) for name, speed in WELL.items())
    return KeptCuts.of(Cuts(checked_sheet("ply 6 mm, lot 3"), limits, 60.0), date(2026, 1, 9))
