"""The practice bench: a virtual laser with hidden errors, ray-traced exactly.

It answers like a machine and a person: marks are measured a little wrong, screws are turned roughly.
Everything random is drawn from (seed, key, what it is for), the key being the event's number in the
session, so the same events always give the same marks, however often they are undone and replayed.
"""

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from coach.errors import OutOfReach, UnknownName
from coach.machine import Machine, Mount, Target
from coach.optics.legs import leg_lengths
from coach.optics.mounts import PlateMotion, plate_motion
from coach.optics.shifts import shift_effect
from coach.optics.trace import TrueState, at_head, at_mirror2, below_head
from coach.practice.hidden import draw_hidden, generator
from coach.practice.kinds import KINDS
from coach.session.events import Event, Lock, Mark, Miss, Shift, Turn, effective

_READING, _TURN, _SHIFT, _LOCK, _WANDER, _OUTLIER = range(1, 7)  # stream numbers
_SMALL_TURN = 1e-3


@dataclass(frozen=True)
class Shot:
    """A mark as the person reads it, and where it really is; mm, seen as the beam sees the tape."""

    u: float
    v: float
    true_u: float
    true_v: float


class Bench:
    """One practice machine.  `kind` is a name of `coach.practice.kinds.KINDS`."""

    def __init__(self, machine: Machine, seed: int, kind: str = "plain", *, mounts_of: int | None = None) -> None:
        """With `mounts_of` the mounts are those of the bench with that seed: the same machine, out again.

        Raises UnknownName for another kind, OutOfReach for a negative seed.
        """
        if kind not in KINDS:
            raise UnknownName(f"There is no practice kind {kind!r}", expected="one of: " + ", ".join(KINDS))
        self.machine = machine
        self.seed = seed
        self.kind = kind
        self.trouble = KINDS[kind]
        self._hidden = draw_hidden(machine, seed, self.trouble)
        if mounts_of is not None:
            before = draw_hidden(machine, mounts_of, self.trouble)
            self._hidden = replace(self._hidden, mounts=before.mounts, drives=before.drives)
        self._state = self._hidden.state
        self._last_way: dict[tuple[int, str], float] = {}
        self._shot_keys: set[int] = set()

    @classmethod
    def after(cls, machine: Machine, seed: int, kind: str, events: Iterable[Event]) -> "Bench":
        """The bench as it stands after these events; what was undone among them does not count.

        Undone marks, where `events` still holds them, count as fired when the wrong reading of an
        "outlier" machine is due: who fires again instead reads right.
        """
        bench = cls(machine, seed, kind)
        history = tuple(events)
        bench._shot_keys = {event.id for event in history if isinstance(event, Mark | Miss)}
        for event in effective(history):
            if isinstance(event, Turn):
                bench.turn(event.mirror, event.screws, key=event.id)
            elif isinstance(event, Shift):
                bench.shift(event.part, event.up, event.right, event.back, key=event.id)
            elif isinstance(event, Lock):
                bench.lock(event.mirror, key=event.id)
        return bench

    @property
    def state(self) -> TrueState:
        """Where everything really stands now."""
        return self._state

    def true_mount(self, mirror: int) -> Mount:
        """That mirror's mount with its points where they really are.  Raises UnknownName."""
        self.machine.mount(mirror)
        return self._hidden.mounts[mirror]

    def true_drive(self, mirror: int) -> float:
        """+1 where a clockwise turn really pushes the plate, −1 where it pulls.  Raises UnknownName."""
        self.machine.mount(mirror)
        return self._hidden.drives[mirror]

    def pulse(self, x: float, y: float, target: Target = "head", *, key: int) -> Shot | None:
        """Fire with the head at (x, y) mm: the mark, or None when it leaves the tape.

        Mirrors and openings are taken to be large enough for every mark that the tape can show.
        Raises OutOfReach outside the head's travel.
        """
        bed = self.machine.bed
        if not (0 <= x <= bed.width and 0 <= y <= bed.depth):
            raise OutOfReach(
                f"The head cannot go to ({x:g}, {y:g})", expected=f"0 to {bed.width:g}, 0 to {bed.depth:g} mm"
            )
        state = self._wandered(key)
        true_u, true_v = at_head(state, x, y) if target == "head" else at_mirror2(state, y)
        slip_u, slip_v = self._slip(key)
        if math.hypot(true_u, true_v) > self.machine.tape.readable(target):
            return None
        noise = generator(self.seed, key, _READING).normal(0, self.trouble.reading, 2)
        u = self._rounded(true_u + slip_u + float(noise[0]))
        v = self._rounded(true_v + slip_v + float(noise[1]))
        return Shot(u, v, true_u, true_v)

    def turn(self, mirror: int, screws: Mapping[str, float], *, key: int) -> None:
        """Turn screws, in turns, clockwise positive, as a hand does it: roughly, with backlash on reversal.

        Raises UnknownName for a mirror or a screw that is not there.
        """
        mount = self.true_mount(mirror)
        plate_motion(mount, screws)  # refuses unknown screws before anything moves
        trouble = self.trouble
        rng = generator(self.seed, key, _TURN)
        done: dict[str, float] = {}
        for screw in mount.screws:  # every screw draws, so that one's luck does not hang on another's
            roughly, about, lost = rng.normal(), rng.normal(), trouble.backlash * rng.random()
            asked = screws.get(screw.name, 0.0)
            if asked == 0.0:
                continue
            way = math.copysign(1.0, asked)
            amount = abs(asked) * (1.0 + trouble.turn_fraction * roughly) + trouble.turn_absolute * about
            if self._last_way.get((mirror, screw.name), way) != way:
                amount = max(0.0, amount - lost)
            self._last_way[mirror, screw.name] = way
            done[screw.name] = way * float(amount)
        self._state = self._turned(self._state, mirror, done)

    def shift(self, part: str, up: float = 0.0, right: float = 0.0, back: float = 0.0, *, key: int) -> None:
        """Move a part by mm in the machine's frame, roughly.

        Raises UnknownName and InputError as `coach.optics.shifts.shift_effect` does.
        """
        shift_effect(self.machine.path.side, part, up, right, back)  # refuses what cannot be shifted
        trouble = self.trouble
        rng = generator(self.seed, key, _SHIFT)
        moved: dict[str, float] = {}
        for direction, asked in (("up", up), ("right", right), ("back", back)):
            roughly, about = (float(v) for v in rng.normal(size=2))
            if asked != 0.0:
                field = f"{part.replace(' ', '')}_{direction}"
                executed = asked * (1.0 + trouble.shift_fraction * roughly) + trouble.shift_absolute * about
                moved[field] = getattr(self._state, field) + executed
        self._state = replace(self._state, **moved)  # type: ignore[arg-type]

    def lock(self, mirror: int, *, key: int) -> None:
        """Tighten a mount's lock nuts, which tilts its plate a little.  Raises UnknownName."""
        self.machine.mount(mirror)
        tilt = generator(self.seed, key, _LOCK).normal(0, self.trouble.lock, 2)
        self._state = _plus(self._state, mirror, PlateMotion(float(tilt[0]), float(tilt[1])))

    def true_offsets(self) -> dict[str, tuple[float, float]]:
        """Station name to the true (u, v) in mm at the head, without what changes from pulse to pulse."""
        return {s.name: at_head(self._state, s.x, s.y) for s in self.machine.stations}

    def worst(self) -> float:
        """The largest true offset of any station, mm."""
        return max(math.hypot(u, v) for u, v in self.true_offsets().values())

    def true_responses(self, mirror: int) -> NDArray[np.float64]:
        """The beam's true answer to one clockwise turn of each screw, the true drive included.

        Shape (screws, 3), columns as in `coach.optics.mounts.screw_responses`; by finite differences of the
        exact trace, for a small turn from where everything stands now.  Raises UnknownName.
        """
        rows = []
        for screw in self.true_mount(mirror).screws:
            turned = self._turned(self._state, mirror, {screw.name: _SMALL_TURN})
            change = self._change_below(turned) if mirror == 3 else self._change_at_head(turned)
            rows.append(change / _SMALL_TURN)
        return np.array(rows)

    def _change_at_head(self, turned: TrueState) -> NDArray[np.float64]:
        """Change of leg 2's slope (u, v) in mrad and of the constant part of u in mm."""
        bed = self.machine.bed
        near = 0.0 if self.machine.path.side == "left" else bed.width

        def change(x: float, y: float) -> NDArray[np.float64]:
            return np.subtract(at_head(turned, x, y), at_head(self._state, x, y))

        leg1, leg2 = leg_lengths(self.machine, near, bed.depth)
        start = change(near, bed.depth)
        slope2 = (change(bed.width - near, bed.depth) - start) / (bed.width / 1000.0)
        slope1 = (change(near, 0.0) - start) / (bed.depth / 1000.0)
        constant = start - slope1 * leg1 - slope2 * leg2
        return np.array([slope2[0], slope2[1], constant[0]])

    def _change_below(self, turned: TrueState) -> NDArray[np.float64]:
        """Change of the landing place (x, y) in mm per metre below mirror 3."""
        x, y = self.machine.bed.width / 2, self.machine.bed.depth / 2

        def per_metre(state: TrueState) -> NDArray[np.float64]:
            return np.subtract(below_head(state, x, y, 1000.0), below_head(state, x, y, 0.0))

        change = per_metre(turned) - per_metre(self._state)
        return np.array([change[0], change[1], 0.0])

    def _turned(self, state: TrueState, mirror: int, executed: Mapping[str, float]) -> TrueState:
        drive = self._hidden.drives[mirror]
        pushed = {name: drive * turns for name, turns in executed.items()}
        return _plus(state, mirror, plate_motion(self._hidden.mounts[mirror], pushed))

    def _wandered(self, key: int) -> TrueState:
        if not self.trouble.wander:
            return self._state
        tilt = generator(self.seed, key, _WANDER).normal(0, self.trouble.wander, 2)
        return _plus(self._state, 2, PlateMotion(float(tilt[0]), float(tilt[1])))

    def _slip(self, key: int) -> tuple[float, float]:
        """The misreading, when this pulse is the one that an "outlier" machine's person misreads."""
        before = sum(earlier < key for earlier in self._shot_keys)
        self._shot_keys.add(key)
        if before != self._hidden.wrong_reading:
            return 0.0, 0.0
        angle = float(generator(self.seed, key, _OUTLIER).uniform(0, 2 * math.pi))
        return self.trouble.outlier * math.cos(angle), self.trouble.outlier * math.sin(angle)

    def _rounded(self, value: float) -> float:
        step = self.trouble.rounding
        return round(round(value / step) * step, 6)


def _plus(state: TrueState, mirror: int, motion: PlateMotion) -> TrueState:
    """The state with that mirror's plate moved."""
    if mirror == 1:
        return replace(state, mirror1=state.mirror1 + motion)
    if mirror == 2:
        return replace(state, mirror2=state.mirror2 + motion)
    return replace(state, mirror3=state.mirror3 + motion)
