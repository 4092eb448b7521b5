"""What dose each station needs beside the others, in words: figures for the entries, one sentence for the end.

It says nothing where nothing can be said, and calls a reason a suspicion: a wide interval blames nobody.
"""

from coach.session.doses import RelativeDose
from coach.session.session import Session


def dose_lines(session: Session) -> tuple[str, ...]:
    """A heading and a line for each station; nothing where doses cannot be compared."""
    doses = session.doses()
    if not doses:
        return ()
    first = _first(doses)
    others = (f"{name}: {_figures(dose)}" for name, dose in doses.items() if name != first)
    return (f"Dose that just marks, as so many times that at {first} (19 in 20 lie within the brackets):", *others)


def dose_sentence(session: Session) -> str:
    """Whether any station needs more than the beam's growth makes, of the one where it is plainest; "" if unknown."""
    doses = session.doses()
    if not doses:
        return ""
    first = _first(doses)
    name, dose = max(
        ((name, dose) for name, dose in doses.items() if name != first),
        key=lambda item: item[1].low / item[1].expected,
    )
    needs = f"At {name} a mark needs {dose.needed:.1f} times the dose of {first} ({dose.low:.1f} to {dose.high:.1f})"
    usual = f"the growth of a usual beam alone makes {dose.expected:.1f}"
    if dose.low > dose.expected:
        return f"{needs}; {usual}: the rest is probably clipping or dirt on the way there."
    return f"{needs}; {usual}, so nothing else is shown by it."


def _figures(dose: RelativeDose) -> str:
    grown = f"a usual beam's growth makes {dose.expected:.1f}"
    return f"{dose.needed:.1f} ({dose.low:.1f} to {dose.high:.1f}); {grown}"


def _first(doses: dict[str, RelativeDose]) -> str:
    """The station that the others are compared with: itself it needs once its own dose, without doubt."""
    return next(name for name, dose in doses.items() if dose.low == dose.high == 1.0)
