"""A practice head: a tilted mirror 3, a lens and a nozzle off their places, rough hands and readings.

The beam down to the lens is ray-traced exactly (`coach.optics.trace`); the lens is a thin one.  Everything random is
drawn from (seed, key, what it is for), the key being the event's number, so the same events give the same marks.
"""

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

import numpy as np

from coach.errors import UnknownName
from coach.machine import Lens, Machine
from coach.optics.mounts import MRAD, ROOT2, PlateMotion, plate_motion, side_sign
from coach.optics.trace import Layout, TrueState, below_head
from coach.practice.head_kinds import HEAD_KINDS, ROUGH_KINDS
from coach.practice.hidden import draw_hidden, generator
from coach.practice.kinds import KINDS
from coach.session.events import Event, Mended, Shift, Turn, effective
from coach.session.head_events import BedMark, HeadPulse, NozzleMark

_PLATE, _LENS, _TURNED, _MOVED, _READ, _TAIL, _SEAT = range(201, 208)  # stream numbers
USUAL_LENS = Lens(focal=50.8, nozzle_distance=7.5, nozzle=2.5)
"""Of a practice machine whose profile describes none."""
STEADY = 1000.0
"""mm over which the traced ray's slope is taken; it is straight."""
Pair = tuple[float, float]


@dataclass(frozen=True)
class _Optics:
    """What of the head does not move by itself: mm and mrad, (x, y) in machine axes."""

    hangs: float
    focal: float
    above_focus: float
    bed: Pair
    lowers: float


