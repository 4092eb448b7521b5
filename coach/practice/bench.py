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
from coach.optics.mounts import PlateMotion, plate_motion
from coach.optics.shifts import shift_effect
from coach.optics.trace import TrueState, at_head
from coach.practice.answers import change_at_head, change_below
from coach.practice.dose import mark_width, threshold
from coach.practice.eyes import slip
from coach.practice.hidden import draw_hidden, generator
from coach.practice.kinds import KINDS
from coach.practice.parts_moved import askew, beside_a_face, met_at, place_of, plus
from coach.session.events import Event, Lock, Mark, Mended, Miss, Shift, Turn, effective

_READING, _TURN, _SHIFT, _LOCK, _WANDER, _WEAK, _TILT, _LOOK = 1, 2, 3, 4, 5, 8, 9, 10
"""Stream numbers; 6 and 7 are the eyes' (`coach.practice.eyes`)."""
_THRESHOLD = 130
"""The stream of the machine's own threshold, beside those of what it hides."""
_SMALL_TURN = 1e-3

Travel = Mapping[tuple[str, str], float]
"""(part, direction) to mm each way from where it stands; what is not named cannot be moved."""


@dataclass(frozen=True)
class Shot:
    """A mark as the person reads it, and where it really is; mm, seen as the beam sees the tape."""

    u: float
    v: float
    true_u: float
    true_v: float
    width: float | None = None
    """Its diameter, mm, where a dose was given."""


