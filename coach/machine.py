"""The machine's profile: what a person can read off it with a ruler, in the shape of its TOML file.

Lengths are in mm, screw turns in turns with clockwise positive.  The frames are those of docs/model.md:
X to the right, Y to the back, (0, 0) at the front-left corner of travel; a mount's points as seen by
someone facing the screw heads.
"""

from datetime import date
from pathlib import Path
from typing import Annotated, Any, Literal, Self

from pydantic import AfterValidator, BaseModel, ConfigDict, Field, model_validator

from coach import files
from coach.errors import UnknownName
from coach.threads import pitch_of_thread

Side = Literal["left", "right"]
Drive = Literal["push", "pull", "unknown"]
Target = Literal["head", "mirror 2"]

STATION_INSET = 20.0
"""How far inside the travel the default stations lie, in mm."""


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


class _Part(BaseModel):
    """Frozen, and strict about its keys: a misspelt key is an error, not a default."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class Bed(_Part):
    """The head's travel."""

    width: Length
    """Travel along X, mm."""
    depth: Length
    """Travel along Y, mm."""


class BeamPath(_Part):
    """Where mirrors 1 and 2 stand and how long the fixed parts of the legs are."""

    side: Side
    """The side on which mirrors 1 and 2 stand, seen from the front."""
    mirror1_gap: Gap
    """Mirror 1 to mirror 2 with the gantry at the very back (y = depth), mm."""
    mirror2_gap: Gap
    """Mirror 2 to the head's entrance with the head at mirror 2's end of its travel, mm."""


class Aperture(_Part):
    """The round opening that the tape covers."""

    head: Length
    """Diameter at the head's entrance, mm.  Entry below 3 or above 60 is questioned in `coach.reading`."""


class Tape(_Part):
    """How far out a mark can still be read."""

    radius: Length
    """At the head: from the aperture's centre, mm."""
    mirror2_radius: Length = 25.0
    """At mirror 2, where a wide piece of tape is used for a first search, mm."""

    def readable(self, target: Target) -> float:
        """How far from that opening's centre a mark can still be read, mm."""
        return self.radius if target == "head" else self.mirror2_radius


class Point(_Part):
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


class Learned(_Part):
    """What retests taught about a mount: the beam's answer to one turn of each screw.

    Per screw three numbers: u and v of the beam's slope in mrad per turn, and the sideways shift of
    the beam in mm per turn.  `mean` and `cov` are flattened in the order of the mount's screws.
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


class Mount(_Part):
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
        if self.learned is not None and len(self.learned.mean) != 3 * len(self.screws):
            raise ValueError("'learned' does not fit this mount's number of screws; remove it")
        return self

    @property
    def screws(self) -> tuple[Point, ...]:
        """The points that can be turned, in the order of the profile."""
        return tuple(point for point in self.points if point.kind == "screw")


class Station(_Part):
    """A head position where a mark is made."""

    name: Name
    x: Finite
    y: Finite


def default_stations(bed: Bed) -> tuple[Station, ...]:
    """Four corners and the middle, `STATION_INSET` inside the travel (a quarter of it on tiny beds)."""
    inset_x = min(STATION_INSET, bed.width / 4)
    inset_y = min(STATION_INSET, bed.depth / 4)
    left, right = inset_x, bed.width - inset_x
    front, back = inset_y, bed.depth - inset_y
    return (
        Station(name="back-left", x=left, y=back),
        Station(name="back-right", x=right, y=back),
        Station(name="middle", x=bed.width / 2, y=bed.depth / 2),
        Station(name="front-right", x=right, y=front),
        Station(name="front-left", x=left, y=front),
    )


class Machine(_Part):
    """One machine's profile.  `Machine.model_validate(dict)` and its TOML file have the same shape."""

    name: Name
    bed: Bed
    path: BeamPath
    aperture: Aperture
    tape: Tape
    tolerance: Annotated[float, Field(gt=0, le=20, allow_inf_nan=False)]
    """Every station's offset should be no larger than this, mm."""
    mounts: tuple[Mount, ...]
    stations: tuple[Station, ...] = ()
    """At least three, not on one line; left out, four corners and the middle."""
    guessed: tuple[str, ...] = ()
    """Dotted names of the values that nobody measured, for example "path.mirror1_gap"."""

    @model_validator(mode="after")
    def _whole(self) -> Self:
        mirrors = [mount.mirror for mount in self.mounts]
        if len(set(mirrors)) != len(mirrors):
            raise ValueError("each mirror can have only one mount")
        if not self.stations:
            object.__setattr__(self, "stations", default_stations(self.bed))
        self._check_stations()
        return self

    def _check_stations(self) -> None:
        if len({station.name for station in self.stations}) != len(self.stations):
            raise ValueError("every station needs a name of its own")
        for station in self.stations:
            if not (0 <= station.x <= self.bed.width and 0 <= station.y <= self.bed.depth):
                raise ValueError(
                    f"station {station.name!r} at ({station.x:g}, {station.y:g}) lies outside the travel of "
                    f"{self.bed.width:g} × {self.bed.depth:g} mm"
                )
        first = self.stations[0]
        spans = [(s.x - first.x, s.y - first.y) for s in self.stations[1:]]
        area = max((abs(p[0] * q[1] - p[1] * q[0]) for p in spans for q in spans), default=0.0)
        if len(self.stations) < 3 or area < 0.01 * self.bed.width * self.bed.depth:
            raise ValueError("at least three stations are needed, not on one line")

    def station(self, name: str) -> Station:
        """The station of that name.  Raises UnknownName."""
        for station in self.stations:
            if station.name == name:
                return station
        names = ", ".join(s.name for s in self.stations)
        raise UnknownName(f"There is no station {name!r}", expected=f"one of: {names}")

    def mount(self, mirror: int) -> Mount:
        """The mount of that mirror.  Raises UnknownName."""
        for mount in self.mounts:
            if mount.mirror == mirror:
                return mount
        have = ", ".join(str(m.mirror) for m in self.mounts) or "none"
        raise UnknownName(f"Mirror {mirror!r} has no mount in this machine's profile", expected=f"one of: {have}")

    @classmethod
    def load(cls, path: Path | str) -> Self:
        """Read a profile from its TOML file.  Raises Unreadable with the line and the reason."""
        return files.load_model(cls, Path(path))

    def save(self, path: Path | str) -> None:
        """Write the profile as TOML, atomically.  Raises Unwritable."""
        files.write_toml(Path(path), self.to_table())

    def to_table(self) -> dict[str, Any]:
        """The profile as plain TOML-ready values, without what is only a default."""
        table = self.model_dump(mode="json", exclude_none=True)
        for mount in table["mounts"]:
            if "thread" in mount:
                del mount["pitch"]
        if self.stations == default_stations(self.bed):
            del table["stations"]
        if not self.guessed:
            del table["guessed"]
        return table
