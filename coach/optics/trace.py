"""The exact ray trace of a whole machine, from the tube to the bed, small angles nowhere assumed.

Machine axes: X right, Y back, Z up, mm.  The tube lies along the back and fires toward mirror 1, which
sends the beam forward (−Y); mirror 2 sends it across the bed, mirror 3 down.  A mount's own frame: x to
the right, y up, seen by someone facing the screw heads, that is looking along the mirror's reflecting
normal.  Marks: u to the right, v up, seen by someone facing the side of the tape that the beam hits.
"""

from dataclasses import dataclass

from coach.machine import Machine, Side
from coach.optics.mounts import LEVEL, MRAD, PlateMotion, side_sign
from coach.optics.reflection import Plane, Ray, bounce, meet
from coach.optics.vectors import Vector, X, Y, Z, add, cross, dot, norm, rotate, scale, subtract, unit


@dataclass(frozen=True)
class Layout:
    """The lengths of a machine's beam path, mm."""

    side: Side
    width: float
    depth: float
    mirror1_gap: float
    mirror2_gap: float

    @classmethod
    def of(cls, machine: Machine) -> "Layout":
        """The layout that a machine's profile describes."""
        path, bed = machine.path, machine.bed
        return cls(path.side, bed.width, bed.depth, path.mirror1_gap, path.mirror2_gap)


@dataclass(frozen=True)
class TrueState:
    """Everything that decides where the beam goes; all zeros is a perfectly aligned machine."""

    layout: Layout
    tube_back: float = 0.0
    """mm by which the beam reaches mirror 1 too far back."""
    tube_up: float = 0.0
    tube_slope_back: float = 0.0
    """mrad by which the beam from the tube runs toward the back."""
    tube_slope_up: float = 0.0
    mirror1: PlateMotion = LEVEL
    mirror2: PlateMotion = LEVEL
    mirror3: PlateMotion = LEVEL
    mirror1_right: float = 0.0
    mirror2_right: float = 0.0
    """mm; mirror 2 takes its own aperture along."""
    aperture2_right: float = 0.0
    """mm by which mirror 2's own aperture stands off the mirror's centre."""
    aperture2_up: float = 0.0
    aperture1_back: float = 0.0
    """mm by which mirror 1's own aperture stands off the mirror's centre."""
    aperture1_up: float = 0.0
    head_back: float = 0.0
    head_up: float = 0.0
    yaw: float = 0.0
    """mrad of gantry yaw per metre of its travel toward the front, anticlockwise seen from above."""
    yaw_about_middle: bool = False
    """The gantry yaws about its middle; otherwise about mirror 2's end."""


@dataclass(frozen=True)
class _Frame:
    """A rigid piece of the machine: a place and the directions of its X and Y axes."""

    origin: Vector
    x: Vector = X
    y: Vector = Y

    def at(self, right: float = 0.0, back: float = 0.0, up: float = 0.0) -> Vector:
        """The point that far from the origin, along the frame's own axes."""
        moved = add(scale(self.x, right), scale(self.y, back))
        return add(self.origin, add(moved, scale(Z, up)))

    def along(self, vector: Vector) -> Vector:
        """A direction given in the frame's axes, in machine axes."""
        return add(add(scale(self.x, vector[0]), scale(self.y, vector[1])), scale(Z, vector[2]))


def _mirror(centre: Vector, fold_normal: Vector, lying: PlateMotion) -> Plane:
    """The mirror's plane: height = gx·x + gy·y + rise over the plane through `centre`.

    Looking along the fold normal n with y up in the plate, x points along n × y.
    """
    level = cross(Z, fold_normal)
    up = unit(cross(fold_normal, level))
    right = cross(fold_normal, up)
    tilt = add(scale(right, lying.gradient_x / MRAD), scale(up, lying.gradient_y / MRAD))
    return Plane(add(centre, scale(fold_normal, lying.rise)), unit(subtract(fold_normal, tilt)))


def _mirror2_x(layout: Layout) -> float:
    return -layout.mirror2_gap if layout.side == "left" else layout.width + layout.mirror2_gap


def _gantry(state: TrueState, y: float) -> _Frame:
    """The gantry's frame at y: its origin is where mirror 2's centre belongs."""
    layout = state.layout
    mirror2_x = _mirror2_x(layout)
    pivot_x = layout.width / 2 if state.yaw_about_middle else mirror2_x
    angle = state.yaw / MRAD * (layout.depth - y) / 1000.0
    x_axis, y_axis = rotate(X, Z, angle), rotate(Y, Z, angle)
    pivot = (pivot_x, y, 0.0)
    return _Frame(add(pivot, scale(x_axis, mirror2_x - pivot_x)), x_axis, y_axis)