class Bench:
    """One practice machine.  `kind` is a name of `coach.practice.kinds.KINDS`."""

    def __init__(
        self,
        machine: Machine,
        seed: int,
        kind: str = "plain",
        *,
        mounts_of: int | None = None,
        travel: Travel | None = None,
    ) -> None:
        """With `mounts_of` the mounts are those of the bench with that seed: the same machine, out again.
        `travel`: how far each part can really be moved; None: as far as one likes.

        Raises UnknownName for another kind, OutOfReach for a negative seed.
        """
        if kind not in KINDS:
            raise UnknownName(f"There is no practice kind {kind!r}", expected="one of: " + ", ".join(KINDS))
        self.machine = machine
        self.seed = seed
        self.kind = kind
        self.trouble = KINDS[kind]
        self._travel = travel
        self._hidden = draw_hidden(machine, seed, self.trouble)
        if mounts_of is not None:
            before = draw_hidden(machine, mounts_of, self.trouble)
            self._hidden = replace(self._hidden, mounts=before.mounts, drives=before.drives)
        self._state = self._hidden.state
        self._last_way: dict[tuple[int, str], float] = {}
        self._shot_keys: set[int] = set()
        self.light: Mapping[Target, float] = {}
        """Share of the usual light that comes to an opening, where a tired tube or dull mirrors leave less."""

    @classmethod
    def after(cls, machine: Machine, seed: int, kind: str, events: Iterable[Event]) -> "Bench":
        """The bench as it stands after these events; what was undone among them does not count.

        Undone marks, where `events` still holds them, count as fired when the wrong reading of an
        "outlier" machine is due: who fires again instead reads right.
        """
        bench = cls(machine, seed, kind)
        history = tuple(events)
        bench.heed(history)
        for event in effective(history):
            bench.take(event)
        return bench

    def heed(self, history: Iterable[Event]) -> None:
        """Which pulses were read, undone ones too."""
        self._shot_keys = {event.id for event in history if isinstance(event, Mark | Miss)}

    def take(self, event: Event) -> None:
        """What this entry changes on the machine."""
        match event:
            case Turn():
                self.turn(event.mirror, event.screws, key=event.id)
            case Shift(part="lens"):
                pass  # the head's bench's business
            case Shift():
                self.shift(event.part, event.up, event.right, event.back, key=event.id)
            case Lock():
                self.lock(event.mirror, key=event.id)
            case Mended():
                self.mend(event.cause)
            case _:
                pass

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

    def pulse(
        self,
        x: float,
        y: float,
        target: Target = "head",
        *,
        key: int,
        wide: bool = False,
        first: bool = False,
        ms: float | None = None,
        power: float | None = None,
    ) -> Shot | None:
        """Fire with the head at (x, y) mm: the mark, or None when there is none on the tape or the wide card.

        `ms`, `power` (per cent): the dose; the machine's own threshold says whether it marks.  Without one, `first`:
        the session has no mark yet, so nobody knows which dose makes one.  Without `faces` mirrors are large enough.
        Raises OutOfReach outside the head's travel.
        """
        bed = self.machine.bed
        if not (0 <= x <= bed.width and 0 <= y <= bed.depth):
            raise OutOfReach(
                f"The head cannot go to ({x:g}, {y:g})", expected=f"0 to {bed.width:g}, 0 to {bed.depth:g} mm"
            )
        state, (slip_u, slip_v) = self._wandered(key), self._slip(key)
        true_u, true_v = met_at(state, x, y, target)
        beside = self.trouble.faces and beside_a_face(self.machine, state, y, target)
        if beside or math.hypot(true_u, true_v) > self.machine.tape.readable(target, wide):
            return None
        width = None
        if ms is not None or power is not None:
            width = self._width(x, y, target, ms, power)
            if width is None:
                return None
        elif first and self._too_weak(key):
            return None
        sd = self.trouble.wide_reading if wide else self.trouble.reading
        noise = generator(self.seed, key, _READING).normal(0, sd, 2)
        u = self._rounded(true_u + slip_u + float(noise[0]))
        v = self._rounded(true_v + slip_v + float(noise[1]))
        return Shot(u, v, true_u, true_v, width)

    def scorch_found(self, key: int, first: bool, chance: float) -> bool:
        """Whether who looks for it finds what a pulse without a dose scorched beside its target, by that chance."""
        if first and self._too_weak(key):
            return False
        return bool(generator(self.seed, key, _LOOK).random() < chance)

    def _too_weak(self, key: int) -> bool:
        """Whether a pulse of a dose that nobody knows yet marks nothing, wherever it goes."""
        return bool(generator(self.seed, key, _WEAK).random() < self.trouble.weak)

    def _width(self, x: float, y: float, target: Target, ms: float | None, power: float | None) -> float | None:
        """Diameter of the mark of that dose, mm; None where it is too weak."""
        just = threshold(float(generator(self.seed, 0, _THRESHOLD).normal()), self.trouble.weak)
        return mark_width(self.machine, x, y, target, just / self.light.get(target, 1.0), ms, power)

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
        """Move a part by mm in the machine's frame, roughly, as far as its slots let it; it may tilt with it.

        Raises UnknownName and InputError as `coach.optics.shifts.shift_effect` does.
        """
        shift_effect(self.machine.path.side, part, up, right, back)  # refuses what cannot be shifted
        trouble = self.trouble
        rng = generator(self.seed, key, _SHIFT)
        moved: dict[str, float] = {}
        for direction, asked in (("up", up), ("right", right), ("back", back)):
            roughly, about = (float(v) for v in rng.normal(size=2))
            within = self.room(part, direction, asked)
            if within != 0.0:
                field = place_of(part, direction)
                executed = within * (1.0 + trouble.shift_fraction * roughly) + trouble.shift_absolute * about
                moved[field] = getattr(self._state, field) + executed
        if moved:
            luck = generator(self.seed, key, _TILT).normal(size=2)
            state = replace(self._state, **moved)  # type: ignore[arg-type]
            self._state = askew(state, part, trouble, float(luck[0]), float(luck[1]))

    def room(self, part: str, direction: str, asked: float) -> float:
        """How much of a move by `asked` mm the part's slots allow from where it stands; 0 where it cannot move."""
        if self._travel is None or asked == 0.0:
            return asked
        field, most = place_of(part, direction), self._travel.get((part, direction), 0.0)
        gone = getattr(self._state, field) - getattr(self._hidden.state, field)
        left = max(0.0, most - math.copysign(1.0, asked) * gone) if most else 0.0
        return math.copysign(min(abs(asked), left), asked)

    def lock(self, mirror: int, *, key: int) -> None:
        """Tighten a mount's lock nuts, which tilts its plate a little.  Raises UnknownName."""
        self.tilt(mirror, self.trouble.lock, key=key)

    def tilt(self, mirror: int, size: float, *, key: int) -> None:
        """Tilt a mirror's plate by so many mrad rms in each axis.  Raises UnknownName."""
        self.machine.mount(mirror)
        tilt = generator(self.seed, key, _LOCK).normal(0, size, 2)
        self._state = plus(self._state, mirror, PlateMotion(float(tilt[0]), float(tilt[1])))

    def mend(self, cause: str) -> None:
        """Take away what a stop of that cause names, where it is there: a yaw, something loose, too weak a pulse."""
        if cause == "yaw":
            self._state = replace(self._state, yaw=0.0)
        elif cause == "loose":
            self.trouble = replace(self.trouble, wander=0.0)
        elif cause == "not firing":
            self.trouble = replace(self.trouble, weak=0.0)

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
        change = change_below if mirror == 3 else change_at_head
        turned = [self._turned(self._state, mirror, {s.name: _SMALL_TURN}) for s in self.true_mount(mirror).screws]
        return np.array([change(self.machine, self._state, state) / _SMALL_TURN for state in turned])

    def _turned(self, state: TrueState, mirror: int, executed: Mapping[str, float]) -> TrueState:
        drive = self._hidden.drives[mirror]
        pushed = {name: drive * turns for name, turns in executed.items()}
        return plus(state, mirror, plate_motion(self._hidden.mounts[mirror], pushed))

    def _wandered(self, key: int) -> TrueState:
        if not self.trouble.wander:
            return self._state
        tilt = generator(self.seed, key, _WANDER).normal(0, self.trouble.wander, 2)
        return plus(self._state, 2, PlateMotion(float(tilt[0]), float(tilt[1])))

    def _slip(self, key: int) -> tuple[float, float]:
        before = sum(earlier < key for earlier in self._shot_keys)
        self._shot_keys.add(key)
        return slip(self.trouble, self._hidden, self.seed, key, before)

    def _rounded(self, value: float) -> float:
        step = self.trouble.rounding
        return round(round(value / step) * step, 6)
