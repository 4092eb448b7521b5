"""From a machine's history to the scene that shows it."""

from coach.history.beam import BeamState, worst
from coach.history.of_machine import History
from coach.history.visits import Visit
from coach.pictures.over_time import OverTimeScene, VisitShown

DRAWN = frozenset(("bumped", "moved", "out", "changed", "cleaned", "mended"))


def history_scene(history: History, chosen: int | None = None) -> OverTimeScene | None:
    """The worst station over time; `chosen` is the number of the visit that is looked at.  None without a visit that
    says how the beam lay."""
    numbered = [(number, visit) for number, visit in history.numbered if visit.left is not None]
    shown = [_shown(number, visit, number == chosen) for number, visit in numbered]
    if not shown:
        return None
    ahead = history.forecast
    return OverTimeScene(
        tuple(shown),
        history.visits[-1].machine.tolerance,
        tuple(sorted({each.on for each in history.happened if each.kind in DRAWN})),
        (ahead.soonest, ahead.latest) if ahead is not None else None,
    )


def _shown(number: int, visit: Visit, chosen: bool) -> VisitShown:
    def size(state: BeamState | None) -> float | None:
        return None if state is None else worst(visit.machine, state)

    return VisitShown(visit.on, size(visit.found), size(visit.left), number, chosen)
