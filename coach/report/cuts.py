"""Cut checks: speeds before, after and as they once were, and what each check says."""

from collections.abc import Sequence
from math import isinf

from coach.cutting.limits import Limit
from coach.pictures.cuts_shown import between as speeds_between
from coach.report.good_now import cut_result
from coach.report.page import Drawing, Section, Table
from coach.scenes.of_cuts import cut_check_scene
from coach.session.cut_checks import CutRun, cut_runs
from coach.session.session import Session
from coach.session.visit_events import KeptCuts
from coach.shown import day_words
from coach.steps.stages.cut_words import between

MOST = 5
"""Cut checks that stand side by side in one table: more columns find no room on a sheet."""
LADDER = 56
"""Columns of one check's picture."""
Speeds = dict[str, tuple[float, float]]


def cuts(session: Session) -> Section:
    """Every cut check: its picture, the speeds, the share of the others that each station gets, and the change."""
    runs = cut_runs(session.effective)
    says: list[str] = []
    drawings, tables = [], [*_side_by_side(session, runs)]
    for number, run in enumerate(runs):
        headline, told = cut_result(session, number)
        says += [f"Cut check {number + 1}: {headline}.", *told]
        drawn = cut_check_scene(session, number)
        beside = f", thin lines: {drawn.earlier}" if any(cut.before for cut in drawn.cuts) else ""
        drawings.append(
            Drawing(
                f"cuts-{number + 1}",
                f"Cut check {number + 1}: bars reach to the fastest that fell through{beside}",
                drawn,
                LADDER,
                3 + 3 * len(drawn.cuts),
                small=len(runs) > 1,
            )
        )
        tables.append(_table(session, number, run, bool(told)))
    return Section("Cut checks", tuple(says), tuple(drawings), tuple(tables))


GETS = "Power there, of the average; beam growth and openings taken off"
"""Of a station: `left` of a cut check."""


def _table(session: Session, number: int, run: CutRun, whole: bool) -> Table:
    left = session.cuts(number).left if whole else {}
    rows = tuple(
        (name, *_speeds(limit), between(left[name]) if name in left else "–") for name, limit in run.limits.items()
    )
    power = f", {run.power:g} %" if run.power is not None else ""
    heads = ("Station", "Fastest through, mm/s", "Next, not through, mm/s", GETS)
    return Table(f"Cut check {number + 1}: {run.sheet.name}{power}", heads, rows)


def _side_by_side(session: Session, runs: Sequence[CutRun]) -> tuple[Table, ...]:
    """Baseline and checks beside each other, station by station; nothing where there is only one of all these."""
    kept = [each for n in range(len(runs)) if (each := session.compared_with(n)) is not None]
    columns: list[tuple[str, Speeds]] = [_baseline(each) for each in dict.fromkeys(kept)]
    shown = list(enumerate(runs, start=1))[-MOST:]
    columns += [(f"Cut check {n}", {s: (v.low, v.high) for s, v in run.limits.items()}) for n, run in shown]
    if len(columns) < 2:
        return ()
    stations = dict.fromkeys(name for _, speeds in columns for name in speeds)
    rows = tuple(
        (name, *(speeds_between(speeds[name]) if name in speeds else "–" for _, speeds in columns))
        for name in stations
    )
    return (Table("Where the limit lies, mm/s", ("Station", *(head for head, _ in columns)), rows),)


def _baseline(kept: KeptCuts) -> tuple[str, Speeds]:
    limits = {limit.station: (limit.low, limit.high) for limit in kept.cuts.limits}
    return f"Baseline of {day_words(kept.on)} ({kept.material})", limits


def _speeds(limit: Limit) -> tuple[str, str]:
    """The fastest line that fell through, and the next, which did not."""
    return f"{limit.low:g}" if limit.low else "none", "none" if isinf(limit.high) else f"{limit.high:g}"
