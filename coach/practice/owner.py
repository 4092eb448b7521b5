"""Who does at a practice machine what an adviser says, as an owner would, and enters it in the session."""

import math
from typing import Literal

from coach.advice.facts import MirrorTurn, Shot
from coach.parts import WAYS
from coach.practice.action import Action
from coach.practice.bench import Bench
from coach.practice.tally import Tally
from coach.session.session import Session
from coach.session.spots import spot

Onward = Literal["", "best", "mended"]
"""What the owner answers to a stop: nothing more, the best that can be had, or that it is mended."""
LEAST_MOVE = 0.1
"""mm; an owner whose part has less left to go says that it cannot be moved."""


class Owner:
    """An owner at the bench; `tally` is what it took so far."""

    def __init__(
        self,
        session: Session,
        bench: Bench,
        sd: float | None = None,
        onward: Onward = "",
        scorch: float | None = None,
    ) -> None:
        """`sd`: the doubt stated with every mark, mm; `onward`: the answer to a stop; `scorch` as in a `Case`."""
        self._session, self._bench, self._sd, self._onward = session, bench, sd, onward
        self._scorch = scorch
        self._dose_found = False
        self._tried: set[str] = set()
        self.tally = Tally()

    def shoot(self, shots: tuple[Shot, ...]) -> None:
        """Pulses in their order; after one that leaves no mark, no further one."""
        for shot in shots:
            if not self._fire(shot):
                self.tally.off_tape += 1
                break

    def adjust(self, action: Action) -> None:
        """Turns and a move, whichever there are."""
        self.tally.rounds += bool(action.turns)
        for turn in action.turns:
            self._turn(turn)
        if action.part:
            asked = {"up": action.up, "right": action.right, "back": action.back}
            self._move(action.part, {way: mm for way, mm in asked.items() if mm})

    def goes_on(self, cause: str) -> bool:
        """Whether a stop of that cause is answered; the same one twice is the end."""
        tally = self.tally
        fires = cause == "not firing" and self._scorch is not None
        if not (self._onward or fires) or not cause or cause in tally.offered:
            return False
        tally.offered.append(cause)
        if self._onward == "mended" and not fires:
            self._bench.mend(cause)
            self._session.mended(cause)
        else:
            self._session.best(cause)
        return True

    def _fire(self, shot: Shot) -> bool:
        """One pulse, and one more with more dose while none has marked yet; whether there is a mark."""
        if self._scorch is not None:
            return self._fire_and_look(shot, self._scorch)
        seen = self._pulse(shot)
        if seen is None and not self._dose_found:
            self._dose_found = True
            seen = self._pulse(shot)
        self._tried.add(shot.name)
        if seen is None:
            self._session.miss(shot.name, **spot(shot))
            return False
        self._dose_found = True
        self._session.mark(shot.name, *seen, **spot(shot), sd=self._sd)
        return True

    def _fire_and_look(self, shot: Shot, scorch: float) -> bool:
        """One pulse; what leaves no mark missed where its scorch is found, else nothing is known of it."""
        key, first = self._next_key(), self._is_first()
        seen = self._pulse(shot)
        self._tried.add(shot.name)
        if seen is not None:
            self._session.mark(shot.name, *seen, **spot(shot), sd=self._sd)
            return True
        found = self._bench.scorch_found(key, first, scorch)
        enter = self._session.miss if found else self._session.nothing
        enter(shot.name, **spot(shot))
        return False

    def _pulse(self, shot: Shot) -> tuple[float, float] | None:
        self.tally.pulse()
        key, first = self._next_key(), self._is_first()
        seen = self._bench.pulse(shot.x, shot.y, shot.target, key=key, wide=shot.wide, first=first)
        return None if seen is None else (seen.u, seen.v)

    def _is_first(self) -> bool:
        """Whether nobody knows yet which dose marks."""
        return not self._dose_found if self._scorch is None else not self._tried

    def _turn(self, turn: MirrorTurn) -> None:
        self.tally.turn(turn)
        self._bench.turn(turn.mirror, turn.screws, key=self._next_key())
        self._session.turn(turn.mirror, turn.screws)

    def _move(self, part: str, asked: dict[str, float]) -> None:
        """As far as the slots allow; what cannot be moved at all is refused."""
        within = {way: round(self._bench.room(part, way, mm), 1) for way, mm in asked.items()}
        for way, mm in within.items():
            if abs(mm) < LEAST_MOVE:
                self.tally.refused += 1
                self._session.refuse(part, way)
        moved = {way: mm for way, mm in within.items() if abs(mm) >= LEAST_MOVE}
        if moved:
            self.tally.move(part, {way: asked[way] for way in moved}, self._is_early())
            up, right, back = (moved.get(way, 0.0) for way in WAYS)
            self._bench.shift(part, up, right, back, key=self._next_key())
            self._session.shift(part, up=up, right=right, back=back)

    def _is_early(self) -> bool:
        """Whether a station stands untried whose mark would be on the tape."""
        readable = self._session.machine.tape.radius
        return any(
            math.hypot(*offset) <= readable
            for name, offset in self._bench.true_offsets().items()
            if name not in self._tried
        )

    def _next_key(self) -> int:
        return len(self._session.events) + 1