class HeadBench:
    """One practice head.  `kind` is a name of `HEAD_KINDS` or `ROUGH_KINDS` in `coach.practice.head_kinds`."""

    def __init__(self, machine: Machine, seed: int, kind: str = "head") -> None:
        """Raises UnknownName for another kind, OutOfReach for a negative seed."""
        kinds = HEAD_KINDS | ROUGH_KINDS
        if kind not in kinds:
            raise UnknownName(f"There is no practice head {kind!r}", expected="one of: " + ", ".join(kinds))
        self.machine, self.seed, self.trouble = machine, seed, kinds[kind]
        self._mounts = draw_hidden(machine, seed, KINDS["standard"])
        self._last_way: dict[str, float] = {}
        self._state = self._drawn_state()
        self._optics, self._lens, self._nozzle = self._drawn_lens()
        self._lens_in = True

    @classmethod
    def after(cls, machine: Machine, seed: int, kind: str, events: Iterable[Event]) -> "HeadBench":
        """The head as it stands after these events."""
        bench = cls(machine, seed, kind)
        for event in effective(tuple(events)):
            bench.take(event)
        return bench

    def take(self, event: Event) -> None:
        """What this entry changes on the head."""
        match event:
            case Turn(mirror=3):
                self.turn(event.screws, key=event.id)
            case Shift(part="lens"):
                self.move_lens(event.right, event.back, key=event.id)
            case Shift(part="head"):
                self.move_head(event.up, event.back, key=event.id)
            case Mended(cause="nozzle" | "lens"):
                self.reseat(key=event.id)
            case HeadPulse() | BedMark():
                self._lens_goes(event.lens, event.id)
            case NozzleMark():
                self._lens_goes(True, event.id)
            case _:
                pass

    def _drawn_state(self) -> TrueState:
        rng, trouble = generator(self.seed, 0, _PLATE), self.trouble
        x, y, up, across = (float(v) for v in rng.normal(size=4))
        beside_up, beside_back, rise = (float(v) for v in rng.normal(size=3))
        return TrueState(
            Layout.of(self.machine),
            tube_up=trouble.beside * beside_up,
            tube_back=trouble.beside * beside_back,
            mirror2=PlateMotion(trouble.incoming * across / 2, trouble.incoming * up / ROOT2),
            mirror3=PlateMotion(trouble.plate * x, trouble.plate * y, trouble.rise * rise),
        )

    def _drawn_lens(self) -> tuple[_Optics, Pair, Pair]:
        """Optics, the lens's middle against the head's axis, the nozzle's against the lens's; mm."""
        rng, trouble, lens = generator(self.seed, 0, _LENS), self.trouble, self.machine.lens or USUAL_LENS
        hangs = lens.mirror_distance or float(rng.uniform(*trouble.hangs))
        drawn = [float(v) for v in rng.normal(size=8)]
        optics = _Optics(
            hangs,
            lens.focal * (1 + trouble.focal * drawn[0]),
            lens.nozzle_distance + trouble.above_focus * drawn[1],
            (trouble.bed * drawn[2], trouble.bed * drawn[3]),
            float(round(rng.uniform(*trouble.lowers), -1)),
        )
        middle = trouble.lens * drawn[4], trouble.lens * drawn[5]
        return optics, middle, (trouble.nozzle * drawn[6], trouble.nozzle * drawn[7])

    # -- the truth --------------------------------------------------------------------------------

    def _at_lens(self) -> tuple[Pair, Pair]:
        """The beam at the lens, mm off the head's axis, and its slope (tangent): exact, for the middle of the bed."""
        x, y = self.machine.bed.width / 2, self.machine.bed.depth / 2
        place = below_head(self._state, x, y, self._optics.hangs)
        lower = below_head(self._state, x, y, self._optics.hangs + STEADY)
        return place, ((lower[0] - place[0]) / STEADY, (lower[1] - place[1]) / STEADY)

    def _bent(self) -> tuple[Pair, Pair]:
        """The ray behind the lens: where it leaves it, against the head's axis, and its slope."""
        place, slope = self._at_lens()
        bent = [slope[k] - (place[k] - self._lens[k]) / self._optics.focal for k in range(2)]
        return place, (bent[0], bent[1])

    def lean(self) -> Pair:
        """Degrees by which the focused beam truly leans, to the right and to the back."""
        _, slope = self._bent()
        return math.degrees(math.atan(slope[0])), math.degrees(math.atan(slope[1]))

    def at_nozzle(self) -> Pair:
        """mm of the beam's middle off the nozzle's."""
        place, slope = self._bent()
        down = self._optics.focal - self._optics.above_focus
        x, y = (place[k] + down * slope[k] - self._lens[k] - self._nozzle[k] for k in range(2))
        return x, y

    @property
    def lowers(self) -> float:
        """mm by which the bed goes down at most."""
        return self._optics.lowers

    @property
    def hole(self) -> float:
        """Diameter of the nozzle's hole, mm."""
        return (self.machine.lens or USUAL_LENS).nozzle

    # -- what a person sees and does --------------------------------------------------------------

    def bed_mark(self, lowered: float, *, lens: bool, key: int) -> Pair | None:
        """A pulse on the card: where its mark is read, mm; None where nothing comes through the nozzle."""
        self._lens_goes(lens, key)
        if lens and math.hypot(*self.at_nozzle()) > self.hole / 2 + 0.2:
            return None
        place, slope = self._bent() if lens else self._at_lens()
        usual = self._optics.focal if lens else self._optics.focal + self._optics.hangs
        down = usual + lowered
        leaned = [place[k] + down * slope[k] + lowered * self._optics.bed[k] / MRAD for k in range(2)]
        return self._read((leaned[0], leaned[1]), self.trouble.card, self.trouble.card_step, 1.0, key)

    def nozzle_mark(self, *, key: int) -> tuple[float, float, bool] | None:
        """A pulse on tape under the nozzle: the mark as read and whether the rim cut it; None where nothing came."""
        self._lens_goes(True, key)
        off = self.at_nozzle()
        far, room = math.hypot(*off), self.hole / 2 - 0.4
        if far > self.hole / 2 + 0.3:
            return None
        seen = min(1.0, (room + 0.5 * (far - room)) / far) if far > room else 1.0
        trouble = self.trouble
        x, y = self._read(
            (seen * off[0], seen * off[1]), trouble.at_nozzle, trouble.nozzle_step, trouble.nozzle_tail, key
        )
        return x, y, far > room

    def _read(self, true: Pair, sd: float, step: float, tail: float, key: int) -> Pair:
        rng = generator(self.seed, key, _TAIL)
        chance, angle, more = rng.random(3)
        slip = tail - tail * math.log1p(-more) if chance < self.trouble.tails else 0.0
        noise = generator(self.seed, key, _READ).normal(0, sd, 2)
        wrong = slip * math.cos(2 * math.pi * angle), slip * math.sin(2 * math.pi * angle)
        x, y = (round(round((true[k] + wrong[k] + float(noise[k])) / step) * step, 6) for k in range(2))
        return x, y

    def _lens_goes(self, lens: bool, key: int) -> None:
        """In or out; a lens that comes in again lies a little elsewhere, its nozzle does not."""
        if lens and not self._lens_in:
            x, y = (float(v) for v in generator(self.seed, key, _SEAT).normal(0, self.trouble.seat, 2))
            self._lens = self._lens[0] + x, self._lens[1] + y
            self._nozzle = self._nozzle[0] - x, self._nozzle[1] - y
        self._lens_in = lens

    def turn(self, screws: Mapping[str, float], *, key: int) -> None:
        """Turn mirror 3's screws as a hand does it: roughly, with backlash on reversal."""
        hand, rng = KINDS["standard"], generator(self.seed, key, _TURNED)
        done: dict[str, float] = {}
        mount, drive = self._mounts.mounts[3], self._mounts.drives[3]
        for screw in mount.screws:
            roughly, about, lost = rng.normal(), rng.normal(), hand.backlash * rng.random()
            asked = screws.get(screw.name, 0.0)
            if asked == 0.0:
                continue
            way = math.copysign(1.0, asked)
            amount = abs(asked) * (1 + hand.turn_fraction * roughly) + hand.turn_absolute * about
            if self._last_way.get(screw.name, way) != way:
                amount = max(0.0, amount - lost)
            self._last_way[screw.name] = way
            done[screw.name] = drive * way * float(amount)
        self._state = replace(self._state, mirror3=self._state.mirror3 + plate_motion(mount, done))

    def move_lens(self, right: float, back: float, *, key: int) -> None:
        """Move the lens tube, and the nozzle with it."""
        x, y = self._moved((right, back), key)
        self._lens = self._lens[0] + x, self._lens[1] + y

    def move_head(self, up: float, back: float, *, key: int) -> None:
        """Move the whole head in its bracket."""
        sign = side_sign(self.machine.path.side)
        risen, gone = self._moved((sign * up, back), key)
        state = self._state
        self._state = replace(state, head_up=state.head_up + sign * risen, head_back=state.head_back + gone)

    def _moved(self, asked: Pair, key: int) -> Pair:
        drawn = generator(self.seed, key, _MOVED).normal(size=4)
        trouble = self.trouble
        x, y = (
            float(asked[k] * (1 + trouble.move_share * drawn[k]) + trouble.move_floor * drawn[2 + k])
            for k in range(2)
        )
        return x, y

    def reseat(self, *, key: int) -> None:
        """Lens and nozzle are taken out, looked at and seated anew: they then stand where they should, nearly."""
        drawn = [float(v) for v in generator(self.seed, key, _SEAT).normal(0, self.trouble.seat, 4)]
        self._lens, self._nozzle = (drawn[0], drawn[1]), (drawn[2], drawn[3])

    def good(self, lean: float = 0.3, nozzle: float = 0.2) -> bool:
        """Whether the beam truly leans by no more degrees, and passes the nozzle by no more mm off its middle."""
        return math.hypot(*self.lean()) <= lean and bool(np.hypot(*self.at_nozzle()) <= nozzle)
