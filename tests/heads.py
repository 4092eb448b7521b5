"""Heads for the tests: a machine with mirror 3 and a lens, and an exact head without any noise."""

from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np
from machines import SIGN, machine_table, mount_table

from coach import Machine, Session
from coach.head.advice import HeadAdvice
from coach.optics.lens import thin_lens
from coach.optics.mounts import PlateMotion, plate_motion
from coach.optics.trace import Layout, TrueState, below_head

LENS = {"focal": 50.8, "nozzle_distance": 8.0, "nozzle": 2.5, "curved": "up"}
FAR = 1000.0


def head_machine(side: str = "left", drive: str = "push", screws: str = "BC", **lens: Any) -> Machine:
    """The demo machine with a mount on mirror 3 and a lens."""
    mounts = [mount_table(mirror, drive if mirror == 3 else "push", screws) for mirror in (1, 2, 3)]
    return Machine.model_validate(machine_table(side, mounts=mounts) | {"lens": LENS | lens})


def focused_slope(slope: float, offset: float) -> float:
    """Slope in mrad of the beam behind a lens of f = 50.8 mm: slope − 1000·d/f (Kogelnik & Li's ray matrix)."""
    return 1000 * float((thin_lens(50.8) @ np.array([offset, slope / 1000]))[1])


def at_nozzle(slope: float, offset: float) -> float:
    """Where that beam passes the nozzle's opening s = 8 mm above the focus, mm from the lens's axis: straight on
    from the lens with the slope behind it, d + (f − s)·(slope − d/f)."""
    return offset + (50.8 - 8.0) * focused_slope(slope, offset) / 1000


@dataclass
class ExactHead:
    """Ray-traced to the lens, made as its profile says, read and turned without any error."""

    machine: Machine
    drive: str = "push"
    hangs: float = 70.0
    """mm from mirror 3 to the lens."""
    lens: tuple[float, float] = (0.0, 0.0)
    """The lens's middle off the head's axis, mm."""
    nozzle: tuple[float, float] = (0.0, 0.0)
    """The nozzle's off the lens's, mm."""
    mirror3: PlateMotion = field(default_factory=PlateMotion)

    def __post_init__(self) -> None:
        self.state = replace(TrueState(Layout.of(self.machine)), mirror3=self.mirror3)

    def _axes(self) -> list[tuple[float, float]]:
        """Offset from the lens's middle (mm) and slope (mrad) at the lens, by axis."""
        high = below_head(self.state, 300.0, 200.0, self.hangs)
        low = below_head(self.state, 300.0, 200.0, self.hangs + FAR)
        return [(high[k] - self.lens[k], 1000 * (low[k] - high[k]) / FAR) for k in range(2)]

    def slope(self) -> tuple[float, float]:
        """mrad, without the lens."""
        (_, x), (_, y) = self._axes()
        return x, y

    def lean(self) -> tuple[float, float]:
        """mrad, of the focused beam."""
        x, y = (focused_slope(slope, offset) for offset, slope in self._axes())
        return x, y

    def off_nozzle(self) -> tuple[float, float]:
        """mm."""
        x, y = (at_nozzle(s, d) - self.nozzle[k] for k, (d, s) in enumerate(self._axes()))
        return x, y

    def on_card(self, lowered: float, *, lens: bool) -> tuple[float, float]:
        """mm on the card, from anywhere."""
        x, y = (5.0 + slope * lowered / 1000 for slope in (self.lean() if lens else self.slope()))
        return x, y

    def do(self, session: Session, advice: HeadAdvice) -> None:
        """What is advised, to the letter, and entered."""
        if advice.kind == "shoot" and advice.target == "nozzle":
            off = self.off_nozzle()
            through = max(abs(off[0]), abs(off[1])) < 1.3
            session.nozzle_mark(*off) if through else session.nozzle_mark()
        elif advice.kind == "shoot":
            at = self.on_card(advice.lowered, lens=advice.lens)
            session.bed_mark(*at, lowered=advice.lowered, lens=advice.lens)
        elif advice.kind == "turn":
            (turn,) = advice.turns
            assert turn.mirror == 3
            self.turn(turn.screws)
            session.turn(3, turn.screws)
        else:
            assert advice.kind == "shift"
            self.shift(advice.part, advice.up, advice.right, advice.back)
            session.shift(advice.part, up=advice.up, right=advice.right, back=advice.back)

    def turn(self, screws: Any) -> None:
        """Turn mirror 3's screws."""
        pushed = {name: SIGN[self.drive] * turns for name, turns in screws.items()}
        moved = plate_motion(self.machine.mount(3), pushed)
        self.state = replace(self.state, mirror3=self.state.mirror3 + moved)

    def shift(self, part: str, up: float, right: float, back: float) -> None:
        """Move the lens tube, or the head."""
        if part == "lens":
            self.lens = self.lens[0] + right, self.lens[1] + back
        else:
            state = self.state
            self.state = replace(state, head_up=state.head_up + up, head_back=state.head_back + back)


def goes_on(head: ExactHead, session: Session, most: int = 60) -> tuple[HeadAdvice, list[HeadAdvice]]:
    """The session by the letter to its end: the last advice, and those before it."""
    followed: list[HeadAdvice] = []
    while len(followed) < most:
        advice = session.head_advice()
        if advice.kind in ("done", "stop"):
            return advice, followed
        head.do(session, advice)
        followed.append(advice)
    raise AssertionError(f"no end after {most} steps: {followed[-1]}")


def played(head: ExactHead) -> tuple[HeadAdvice, Session]:
    """A whole session by the letter."""
    session = Session.start(head.machine)
    return goes_on(head, session)[0], session
