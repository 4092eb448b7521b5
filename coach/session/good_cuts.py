"""When a machine's baselines are taken into a visit, and which of its cut checks become one."""

import math
from pathlib import Path

from coach import files
from coach.errors import InputError
from coach.session.baselines import LONGEST_WHY, KeptCurrent, Replaced, keep, load, path_of
from coach.session.session import Session
from coach.session.visit_events import Check, KeptCuts


def compare(session: Session, folder: Path) -> bool:
    """Take the machine's baselines into the session, where it has none yet; whether there were any.

    Raises Unreadable.
    """
    if session.practice is not None or any(
        event.kind == "baseline" and not event.marks for event in session.effective
    ):
        return False
    kept = load(folder, session.machine.name)
    for cuts in kept.cuts:
        session.baseline(cuts)
    if kept.usual_current is not None:
        session.usual_current(kept.usual_current)
    return bool(kept.cuts or kept.currents)


def not_good(session: Session) -> str:
    """Why the newest cut check is no baseline of a machine that is well; "" where it may be one."""
    if session.practice is not None:
        return "practice is no machine's"
    if session.advice().kind != "done":
        return "the beam's path is not done"
    if not session.cut_since_done():
        return "no whole check was cut since the machine was last touched"
    check = session.cuts()
    if half := _half_known(session):
        return half
    if check.beyond != "alike":
        return "it does not cut alike everywhere"
    found = [suspect.name for suspect in session.suspects() if suspect.state == "found"]
    return f"{found[0]} was found wrong, and not yet seen to be right" if found else ""


def _half_known(session: Session) -> str:
    """Where the newest check ended open; "" where it did nowhere."""
    limits = session.cuts().stations.items()
    half = [name for name, (low, high) in limits if low == 0 or math.isinf(high)]
    return f"between which speeds {half[0]} cuts through is not known" if half else ""


def replace_baseline(session: Session, folder: Path, why: str) -> Replaced:
    """The newest cut check takes the place of the baseline of its sheet, for a reason; the one that it replaces.

    Whether it is a good one is its owner's to say: a new tube or lens has its own.  The session is compared with it
    from then on.  Raises InputError where there is none to replace, Unreadable or Unwritable.
    """
    if session.practice is not None:
        raise InputError("Practice is no machine's", expected="a visit to a machine of your own")
    stamp = files.stamp(path_of(folder, session.machine.name))
    baselines, cuts = load(folder, session.machine.name), session.kept_cuts()
    if half := _half_known(session):
        raise InputError(f"This check is no baseline: {half}", expected="a fastest line and a next one everywhere")
    if baselines.cuts_like(cuts.cuts) is None:
        raise InputError("There is no baseline of this sheet to replace", expected="a first good one, kept by itself")
    if not why.strip() or len(why.strip()) > LONGEST_WHY:
        raise InputError("No reason was given", expected=f"at most {LONGEST_WHY} letters", example="new tube")
    baselines = baselines.replacing(cuts, why.strip())
    keep(folder, baselines, stamp)
    session.baseline(cuts)
    return baselines.replaced[-1]


def keep_first_good(session: Session, folder: Path) -> KeptCuts | None:
    """The newest cut check becomes the baseline of its sheet where it is good and none is kept yet; else None.

    The tube's current, where it was read in the same visit, is kept beside it.  Raises Unreadable or Unwritable.
    """
    if not_good(session):
        return None
    stamp = files.stamp(path_of(folder, session.machine.name))
    baselines, cuts = load(folder, session.machine.name), session.kept_cuts()
    if baselines.cuts_like(cuts.cuts) is not None:
        return None
    baselines = baselines.with_cuts(cuts)
    read = [e for e in session.effective if isinstance(e, Check) and e.name == "tube" and "current" in e.figures]
    if read:
        baselines = baselines.with_current(KeptCurrent(on=read[-1].at.date(), current=read[-1].figures["current"]))
    keep(folder, baselines, stamp)
    return cuts
