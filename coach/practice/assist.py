"""Fires the practice bench for a person who has no machine at hand: what the tape shows, and what callipers say.

Everything is computed from the session's events, so the same events show the same marks after an undo and
after a resume.
"""

import math
from dataclasses import dataclass
from typing import Literal

from coach.errors import InputError
from coach.practice.bench import Bench
from coach.practice.beside import seen_at
from coach.practice.visit_bench import VisitBench
from coach.practice.visit_kinds import VISIT_KINDS, checked_kind
from coach.practice.visit_seen import Seen
from coach.reading.face import Face, mirrored
from coach.session.events import Pulse
from coach.session.session import Session
from coach.shown import Wording
from coach.steps.perform import perform
from coach.steps.step import Choice, Step

FIRE = Choice("fire", "Fire the practice bench", wants="bench")
"""Takes the place of saying what was seen."""
CALLIPERS: dict[Face, str] = {
    "outer": "Callipers on the bench",
    "sticky": "Callipers on the sticky face (swapped)",
}
MARK_WIDTH = 2.0
"""Diameter of the marks that the bench makes where no dose was set, mm."""


@dataclass(frozen=True)
class BenchMark:
    """The mark on the bench's tape as it would be measured, facing the outer face: offset and diameter in mm."""

    u: float
    v: float
    diameter: float
    opening: float | None = None
    """Diameter of the opening, mm; None where it is not known."""

    def on(self, face: Face, wording: Wording) -> str:
        """A line that says what callipers read by someone who looks at that face of the tape."""
        start, read = self.read(face, wording)
        return f"{CALLIPERS[face]}, {start}: {read}"

    def read(self, face: Face, wording: Wording) -> tuple[str, str]:
        """From where to where callipers measure on that face of the tape, and what they read."""
        return calliper_words(*mirrored(self.u, self.v, face), self.opening, wording, self.diameter)


class Assist:
    """The bench behind a practice session."""

    def __init__(self, session: Session) -> None:
        """Raises InputError for a session without a practice bench, UnknownName for one that there is not."""
        if session.practice is None:
            raise InputError("This session has no practice bench", expected="a session started for practice")
        checked_kind(session.practice.kind)
        self._session = session
        self._practice = session.practice

    def choices(self, step: Step) -> tuple[Choice, ...]:
        """The step's choices, with the bench's own firing in place of what a person would have to see."""
        if not step.kind.fires or step.shot is None:  # below the head the bench does not fire
            return step.choices
        return (FIRE, *(choice for choice in step.choices if choice.key == "set-otherwise"))

    def fire(self, step: Step) -> Literal["mark", "nothing"]:
        """One pulse at the step's shot, recorded in the session.  Raises InputError at another step."""
        if step.shot is None or not step.kind.fires:
            raise InputError("There is nothing to fire at this step", expected="a step that asks for a pulse")
        coming = self._session.events[-1].id + 1
        first = not any(isinstance(event, Pulse) for event in self._session.events)
        seen = self._bench().pulse(
            step.shot.x,
            step.shot.y,
            step.shot.target,
            key=coming,
            wide=step.shot.wide,
            first=first,
            ms=step.shot.ms,
            power=step.shot.power,
        )
        outcome: Literal["mark", "nothing"] = "nothing" if seen is None else "mark"
        perform(self._session, step, outcome)
        return outcome

    def mark(self, pulse: int | None = None) -> BenchMark | None:
        """The mark of the pulse with that event id, or of the last one that counts; None where it left none."""
        pulses = [e for e in self._session.events if isinstance(e, Pulse) and e.id == pulse]
        if pulse is None:
            pulses = [e for e in self._session.effective if isinstance(e, Pulse)]
        if not pulses:
            return None
        last = pulses[-1]
        first = not any(isinstance(event, Pulse) and event.id < last.id for event in self._session.events)
        seen = self._bench(before=last.id).pulse(
            last.x,
            last.y,
            last.target,
            key=last.id,
            wide=last.wide,
            first=first,
            ms=last.ms,
            power=last.power,
        )
        if seen is None:
            return None
        opening = self._session.machine.aperture.head if last.target == "head" and not last.wide else None
        return BenchMark(seen.u, seen.v, seen.width or MARK_WIDTH, opening)

    def seen(self, step: Step, wording: Wording) -> Seen | None:
        """What the practice machine of a visit shows beside a step; None where there is nothing to be seen."""
        practice = self._practice
        if practice.kind not in VISIT_KINDS:
            return None
        bench = VisitBench.after(self._session.machine, practice.seed, practice.kind, self._session.events)
        return seen_at(bench, self._session, step, wording)

    def beside(self, step: Step, wording: Wording) -> str:
        """The same as a line to stand beside the step; "" where there is none."""
        seen = self.seen(step, wording)
        return seen.line if seen is not None else ""

    def _bench(self, before: int | None = None) -> Bench:
        events = [e for e in self._session.events if before is None or e.id < before]
        machine, seed, kind = self._session.machine, self._practice.seed, self._practice.kind
        if kind in VISIT_KINDS:
            return VisitBench.after(machine, seed, kind, events).beam
        return Bench.after(machine, seed, kind, events)


def calliper_words(
    u: float, v: float, opening: float | None, wording: Wording, width: float = MARK_WIDTH
) -> tuple[str, str]:
    """What callipers measure and read of a mark seen at (u, v): gaps from an opening to a mark, both diameters.

    A mark that touches the rim, or an opening that is not known, leaves the distances from the centre.  mm.
    """
    radius, mark = (opening or 0.0) / 2, width / 2
    if math.hypot(u, v) + mark >= radius:
        across = f"{wording.length(abs(u))} {'right' if u >= 0 else 'left'}"
        along = f"{wording.length(abs(v))} {'up' if v >= 0 else 'down'}"
        return "from the centre", f"{across}, {along}"
    chord_u, chord_v = math.sqrt(radius**2 - v**2), math.sqrt(radius**2 - u**2)
    gaps = {"left": chord_u + u, "right": chord_u - u, "top": chord_v - v, "bottom": chord_v + v}
    said = ", ".join(f"{side} {wording.amount(gap - mark)}" for side, gap in gaps.items())
    return "rim to mark", f"{said} {wording.unit}"
