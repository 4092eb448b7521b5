"""One session: the machine as it was, the events, and what follows from them.

`Session` is the public Python interface (docs/guide.md).  Its methods check what they are given and add an event
(`coach.session.kept` keeps it).
"""

from collections.abc import Mapping
from datetime import datetime

from coach.advice.advice import Advice, Shot
from coach.advice.decide import advise
from coach.advice.offset_cost import offset_costs
from coach.advice.reasons import Reason
from coach.belief.learned import learned_machine
from coach.errors import InputError, NothingToUndo
from coach.head.advice import HeadAdvice
from coach.head.learned import with_mirror3_learned
from coach.machine import Machine, Target
from coach.mount import checked_screws
from coach.parts import checked_ways
from coach.session.checks import (
    checked_disturbed,
    checked_lens_shift,
    checked_offset,
    checked_part,
    checked_sd,
    place,
)
from coach.session.described import Described
from coach.session.doses import RelativeDose, relative_doses
from coach.session.events import Event, Mark, Outcome, Plan, Shape, Typed, last_entry
from coach.session.head_entries import HeadEntries
from coach.session.kept import now
from coach.session.plain_entries import PlainEntries
from coach.session.possible import check_screws
from coach.session.pulse_checks import fired, seen
from coach.session.spots import spot
from coach.session.visit import Visit
from coach.session.visit_parts import VisitParts


