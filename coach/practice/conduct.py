"""How somebody with a plan of their own goes through a session: actions out, marks in."""

from collections.abc import Callable, Generator

from coach.practice.action import Action
from coach.session import events
from coach.session.session import Session

Mark = tuple[float, float] | None
"""(u, v) of the pulse asked for, mm; None where it left no mark, or where nothing was fired."""
Conduct = Generator[Action, Mark, None]
Adviser = Callable[[Session], Action]
"""What to do next in a session."""


def conducted(conduct: Conduct) -> Adviser:
    """An adviser that goes by the conduct, whatever else the session says; at its end it gives up."""
    begun = False

    def advise(session: Session) -> Action:
        nonlocal begun
        try:
            if not begun:
                begun = True
                return next(conduct)
            last = session.events[-1] if session.events else None
            return conduct.send((last.u, last.v) if isinstance(last, events.Mark) else None)
        except StopIteration:
            return Action("stop", cause="coarse")

    return advise
