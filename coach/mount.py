"""A mirror's mount as a profile describes it: three points, their screws, and what sessions taught about it.

Lengths are in mm; a mount's points as seen by someone facing the screw heads.
"""

import math
from collections.abc import Mapping
from datetime import date
from numbers import Real
from typing import Annotated, Any, Literal, Self

from pydantic import AfterValidator, BaseModel, ConfigDict, Field, model_validator

from coach.errors import InputError, OutOfReach, UnknownName
from coach.threads import pitch_of_thread
from coach.units import MOST_TURNS_AT_ONCE

Drive = Literal["push", "pull", "unknown"]


def _plain_name(name: str) -> str:
    stripped = name.strip()
    if not stripped or not stripped.isprintable():
        raise ValueError("a name needs at least one visible character and no line breaks")
    return stripped


def _iso_date(text: str) -> str:
    try:
        return date.fromisoformat(text).isoformat()
    except ValueError:
        raise ValueError("this is no date; write it as 2026-03-01") from None


Name = Annotated[str, Field(max_length=60), AfterValidator(_plain_name)]
Finite = Annotated[float, Field(ge=-1e6, le=1e6, allow_inf_nan=False)]
"""A number that can be: nothing here is larger than a million of its unit, and beyond it arithmetic overflows."""
Length = Annotated[float, Field(gt=0, le=10_000, allow_inf_nan=False)]
"""A size in mm: more than zero, at most ten metres."""
Gap = Annotated[float, Field(ge=0, le=10_000, allow_inf_nan=False)]


class ProfilePart(BaseModel):
    """Frozen, and strict about its keys: a misspelt key is an error, not a default."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class Point(ProfilePart):
    """One of the three points that carry a mirror's plate."""

    name: Name
    x: Finite
    """To the right of the mirror's centre, mm, as seen by someone facing the screw heads."""
    y: Finite
    """Above the mirror's centre, mm, as seen by someone facing the screw heads."""
    kind: Literal["pivot", "screw"]


def _is_covariance(rows: tuple[tuple[float, ...], ...]) -> bool:
    """Symmetric and without a negative direction, but for rounding."""
    import numpy as np  # only profiles with lessons need it

    matrix = np.array(rows)
    largest = float(np.abs(matrix).max())
    even = bool(np.allclose(matrix, matrix.T, atol=1e-5 * largest))
    return even and float(np.linalg.eigvalsh(matrix)[0]) >= -1e-4 * largest


class Learned(ProfilePart):
    """What retests taught about a mount: the beam's answer to one turn of each screw.

    Per screw of mirrors 1 and 2 three numbers: u and v of the beam's slope in mrad per turn, and the
    sideways shift of the beam in mm per turn.  Per screw of mirror 3 four: x and y of the slope of the
    beam below it in mrad per turn, and of its place at the lens in mm per turn, machine axes.  `mean`
    and `cov` are flattened in the order of the mount's screws.
    """

    on: Annotated[str, AfterValidator(_iso_date)]
    """Date, ISO 8601."""
    push: Annotated[float, Field(ge=0, le=1)]
    """Probability that a clockwise turn pushes the plate."""
    mean: tuple[Finite, ...]
    cov: tuple[tuple[Finite, ...], ...]

    @model_validator(mode="after")
    def _square(self) -> Self:
        if any(len(row) != len(self.mean) for row in self.cov) or len(self.cov) != len(self.mean):
            raise ValueError("'cov' must have one row and one column for each number in 'mean'")
        if self.cov and not _is_covariance(self.cov):
            raise ValueError("'cov' is no covariance (symmetric, never negative); remove 'learned'")
        return self


class Mount(ProfilePart):
    """The plate that holds a mirror, on three points."""

    mirror: Literal[1, 2, 3]
    pitch: Annotated[float, Field(gt=0, le=5, allow_inf_nan=False)] = 0.0
    """Advance of a screw per turn, mm; may be given as `thread` instead."""
    thread: str | None = None
    drive: Drive
    """Where a clockwise turn moves the plate: "push" is away from someone facing the screw heads."""
    points: tuple[Point, Point, Point]
    learned: Learned | None = None

    @model_validator(mode="before")
    @classmethod
    def _pitch_from_thread(cls, data: Any) -> Any:
        if not isinstance(data, dict):
            return data
        thread, pitch = data.get("thread"), data.get("pitch")
        if thread is None and pitch is None:
            raise ValueError("a mount needs its screws' 'pitch' in mm or their 'thread', for example \"M4\"")
        if thread is not None:
            by_name = pitch_of_thread(str(thread))
            if pitch is not None and abs(float(pitch) - by_name) > 1e-3:
                raise ValueError(f"thread {thread} has a pitch of {by_name:g} mm, but 'pitch' says {pitch} mm")
            data = {**data, "pitch": by_name}
        return data

    @model_validator(mode="after")
    def _three_points_make_a_plane(self) -> Self:
        if len({point.name for point in self.points}) != 3:
            raise ValueError("the three points need three different names")
        if not self.screws:
            raise ValueError("at least one of the three points must be a screw")
        a, b, c = self.points
        twice_area = abs((b.x - a.x) * (c.y - a.y) - (c.x - a.x) * (b.y - a.y))
        longest = max(
            (p.x - q.x) ** 2 + (p.y - q.y) ** 2 for p, q in ((a, b), (b, c), (c, a))
        )  # squared length of the longest side
        if longest == 0 or twice_area < 0.05 * longest:
            raise ValueError("the three points lie on one line (or nearly); a plate needs a triangle of points")
        if self.learned is not None and len(self.learned.mean) not in self._lesson_sizes():
            raise ValueError("'learned' does not fit this mount's number of screws; remove it")
        return self

    def _lesson_sizes(self) -> tuple[int, ...]:
        """How many numbers a lesson may have; an older file's of mirror 3, which nobody used, is let be."""
        return tuple(per_screw * len(self.screws) for per_screw in ((3, 4) if self.mirror == 3 else (3,)))

    @property
    def screws(self) -> tuple[Point, ...]:
        """The points that can be turned, in the order of the profile."""
        return tuple(point for point in self.points if point.kind == "screw")


def checked_screws(mount: Mount, screws: Mapping[str, float]) -> dict[str, float]:
    """Screws of one mount with their turns, clockwise positive.  Raises UnknownName, InputError or OutOfReach."""
    known = [screw.name for screw in mount.screws]
    pivots = {point.name for point in mount.points if point.kind == "pivot"}
    for name in screws:
        if name in pivots:
            raise InputError(
                f"Point {name} of mirror {mount.mirror} is the fixed pivot and cannot be turned",
                expected="one of the screws: " + ", ".join(known),
            )
        if name not in known:
            raise UnknownName(f"Mirror {mount.mirror} has no screw {name!r}", expected="one of: " + ", ".join(known))
    return {name: checked_turn(amount) for name, amount in screws.items()}


def checked_turn(amount: float) -> float:
    """A screw's turn in turns, clockwise positive.  Raises InputError or OutOfReach."""
    numeric = isinstance(amount, Real) and not isinstance(amount, bool)
    if not numeric or not math.isfinite(amount):
        raise InputError(
            f"{amount!r} is not a number of turns", expected="turns, clockwise positive", example="-0.125"
        )
    if abs(amount) > MOST_TURNS_AT_ONCE:
        raise OutOfReach(
            f"{amount:g} turns is more than one turn at once",
            expected="at most one turn, then a test mark",
            example="0.25",
        )
    return float(amount)
