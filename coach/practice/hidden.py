"""Draws what a practice machine hides: where its parts really stand and how its mounts really work."""

import math
from dataclasses import dataclass, replace

import numpy as np

from coach.errors import OutOfReach
from coach.machine import Machine, Mount, Point
from coach.optics.mounts import ROOT2, PlateMotion, side_sign
from coach.optics.trace import Layout, TrueState, at_head
from coach.practice.kinds import Trouble

FIRST_ROUND = 5
"""The wrong reading of an "outlier" machine is one of this many first ones."""

# Stream numbers; mirror numbers are added to the last two.
_PARTS, _DRIVE, _EXTRAS, _MOUNT, _ANSWER, _OPENING1 = 100, 101, 102, 110, 120, 104


@dataclass(frozen=True)
class Hidden:
    """The truth about one practice machine at the start."""

    state: TrueState
    mounts: dict[int, Mount]
    """Mirror to its mount with the points where they really are."""
    drives: dict[int, float]
    """Mirror to +1 where a clockwise turn really pushes, −1 where it pulls."""
    wrong_reading: int | None
    """Which of the first pulses is misread, from 0."""


def generator(seed: int, key: int, stream: int) -> np.random.Generator:
    """Random numbers that depend on nothing but seed, key and stream.  Raises OutOfReach below zero."""
    if seed < 0 or key < 0:
        raise OutOfReach(f"Seed {seed} with key {key} cannot be used", expected="whole numbers from 0")
    return np.random.default_rng((seed, key, stream))


def draw_hidden(machine: Machine, seed: int, trouble: Trouble) -> Hidden:
    """The hidden truth of this machine for this seed."""
    state = _calm(machine, _draw_state(machine, seed, trouble), trouble)
    mounts: dict[int, Mount] = {m.mirror: _true_mount(m, seed, trouble) for m in machine.mounts}
    chosen = int(generator(seed, 0, _EXTRAS + 1).integers(FIRST_ROUND))
    return Hidden(state, mounts, _draw_drives(machine, seed, trouble), chosen if trouble.outlier else None)


def _draw_state(machine: Machine, seed: int, trouble: Trouble) -> TrueState:
    """Slopes and offsets as drawn, made by the parts that make them in a real machine."""
    rng = generator(seed, 0, _PARTS)
    sign = side_sign(machine.path.side)
    slope1_u, slope1_v, slope2_u, slope2_v = (float(v) for v in rng.normal(0, trouble.slope, 4))
    if trouble.carried:
        slope2_u, slope2_v = slope2_u + slope1_u, slope2_v + slope1_v
    tube_u, tube_v = (float(v) for v in rng.normal(0, trouble.tube_slope, 2))
    across = [float(v) for v in rng.normal(0, trouble.offset / math.sqrt(3), 3)]
    height = [float(v) for v in rng.normal(0, trouble.offset / ROOT2, 2)]
    opening2 = [float(v) for v in rng.normal(0, trouble.offset, 2)]
    opening1 = [float(v) for v in generator(seed, 0, _OPENING1).normal(0, trouble.opening1, 2)]
    extras = generator(seed, 0, _EXTRAS)
    return TrueState(
        Layout.of(machine),
        tube_back=across[0],
        tube_up=height[0],
        tube_slope_back=sign * tube_u,
        tube_slope_up=tube_v,
        mirror1=PlateMotion((slope1_u - tube_u) / 2, -(slope1_v - tube_v) / ROOT2),
        mirror2=PlateMotion(-(slope2_u - slope1_u) / 2, -(slope2_v - slope1_v) / ROOT2),
        mirror2_right=across[1],
        aperture2_right=opening2[0],
        aperture2_up=opening2[1],
        aperture1_back=opening1[0],
        aperture1_up=opening1[1],
        head_back=across[2],
        head_up=height[1],
        yaw=trouble.yaw * float(extras.choice((-1.0, 1.0))),
        yaw_about_middle=bool(extras.integers(2)),
    )


