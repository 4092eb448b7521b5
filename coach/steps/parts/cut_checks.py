"""The cut check before anything is done, and once more after it: does it cut as it did?"""

from coach.session.session import Session
from coach.steps.about import About
from coach.steps.cut_progress import CutPart, cut_progress, touched_since
from coach.steps.keys import StepKey
from coach.steps.part import Laser, PartKind
from coach.steps.stages.cutting import CUTS_STAGE

_LASER: dict[StepKey, Laser] = {"cut-sheet": "idle", "cut-station": "cutting", "cut-result": "untouched"}
NEEDS = "one sheet that you cut often, with a name for its batch; the gauge for the focus"


def _where(session: Session, part: CutPart) -> About:
    """The sheet first, then station by station, then what all of it says."""
    progress = cut_progress(session, part)
    if progress.sheet is None:
        return About(key="cut-sheet", part=part)
    station = progress.station
    if station is None and progress.warm:
        return About(key="cut-station", part=part, item=progress.warm, more=True)
    if station is None:
        return About(key="cut-result", part=part)
    return About(key="cut-station", part=part, item=station, more=station in progress.limits)


def _laser(about: About) -> Laser:
    return _LASER[about.key]


CUT_CHECK = PartKind(
    name="cut check",
    title="Cut check",
    about="Short lines at rising speeds, station by station: how it cuts now, how evenly, and in which pattern.",
    laser="cutting",
    minutes=8,
    needs=NEEDS,
    stages=(CUTS_STAGE,),
    where=lambda session: _where(session, "cut check"),
    laser_at=_laser,
)
CUT_AGAIN = PartKind(
    name="cut again",
    title="Cut check again",
    about="The same lines in the same sheet: does it cut as it did?",
    laser="cutting",
    minutes=8,
    needs=NEEDS,
    stages=(CUTS_STAGE,),
    where=lambda session: _where(session, "cut again"),
    counts_no_more=touched_since,
    laser_at=_laser,
)
