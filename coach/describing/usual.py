"""What stands in for whatever nobody measured: what a machine of this size often has (common practice)."""

from coach.machine import Point

USUAL = {
    "path.mirror1_gap": 150.0,
    "path.mirror2_gap": 120.0,
    "aperture.head": 18.0,
    "path.mirror1": 25.0,
    "path.mirror2": 25.0,
    "tape.wide": 30.0,
    "tolerance": 1.0,
    "arm": 40.0,
    "lens.focal": 50.8,
    "lens.nozzle_distance": 8.0,
    "lens.nozzle": 2.5,
}
"""mm, by question; `arm` for the distance between a mount's points."""
BEYOND_RIM = 2.0
"""mm beyond the opening's rim to which a mark is still read on the tape."""
UNKNOWN = "unknown"
"""The answer of somebody who looked and cannot tell."""
NAME = "My laser"
THREAD = "M4"
SHAPE, CORNER = "l", "lower left"
CORNERS = {"lower left": (-1, -1), "lower right": (1, -1), "upper left": (-1, 1), "upper right": (1, 1)}
"""Where the corner of an L lies, as seen by someone facing the screw heads: signs of x and y."""
CORNERED = ("l", "l3", "centre")
"""Shapes whose corner can lie in four places."""
ROOT3 = 3.0**0.5


def shape_points(shape: str, corner: str, arm: float) -> tuple[Point, Point, Point]:
    """The three points of a usual mount; `arm` is the distance from A to B in mm, facing the screw heads.

    "l": a pivot in the corner of an L, a screw at either end; "l3": three screws, likewise; "centre": a pivot
    behind the mirror's centre and two screws; "up" and "down": three screws in a triangle, one on top or below.
    """
    right, up = CORNERS[corner]
    half = arm / 2
    if shape == "centre":
        places = ((0.0, 0.0), (-right * arm, 0.0), (0.0, -up * arm))
    elif shape in ("up", "down"):
        way = 1.0 if shape == "up" else -1.0
        away, level = arm / ROOT3, way * arm / (2 * ROOT3)
        places = ((-half, -level), (half, -level), (0.0, way * away))
    else:
        places = ((right * half, up * half), (-right * half, up * half), (right * half, -up * half))
    first, second, third = (
        Point(name=name, x=0.0 + x, y=0.0 + y, kind="pivot" if name == "A" and shape in ("l", "centre") else "screw")
        for name, (x, y) in zip("ABC", places, strict=True)
    )
    return first, second, third
