"""The practice machine of a whole visit: its beam, its head, its pointer, and what stands around them.

Everything is computed from the kind, the seed and the events, so the same events show the same after an undo and
after a resume.  The owner does what they come upon: a bed that was found bad is level after that entry, warm water is
cool, a gauge is right, a wiped optic is clear.  Tube and supply are the service's and stay as they are.
"""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from typing import get_args

import numpy as np

from coach.machine import Machine, Target
from coach.practice.bench import Bench
from coach.practice.head_bench import HeadBench
from coach.practice.hidden import generator
from coach.practice.pointer_bench import PointerBench
from coach.practice.visit_kinds import Wrong, scenario_of
from coach.practice.visit_world import World, draw_world, mended
from coach.session.events import Disturbed, Event, effective
from coach.session.head_events import Pointer
from coach.session.visit_events import Care, Check
from coach.triage.causes import CheckName
from coach.triage.cleaned import Optic

_DULL, _CUT, _FIGURE, _BESIDE = 320, 321, 322, 323  # stream numbers
LADDER = tuple(round(2.0 * 1.1**k, 1) for k in range(40))
"""mm/s: the speeds at which lines were once cut, each a tenth faster than the one before."""
PLACE, SHEET = 0.03, 0.015
"""Relative deviation of the speed that just falls through, rms: from place to place, from one check to the next."""
WARM_LEAVES: Mapping[Wrong, float] = {"cooling": 0.7, "tube": 0.78}
"""What is left at the end of a cut check's minutes of the power at its beginning, where that is wrong."""
MENDS: Mapping[CheckName, Wrong] = {
    "bed": "bed", "focus": "focus", "water": "cooling", "extraction": "extraction", "rail": "rail",
    "material": "material",
}  # fmt: skip
"""What the owner sees to, once its check found it bad."""
MIRRORS: tuple[Optic, ...] = ("mirror 1", "mirror 2", "mirror 3")
USUAL_CURRENT = 20.0
"""mA: what the panel once showed at the usual setting."""
OLD_SHEET, NEW_SHEET = "ply 6 mm, lot 3", "ply 6 mm, lot 8"