def _calm(machine: Machine, state: TrueState, trouble: Trouble) -> TrueState:
    """The state, made smaller or larger as a whole where `worst_at_most` or `worst_at_least` asks for it."""
    if trouble.worst_at_most is None and trouble.worst_at_least is None:
        return state
    worst = max(math.hypot(*at_head(state, s.x, s.y)) for s in machine.stations)
    most = math.inf if trouble.worst_at_most is None else trouble.worst_at_most
    factor = min(max(worst, trouble.worst_at_least or 0.0), most) / worst if worst > 0 else 1.0

    def smaller(plate: PlateMotion) -> PlateMotion:
        return PlateMotion(factor * plate.gradient_x, factor * plate.gradient_y, factor * plate.rise)

    return replace(
        state,
        tube_back=factor * state.tube_back,
        tube_up=factor * state.tube_up,
        tube_slope_back=factor * state.tube_slope_back,
        tube_slope_up=factor * state.tube_slope_up,
        mirror1=smaller(state.mirror1),
        mirror2=smaller(state.mirror2),
        mirror2_right=factor * state.mirror2_right,
        head_back=factor * state.head_back,
        head_up=factor * state.head_up,
    )


def _true_mount(mount: Mount, seed: int, trouble: Trouble) -> Mount:
    """Points off the profile, and so much closer to the centre that the screws do as much more as `answers` says."""
    drawn = _draw_mount(mount, generator(seed, 0, _MOUNT + mount.mirror), trouble)
    stronger = float(generator(seed, 0, _ANSWER + mount.mirror).uniform(*trouble.answers))
    a, b, c = (_moved(point, 1.0 / stronger, 0.0) for point in drawn.points)
    return drawn.model_copy(update={"points": (a, b, c)})


def _draw_mount(mount: Mount, rng: np.random.Generator, trouble: Trouble) -> Mount:
    """The mount with its points where they really are: scaled one by one and turned together."""
    each = trouble.scale / ROOT2
    while True:
        scales = 1.0 + rng.normal(0, each) + rng.normal(0, each, 3)
        degrees = float(rng.normal(0, trouble.rotation))
        points = tuple(_moved(point, float(s), degrees) for point, s in zip(mount.points, scales, strict=True))
        within = bool(np.all(np.abs(scales - 1.0) <= trouble.scale_most))
        if within and abs(degrees) <= trouble.rotation_most and _is_triangle(points):
            return mount.model_copy(update={"points": points})


def _moved(point: Point, scale: float, degrees: float) -> Point:
    angle = math.radians(degrees)
    x = scale * (point.x * math.cos(angle) - point.y * math.sin(angle))
    y = scale * (point.x * math.sin(angle) + point.y * math.cos(angle))
    return point.model_copy(update={"x": x, "y": y})


def _is_triangle(points: tuple[Point, ...]) -> bool:
    """Whether the points still carry a plate: the profile's own rule for a triangle."""
    a, b, c = points
    twice_area = abs((b.x - a.x) * (c.y - a.y) - (c.x - a.x) * (b.y - a.y))
    longest = max((p.x - q.x) ** 2 + (p.y - q.y) ** 2 for p, q in ((a, b), (b, c), (c, a)))
    return twice_area >= 0.05 * longest


def _draw_drives(machine: Machine, seed: int, trouble: Trouble) -> dict[int, float]:
    """Which way each mount is really driven; what the profile calls unknown is drawn."""
    rng = generator(seed, 0, _DRIVE)
    coins = {mirror: float(rng.choice((-1.0, 1.0))) for mirror in (1, 2, 3)}
    says = {"push": 1.0, "pull": -1.0}
    drives: dict[int, float] = {m.mirror: says.get(m.drive, coins[m.mirror]) for m in machine.mounts}
    if not trouble.opposite:
        return drives
    known = [m.mirror for m in machine.mounts if m.drive != "unknown" and m.mirror != 3]
    unknown = [m.mirror for m in machine.mounts if m.drive == "unknown" and m.mirror != 3]
    choices = [[mirror] for mirror in known] + ([known] if len(known) > 1 else [])
    if unknown or not choices:
        choices.append([])  # an unknown drive is trouble enough, so the profile may be right elsewhere
    for mirror in choices[int(rng.integers(len(choices)))]:
        drives[mirror] *= -1.0
    return drives
