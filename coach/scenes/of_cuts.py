"""The pictures of a cut check: speeds station by station, and where on the bed it is slow."""

from coach.cutting.cuts import Cuts
from coach.cutting.sheet import checked_sheet
from coach.pictures.cut_bed import CutBedScene
from coach.pictures.cut_ladder import CutsScene
from coach.pictures.cuts_shown import CutShown, Limits
from coach.session.cut_checks import cut_runs
from coach.session.session import Session
from coach.steps.cut_progress import CutProgress, cut_progress, kept_of, series
from coach.steps.known_sheets import cut_part
from coach.steps.step import Step


def cuts_scene(session: Session, step: Step) -> CutsScene:
    """What was cut so far in the step's check, beside what it is compared with, and the lines that are cut now."""
    progress = cut_progress(session, cut_part(step.part))
    before, earlier = _earlier(session, step, progress)
    ladder = series(session, progress, step.item) if step.item is not None else ()
    return CutsScene(_shown(progress, before, step.item), earlier, ladder)


def cut_check_scene(session: Session, number: int) -> CutsScene:
    """The whole cut check of that number, from 0, beside the baseline, else beside the check before it."""
    run = cut_runs(session.effective)[number]
    kept = session.compared_with(number)
    before: dict[str, Limits] = {}
    earlier = "baseline"
    if kept is not None and not run.cuts.not_compared(kept.cuts):
        before = {limit.station: (limit.low, limit.high) for limit in kept.cuts.limits}
    elif number and not run.cuts.set_apart((then := cut_runs(session.effective)[number - 1]).cuts):
        before, earlier = {name: (limit.low, limit.high) for name, limit in then.limits.items()}, "before"
    places = [place.name for place in session.machine.stations if place.name in run.limits]
    places += [name for name in run.limits if name not in places]
    limits = {name: (limit.low, limit.high) for name, limit in run.limits.items()}
    return CutsScene(tuple(CutShown(name, limits[name], before.get(name)) for name in places), earlier)


def cut_bed_scene(session: Session, step: Step) -> CutBedScene:
    """The same over the bed."""
    machine, progress = session.machine, cut_progress(session, cut_part(step.part))
    return CutBedScene(machine.bed.width, machine.bed.depth, machine.path.side, _shown(progress, {}, step.item))


def _shown(progress: CutProgress, before: dict[str, Limits], now: str | None) -> tuple[CutShown, ...]:
    limits = {name: (limit.low, limit.high) for name, limit in progress.limits.items()}
    return tuple(
        CutShown(place.name, limits.get(place.name), before.get(place.name), place.name == now, place.x, place.y)
        for place in progress.stations
    )


def _earlier(session: Session, step: Step, progress: CutProgress) -> tuple[dict[str, Limits], str]:
    """What the check is compared with and how that is called: the baseline, else the check before; nothing else."""
    kept = kept_of(session, progress)
    if kept is not None:
        return {limit.station: (limit.low, limit.high) for limit in kept.cuts.limits}, "baseline"
    then = cut_progress(session, "cut check")
    if step.part != "cut again" or then.number is None or progress.sheet is None:
        return {}, ""
    sheet = Cuts(checked_sheet(progress.sheet.material), (), progress.sheet.power)
    if sheet.set_apart(cut_runs(session.effective)[then.number].cuts):
        return {}, ""
    return {name: (limit.low, limit.high) for name, limit in then.limits.items()}, "before"
