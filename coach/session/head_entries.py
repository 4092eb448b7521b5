"""What a session is told, and what it answers, about lens, nozzle and pointer.  `Session` has these methods."""

from typing import Any

from coach.errors import InputError, OutOfReach
from coach.head.advice import HeadAdvice
from coach.head.belief import HeadBelief, check_heights
from coach.head.decide import head_advice
from coach.head.pointer import PointerAdvice, PointerSpot, pointer_advice
from coach.machine import Machine
from coach.session.checks import checked_offset, checked_sd
from coach.session.described import Described, of_head
from coach.session.events import Typed
from coach.session.head_events import FARTHEST_LOWERED, Pointer
from coach.session.head_replay import HeadReplay
from coach.session.kept import Kept, now
from coach.session.possible import check_screws

WIDEST_IMPRINT = 30.0
"""mm from the nozzle's middle beyond which nothing on its tape was made by this beam."""


class HeadEntries(Kept):
    """The part of a session that is about lens, nozzle and pointer."""

    _head_so_far: HeadReplay | None = None

    @property
    def head_belief(self) -> HeadBelief:
        """What follows from the events about mirror 3, lens and nozzle."""
        machine, events, so_far = self.machine, self.effective, self._head_so_far
        if so_far is None or not so_far.leads_to(machine, events):
            so_far = HeadReplay.initial(machine, self.created.date())
        self._head_so_far = so_far.after(events)
        return self._head_so_far.belief

    def head_advice(self) -> HeadAdvice:
        """What to do next about mirror 3, lens and nozzle; works without a single mark of the beam's path."""
        return head_advice(self.head_belief)

    def head_pulse(self, target: str, outcome: str, *, lowered: float = 0.0, lens: bool = True) -> None:
        """One short firing below mirror 3, at "bed", "nozzle" or "pointer": "mark", "nothing" or "flare".

        Raises InputError.
        """
        self._add("head_pulse", target=target, outcome=outcome, lowered=checked_lowered(lowered), lens=lens)

    def bed_mark(
        self,
        right: float,
        back: float,
        lowered: float = 0.0,
        *,
        lens: bool = False,
        sd: float | None = None,
        typed: Typed | None = None,
    ) -> None:
        """A mark on one card fixed to the bed, mm, seen from above; the bed `lowered` mm below its usual height.

        From where on the card it is counted does not matter, as long as it is the same for all marks of a round.
        Raises InputError, also where two heights lie too near each other to tell a lean.
        """
        height, doubt = checked_lowered(lowered), checked_sd(sd)
        place = {"right": checked_offset("right", right), "back": checked_offset("back", back)}
        if not isinstance(lens, bool):
            raise InputError(
                f"lens is {lens!r}", expected="True where the lens is in, else False", example="lens=True"
            )
        belief = self.head_belief
        check_heights(belief, height, doubt or belief.tuning.head.card_sd, lens=lens)
        self._add("bed_mark", **place, lowered=height, lens=lens, sd=doubt, typed=typed or {})

    def nozzle_mark(
        self,
        right: float | None = None,
        back: float | None = None,
        *,
        cut: bool = False,
        sd: float | None = None,
        typed: Typed | None = None,
    ) -> None:
        """A mark on tape under the nozzle, mm from the middle of the rim's imprint, seen from above; the lens is in.

        Neither `right` nor `back`: a pulse, and nothing came through.  `cut`: the rim cut it.  Raises InputError.
        """
        if (right is None) != (back is None):
            raise InputError(
                "Only one of right and back was given", expected="both, in mm, or neither where nothing came through",
                example="right=0.3, back=0.1",
            )  # fmt: skip
        place = {}
        if right is not None:
            place = {name: near_nozzle(name, value) for name, value in (("right", right), ("back", back))}
        self._add("nozzle_mark", **place, cut=bool(cut), sd=checked_sd(sd), typed=typed or {})

    def pointer(self, right: float, back: float, lowered: float = 0.0, *, typed: Typed | None = None) -> None:
        """Where the pointer's spot lies, minus the mark, mm, seen from above.  Raises InputError."""
        place = {"right": checked_offset("right", right), "back": checked_offset("back", back)}
        self._add("pointer", **place, lowered=checked_lowered(lowered), typed=typed or {})

    def described(self, machine: Machine) -> None:
        """Mirror 3's mount, lens and nozzle are as in this profile, from now on and for all that was seen before.

        Raises InputError on a practice bench, and where screws that were turned would not be there.
        """
        if self.practice is not None:
            raise InputError("This is a practice session: its machine is as it is", expected="a real session")
        said = of_head(machine)
        told = Described.model_validate({"id": 0, "at": now(), **said})
        check_screws(self.began_with, (*self.effective, told))
        self._add("described", **said)

    def pointer_advice(self) -> PointerAdvice:
        """What to do next about the pointer, from where its spot was seen at each height."""
        told = [event for event in self.effective if isinstance(event, Pointer)]
        return pointer_advice(
            tuple(PointerSpot(e.right, e.back, e.lowered) for e in told), self.head_belief.tuning.head
        )


def checked_lowered(value: Any) -> float:
    """mm by which a bed can stand below its usual height.  Raises InputError or OutOfReach."""
    number = checked_offset("lowered", value) if not isinstance(value, int | float) or value < 500 else float(value)
    if not 0 <= number <= FARTHEST_LOWERED:
        raise OutOfReach(
            f"The bed cannot stand {number:g} mm below its usual height",
            expected=f"0 to {FARTHEST_LOWERED:g} mm", example="120",
        )  # fmt: skip
    return number


def near_nozzle(what: str, value: Any) -> float:
    """mm from the nozzle's middle where its own beam can leave a mark.  Raises InputError or OutOfReach."""
    number = checked_offset(what, value)
    if abs(number) > WIDEST_IMPRINT:
        raise OutOfReach(
            f"{what} is {number:g} mm, which is not under the nozzle", expected="mm from the middle of its imprint",
            example="0.3",
        )  # fmt: skip
    return number