def from_tube(state: TrueState) -> Ray:
    """The beam on its way to mirror 1."""
    centre, sign = _mirror1_place(state.layout), side_sign(state.layout.side)
    slope_back, slope_up = state.tube_slope_back / MRAD, state.tube_slope_up / MRAD
    place = add(centre, (0.0, state.tube_back, state.tube_up))
    return Ray(place, unit((-sign, slope_back, slope_up)))


def leg1(state: TrueState) -> Ray:
    """The beam after mirror 1."""
    return bounce(from_tube(state), _face1(state))


def _mirror1_place(layout: Layout) -> Vector:
    """Where mirror 1's centre belongs."""
    return (_mirror2_x(layout), layout.depth + layout.mirror1_gap, 0.0)


def _face1(state: TrueState) -> Plane:
    """Mirror 1's face as it lies; its point is the face's centre."""
    centre = add(_mirror1_place(state.layout), scale(X, state.mirror1_right))
    return _mirror(centre, unit((side_sign(state.layout.side), -1.0, 0.0)), state.mirror1)


def _face2(state: TrueState, y: float) -> Plane:
    """Mirror 2's face with the gantry at y mm; its point is the face's centre."""
    gantry = _gantry(state, y)
    fold_normal = gantry.along(unit((side_sign(state.layout.side), 1.0, 0.0)))
    return _mirror(gantry.at(right=state.mirror2_right), fold_normal, state.mirror2)


def leg2(state: TrueState, y: float) -> Ray:
    """The beam after mirror 2 with the gantry at y mm."""
    return bounce(leg1(state), _face2(state, y))


def off_mirror_centres(state: TrueState, y: float) -> tuple[float, float]:
    """How far from the centres of mirrors 1 and 2 the beam meets their faces, along the face, mm.

    Across the beam's way the face of a mirror of diameter D is (D/2)·cos 45° wide to either side, and D/2 high.
    """
    met1, met2 = leg1(state).origin, leg2(state, y).origin
    return norm(subtract(met1, _face1(state).point)), norm(subtract(met2, _face2(state, y).point))


def _mark(ray: Ray, centre: Vector, facing: Vector) -> tuple[float, float]:
    """(u, v) in mm of a ray on the tape over an opening, seen by someone looking along `facing`."""
    off = subtract(meet(ray, Plane(centre, facing)), centre)
    return dot(off, cross(facing, Z)), dot(off, Z)


def at_mirror1(state: TrueState) -> tuple[float, float]:
    """(u, v) in mm of the mark on mirror 1's own aperture, which faces the tube and is as far off as the mirror."""
    opening = add(_mirror1_place(state.layout), (state.mirror1_right, state.aperture1_back, state.aperture1_up))
    return _mark(from_tube(state), opening, (-side_sign(state.layout.side), 0.0, 0.0))


def at_mirror2(state: TrueState, y: float) -> tuple[float, float]:
    """(u, v) in mm of the mark on mirror 2's own aperture with the gantry at y mm."""
    gantry = _gantry(state, y)
    centre = gantry.at(right=state.mirror2_right + state.aperture2_right, up=state.aperture2_up)
    return _mark(leg1(state), centre, gantry.along((0.0, -1.0, 0.0)))


def _head(state: TrueState, gantry: _Frame, x: float) -> Vector:
    along = x - _mirror2_x(state.layout)
    return gantry.at(right=along, back=state.head_back, up=state.head_up)


def at_head(state: TrueState, x: float, y: float) -> tuple[float, float]:
    """(u, v) in mm of the mark on the head's aperture with the head at (x, y) mm."""
    gantry, sign = _gantry(state, y), side_sign(state.layout.side)
    return _mark(leg2(state, y), _head(state, gantry, x), gantry.along((sign, 0.0, 0.0)))


def below_head(state: TrueState, x: float, y: float, drop: float) -> tuple[float, float]:
    """Where the beam lands `drop` mm below mirror 3: (x, y) off the head's axis in mm, machine axes.

    Mirror 3 is taken to stand at the head's entrance, and no lens to be in.
    """
    gantry, sign = _gantry(state, y), side_sign(state.layout.side)
    centre = _head(state, gantry, x)
    fold_normal = gantry.along(unit((-sign, 0.0, -1.0)))
    down = bounce(leg2(state, y), _mirror(centre, fold_normal, state.mirror3))
    off = subtract(meet(down, Plane(add(centre, (0.0, 0.0, -drop)), Z)), centre)
    return dot(off, gantry.x), dot(off, gantry.y)