class VisitBench:
    """One practice machine of a kind of `coach.practice.visit_kinds.VISIT_KINDS`."""

    def __init__(self, machine: Machine, seed: int, kind: str) -> None:
        """Raises UnknownName for another kind, OutOfReach for a negative seed."""
        self.machine, self.seed, self.kind = machine, seed, kind
        self.scenario = scenario_of(kind, seed)
        self.world = draw_world(machine, self.scenario.wrong, seed)
        self.beam = Bench(machine, seed, self.scenario.beam)
        self.head = HeadBench(machine, seed, self.scenario.head)
        self.pointer = PointerBench(seed, self.scenario.pointer)
        self.dull = _drawn_dull(self.world, seed)
        """Mirror to the share of light that its film leaves."""
        self._lighten()

    @classmethod
    def after(cls, machine: Machine, seed: int, kind: str, events: Iterable[Event]) -> "VisitBench":
        """The machine as it stands after these events; what was undone among them does not count."""
        bench = cls(machine, seed, kind)
        history = tuple(events)
        bench.beam.heed(history)
        for event in effective(history):
            bench.take(event)
        return bench

    def take(self, event: Event) -> None:
        """What this entry changes on the machine."""
        self.beam.take(event)
        self.head.take(event)
        match event:
            case Check(result="bad") if event.name in MENDS:
                self.world = mended(self.world, MENDS[event.name])
            case Care():
                self._wiped(event)
            case Disturbed(part="mirror 1" | "mirror 2"):
                self._askew(int(event.part[-1]), event.id)
            case Pointer():
                self.pointer.take(event)
            case _:
                pass

    def _wiped(self, event: Care) -> None:
        """One drag takes the film off; a mirror that was out comes back a little askew."""
        if event.result != "not opened":
            self.dull.pop(event.optic, None)
            if event.optic == "lens":
                self.world = mended(self.world, "lens")
            self._lighten()
        if event.taken_out and event.optic in ("mirror 1", "mirror 2"):
            self._askew(int(event.optic[-1]), event.id)

    def _askew(self, mirror: int, key: int) -> None:
        self.beam.tilt(mirror, self.beam.trouble.put_back, key=key)

    def _lighten(self) -> None:
        """What tube, supply, water and films leave of the light, on the way to each opening."""
        shares = self.world.shares
        light = shares["tube"] * shares["supply"] * shares["cooling"]
        at: dict[Target, float] = {"mirror 1": light}
        at["mirror 2"] = at["mirror 1"] * self.dull.get("mirror 1", 1.0)
        at["head"] = at["mirror 2"] * self.dull.get("mirror 2", 1.0)
        self.beam.light = at

    # -- cuts -------------------------------------------------------------------------------------

    @property
    def sheet(self) -> str:
        """The sheet that is cut, with thickness and batch."""
        return NEW_SHEET if "material" in self.world.wrong else OLD_SHEET

    def speeds(self) -> dict[str, float]:
        """Station to the speed at which the sheet is just cut through now, mm/s: exact."""
        beam = self.beam.true_offsets()
        offsets = [beam[station.name] for station in self.machine.stations]
        films = math.prod(self.dull.values())
        around = replace(
            self.world,
            offsets=np.array(offsets),
            nozzle=self.head.at_nozzle(),
            shares={**self.world.shares, "mirrors": films},
        )
        return {s.name: float(v) for s, v in zip(self.machine.stations, around.speeds(), strict=True)}

    def just_through(self, station: str, *, sheet: int, warm: bool = False) -> float:
        """mm/s at which the sheet is just cut through there; no two places are quite alike, nor two sheets.

        `sheet`: which one lies in, the number of the entry that says so; 0: the one of the sound machine.  `warm`: at
        the end of all cuts, beside the first lines.
        """
        faded = math.prod(share for cause, share in WARM_LEAVES.items() if cause in self.world.wrong) if warm else 1.0
        return self._uneven(faded * self.speeds()[station], station, sheet, beside=warm)

    def once(self) -> dict[str, tuple[float | None, float | None]]:
        """Station to the fastest line that once fell through and the next, on the sound machine in the old sheet."""
        speeds = zip(self.machine.stations, self.world.speeds(sound=True), strict=True)
        return {s.name: fell_through(LADDER, self._uneven(float(speed), s.name, 0)) for s, speed in speeds}

    def _uneven(self, speed: float, station: str, sheet: int, *, beside: bool = False) -> float:
        """As that sheet is there, or at the place beside it."""
        place = [s.name for s in self.machine.stations].index(station)
        *here, all_over = generator(self.seed, sheet, _CUT).normal(size=len(self.machine.stations) + 1)
        if beside:
            here = [*generator(self.seed, sheet, _BESIDE).normal(size=len(here))]
        return speed * math.exp(PLACE * float(here[place]) + SHEET * float(all_over))

    # -- what is read -----------------------------------------------------------------------------

    def figure(self, value: float, sd: float, digits: int, *, key: int, number: int = 0) -> float:
        """A figure as it is read: to `sd`, rounded; `number` tells figures of one step apart."""
        noise = generator(self.seed, key, _FIGURE).normal(size=8)[number]
        return round(value + sd * float(noise), digits)

    def wrong_now(self) -> frozenset[str]:
        """What is still wrong with the machine, beam, head and pointer not counted."""
        left = set(self.world.wrong) - {"alignment", "mirrors"}
        return frozenset({*left, *(["mirrors"] if self.dull else [])})


def fell_through(lines: Sequence[float], just: float) -> tuple[float | None, float | None]:
    """The fastest of rising speeds that falls through, and the next; None where none does, or all do.  mm/s."""
    through = [speed for speed in lines if speed <= just]
    return through[-1] if through else None, lines[len(through)] if len(through) < len(lines) else None


def _drawn_dull(world: World, seed: int) -> dict[Optic, float]:
    """Which mirrors wear a film, and what each leaves: together what the world says."""
    if "mirrors" not in world.wrong:
        return {}
    rng = generator(seed, 0, _DULL)
    count = int(rng.integers(1, 3))
    chosen = [MIRRORS[int(k)] for k in rng.permutation(len(MIRRORS))[:count]]
    assert set(chosen) <= set(get_args(Optic))
    return {mirror: float(world.shares["mirrors"] ** (1 / count)) for mirror in chosen}