class Session(Visit, HeadEntries, VisitParts, PlainEntries):
    """What happened on one machine, and what follows from it."""

    # -- what follows -----------------------------------------------------------------------------

    def reason_for(self, plan: Plan) -> Reason | None:
        """Why the adjusting that the person set out to do was advised; None where it would be advised no more."""
        then = advise(self.belief_before(plan))
        turns = {str(turn.mirror): dict(turn.screws) for turn in then.turns}
        same = (turns, then.part, then.up, then.right, then.back) == (
            plan.turns,
            plan.part,
            plan.up,
            plan.right,
            plan.back,
        )
        return then.reason if same else None

    def advice(self) -> Advice:
        """What to do next about the beam; the safety gates are the steps' business."""
        return advise(self.belief)

    def power(self) -> dict[str, float]:
        """Station to the fraction of the beam that passes the head's opening, as believed; a beam of usual size."""
        return {cost.station: cost.passes for cost in offset_costs(self.belief)}

    def doses(self) -> dict[str, RelativeDose]:
        """Station to the dose that just marks there over that nearest the tube; without what cannot be said.

        From marks with `ms` and `width` (or a dose that left nothing below one that marked), one power, same layers.
        """
        return relative_doses(self.belief, self.effective)

    def learned(self) -> Machine:
        """The machine with what this session taught about its mounts, for the next session."""
        today = now().date()
        return with_mirror3_learned(learned_machine(self.belief, today), self.head_belief, today)

    # -- what happened ----------------------------------------------------------------------------

    def mark(
        self,
        station: str,
        u: float,
        v: float,
        *,
        x: float | None = None,
        y: float | None = None,
        target: Target = "head",
        wide: bool = False,
        sd: float | None = None,
        kept: bool = False,
        ms: float | None = None,
        power: float | None = None,
        layers: int | None = None,
        width: float | None = None,
        shape: Shape = "round",
        typed: Typed | None = None,
        at: datetime | None = None,
    ) -> None:
        """A mark was measured at (u, v) mm, on tape or on a `wide` card; `at`: where not now.  Raises InputError.

        `ms` and `power` (per cent): the pulse's dose; `layers` of tape; `width`: the mark's diameter, mm.
        """
        where = place(self.machine, station, x, y, target)
        self._add(
            "mark",
            **where,
            **fired(ms, power, layers),
            **seen(width, shape),
            wide=wide,
            u=checked_offset("u", u),
            v=checked_offset("v", v),
            sd=checked_sd(sd),
            kept=kept,
            typed=typed or {},
            at=at,
        )

    def miss(
        self,
        station: str,
        *,
        x: float | None = None,
        y: float | None = None,
        target: Target = "head",
        wide: bool = False,
        ms: float | None = None,
        power: float | None = None,
        layers: int | None = None,
        at: datetime | None = None,
    ) -> None:
        """A pulse certainly left no mark on the tape, or on the `wide` card: it missed.  Raises InputError."""
        where = place(self.machine, station, x, y, target)
        self._add("miss", **where, **fired(ms, power, layers), wide=wide, at=at)

    def nothing(
        self,
        station: str,
        *,
        x: float | None = None,
        y: float | None = None,
        target: Target = "head",
        wide: bool = False,
        ms: float | None = None,
        power: float | None = None,
        layers: int | None = None,
        at: datetime | None = None,
    ) -> None:
        """Pulsed, nothing seen, cause unknown: not firing, too weak, or missed.  Raises InputError."""
        where = place(self.machine, station, x, y, target)
        self._add("pulse", **where, **fired(ms, power, layers), wide=wide, outcome="nothing", at=at)

    def turn(self, mirror: int, screws: Mapping[str, float], *, typed: Typed | None = None) -> None:
        """Screws of one mirror were turned (turns, clockwise positive).  Raises InputError."""
        if not isinstance(screws, Mapping) or not screws:
            raise InputError("No screw was named", expected="screw names with turns", example='{"B": -0.125}')
        amounts = checked_screws(self.machine.mount(mirror), screws)
        self._add("turn", mirror=mirror, screws=amounts, typed=typed or {})

    def shift(
        self,
        part: str,
        *,
        up: float = 0.0,
        right: float = 0.0,
        back: float = 0.0,
        typed: Typed | None = None,
    ) -> None:
        """A part was moved sideways, mm in the machine's frame.  Raises InputError."""
        amounts = {
            name: checked_offset(name, value) for name, value in (("up", up), ("right", right), ("back", back))
        }
        if part == "lens":
            checked_lens_shift(**amounts)
        else:
            checked_ways(part, **amounts)
        self._add("shift", part=part, typed=typed or {}, **amounts)

    def lock(self, mirror: int) -> None:
        """The lock nuts of a mirror's mount were tightened.  Raises UnknownName."""
        self.machine.mount(mirror)
        self._add("lock", mirror=mirror)

    def refuse(self, part: str, axis: str | None = None) -> None:
        """This part cannot be moved (in that direction); it is not asked for again.  Raises InputError."""
        self._add("refused", part="lens" if part == "lens" else checked_part(part, axis), axis=axis)

    def mended(self, cause: str) -> None:
        """After a stop: what it named was seen to; what that touched is believed less.  Raises InputError."""
        self._add("mended", cause=cause)

    def best(self, cause: str) -> None:
        """After a stop: align to the best that can be had, with the fault as it is.  Raises InputError."""
        self._add("best", cause=cause)

    def disturbed(self, part: str) -> None:
        """A part was out, or was bumped ("machine": no one knows which).  Raises InputError."""
        self._add("disturbed", part=checked_disturbed(part))

    def amend(
        self,
        of: int,
        u: float,
        v: float,
        *,
        sd: float | None = None,
        kept: bool = False,
        width: float | None = None,
        typed: Typed | None = None,
    ) -> None:
        """Correct a mark made earlier: the event with the id `of` now reads (u, v).  Raises InputError."""
        if not any(isinstance(event, Mark) and event.id == of for event in self.effective):
            raise InputError(f"Entry {of} is not a mark that still counts", expected="the number of a mark")
        self._add(
            "amend",
            of=of,
            u=checked_offset("u", u),
            v=checked_offset("v", v),
            sd=checked_sd(sd),
            kept=kept,
            width=seen(width, "round")["width"],
            typed=typed or {},
        )

    def undo(self, number: int | None = None) -> Event:
        """Take the last event back, or the one with that id; returns it.  Raises NothingToUndo."""
        if number is None:
            event = last_entry(self.events)
        else:
            event = next((event for event in self.effective if event.id == number), None)
        if event is None:
            raise NothingToUndo("Nothing to undo: no entry is left in this session.")
        if isinstance(event, Described):
            check_screws(self.began_with, [other for other in self.effective if other.id != event.id])
        self._add("undo", takes_back=event.id)
        return event

    def arrive(
        self, shot: Shot, *, ms: float | None = None, power: float | None = None, layers: int | None = None
    ) -> None:
        """The head stands where the next pulse is to be made, with fresh tape; `ms`, `power`, `layers` set otherwise.

        What is told for the shot is no business of the entry.  Raises InputError.
        """
        self._add("arrive", station=shot.name, **spot(shot), **fired(ms, power, layers))

    def pulse(self, shot: Shot, outcome: Outcome, shape: Shape = "round", *, at: datetime | None = None) -> None:
        """One short firing with the shot's dose, and what was seen; of a mark, its shape; `at`: where not now."""
        dose = fired(shot.ms, shot.power, shot.layers)
        self._add("pulse", station=shot.name, **spot(shot), **dose, outcome=outcome, shape=shape, at=at)

    def plan(self, advice: Advice | HeadAdvice) -> None:
        """The person sets out to follow advice of the kind "turn" or "shift"."""
        below = isinstance(advice, HeadAdvice)
        turns = {str(turn.mirror): dict(turn.screws) for turn in advice.turns}
        moved = {"up": advice.up, "right": advice.right, "back": advice.back}
        self._add("plan", turns=turns, part=advice.part, below=below, **moved)
