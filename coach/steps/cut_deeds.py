"""What choices about cut checks do: each makes one entry."""

import math

from coach.cutting.limits import FEWEST
from coach.errors import InputError
from coach.session.cut_checks import cut_runs
from coach.session.session import Session
from coach.steps.about import About
from coach.steps.cut_progress import WARM, cut_progress, kept_of
from coach.steps.deeds import Given, Typed
from coach.steps.known_sheets import cut_part, known_sheets


def lay_known(session: Session, about: About, given: Given, typed: Typed) -> None:
    """A sheet that is known was laid in."""
    sheet = next(each for each in known_sheets(session, cut_part(about.part)) if each.called == given.option)
    session.sheet(sheet.material, power=sheet.power, speed=sheet.speed)


def lay_other(session: Session, about: About, given: Given, typed: Typed) -> None:
    """Another sheet was laid in."""
    assert given.figures is not None
    power, speed = (_number(given.figures.get(name)) for name in ("power", "speed"))
    session.sheet(str(given.figures["material"]), power=power, speed=speed)


def cut_through(session: Session, about: About, given: Given, typed: Typed) -> None:
    """What fell through of the lines that were proposed."""
    assert given.option is not None
    fastest, next_ = (None if speed == OPEN else float(speed) for speed in given.option.split())
    _cut(session, about, fastest, next_)


def cut_figures(session: Session, about: About, given: Given, typed: Typed) -> None:
    """What fell through of other lines."""
    assert given.figures is not None
    _cut(session, about, *(_number(given.figures.get(name)) for name in ("fastest", "next")))


def leave_station(session: Session, about: About, given: Given, typed: Typed) -> None:
    """At this station nothing can be cut, for a reason.  Raises InputError where none is given."""
    assert about.part is not None
    assert about.item is not None
    if not (given.why or "").strip():
        raise InputError("No reason was given for leaving this station out", expected="a few words")
    session.item(about.part, about.item, False, given.why or "")


def once_more_warm(session: Session, about: About, given: Given, typed: Typed) -> None:
    """The first station is cut once more, at once."""
    assert about.part is not None
    session.item(about.part, WARM, True)


def not_yet_warm(about: About, session: Session) -> bool:
    """Whether enough stations were cut, and none of them warm yet."""
    progress = cut_progress(session, cut_part(about.part))
    if progress.number is None or len(progress.limits) < FEWEST or WARM in progress.closed:
        return False
    return (
        next(iter(progress.limits)) not in progress.closed and not cut_runs(session.effective)[progress.number].warm
    )


NEW_BASELINE = "new baseline"
"""Name of the entry that says why the baseline of a sheet is replaced."""


def new_baseline(session: Session, about: About, given: Given, typed: Typed) -> None:
    """Something was changed on purpose: this check is what later ones are compared with.  Raises InputError."""
    assert about.part is not None
    if not (given.why or "").strip():
        raise InputError("No reason was given for replacing the baseline", expected="a few words", example="new tube")
    session.item(about.part, NEW_BASELINE, True, given.why or "")


def can_be_replaced(about: About, session: Session) -> bool:
    """Whether a baseline of this sheet stands beside a whole check, on a machine of one's own."""
    progress = cut_progress(session, cut_part(about.part))
    whole = [limit for limit in progress.limits.values() if limit.low > 0 and not math.isinf(limit.high)]
    kept = kept_of(session, progress)
    mine = kept is not None and len(progress.limits) == len(whole) >= FEWEST
    return mine and session.practice is None and kept != session.kept_cuts()


OPEN = "-"
"""In place of a speed, where no line fell through, or all did."""


def _cut(session: Session, about: About, fastest: float | None, next_: float | None) -> None:
    """Enter it; an end that stays open is the one that the lines cut there before have found."""
    assert about.item is not None
    progress = cut_progress(session, cut_part(about.part))
    assert progress.sheet is not None
    before = progress.limits.get(about.item) if progress.station is not None else None
    if before is not None and fastest is None and next_ is not None and 0 < before.low < next_:
        fastest = before.low
    elif before is not None and next_ is None and fastest is not None and fastest < before.high < math.inf:
        next_ = before.high
    sheet = progress.sheet
    warm = progress.station is None
    session.cut(about.item, fastest=fastest, next=next_, material=sheet.material, power=sheet.power, warm=warm)


def _number(value: float | str | None) -> float | None:
    return None if value is None else float(value)
