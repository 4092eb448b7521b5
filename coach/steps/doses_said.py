"""What dose each station needs beside the others, in words: figures for the entries, one sentence for the end.

It says nothing where nothing can be said, and calls a reason a suspicion: a wide interval blames nobody.
"""

from coach.delivered.power import Interval
from coach.session.doses import RelativeDose
from coach.session.session import Session


def dose_lines(session: Session) -> tuple[str, ...]:
    """A heading, and for each station what it needs and what gets there; nothing where doses cannot be compared."""
    doses = session.doses()
    if not doses:
        return ()
    first = _first(doses)
    others = [(name, dose) for name, dose in doses.items() if name != first]
    return (
        f"Dose that just marks, as so many times that at {first} (19 in 20 lie within the brackets):",
        *(f"{name}: {_figures(dose)}" for name, dose in others),
        *(f"{name}: {_delivered(dose)}" for name, dose in others),
    )


def dose_sentence(session: Session) -> str:
    """Whether any station needs more than the beam's growth makes, of the one where it is plainest; "" if unknown."""
    doses = session.doses()
    if not doses:
        return ""
    first = _first(doses)
    name, dose = max(
        ((name, dose) for name, dose in doses.items() if name != first),
        key=lambda item: item[1].excess[0],
    )
    needs = f"At {name} a mark needs {dose.needed:.1f} times the dose of {first} ({dose.low:.1f} to {dose.high:.1f})"
    usual = f"the growth of a usual beam alone makes {dose.expected:.1f}"
    if dose.excess[0] > 1:
        beyond = f"{usual}, and {_within(dose.excess, 1)} times that neither it nor mirror 2's edge explains"
        return f"{needs}; {beyond}: probably clipping or dirt on the way there. Look at mirrors 1 and 2 first."
    return f"{needs}; {usual}, so nothing else is shown by it."


def _figures(dose: RelativeDose) -> str:
    grown = f"a usual beam's growth makes {dose.expected:.1f}"
    return f"{dose.needed:.1f} ({dose.low:.1f} to {dose.high:.1f}); {grown}"


def _delivered(dose: RelativeDose) -> str:
    """The power that gets there, and what neither growth nor mirror 2's edge explains of the dose."""
    return f"power there {_within(dose.power, 2)}; dose beyond growth and edges {_within(dose.excess, 1)}"


def _within(interval: Interval, places: int) -> str:
    low, value, high = (f"{each:.{places}f}" for each in interval)
    return f"{value} ({low} to {high})"


def _first(doses: dict[str, RelativeDose]) -> str:
    """The station that the others are compared with: itself it needs once its own dose, without doubt."""
    return next(name for name, dose in doses.items() if dose.low == dose.high == 1.0)
