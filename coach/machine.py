"""The machine's profile: what a person can read off it with a ruler, in the shape of its TOML file.

Lengths are in mm, screw turns in turns with clockwise positive.  The frames are those of docs/model.md:
X to the right, Y to the back, (0, 0) at the front-left corner of travel; a mount's points as seen by
someone facing the screw heads.
"""

from pathlib import Path
from typing import Annotated, Any, Literal, Self

from pydantic import Field, model_validator

from coach import files
from coach.errors import UnknownName
from coach.frame import Frame, Zero
from coach.lens import Lens
from coach.mount import Drive, Finite, Gap, Learned, Length, Mount, Name, Point, ProfilePart
from coach.parts import Direction, Part, PartMove

__all__ = [
    "Aperture",
    "BeamPath",
    "Bed",
    "Drive",
    "Finite",
    "Gap",
    "Learned",
    "Length",
    "Lens",
    "Machine",
    "Mount",
    "Name",
    "Point",
    "Pulse",
    "Side",
    "Station",
    "Tape",
    "Target",
]

Side = Literal["left", "right"]
Target = Literal["head", "mirror 2", "mirror 1"]
"""Whose opening carries the tape."""

SHORTEST_PULSE = 2.0
"""ms; a number below it was probably meant in seconds: no supply of a CO2 tube fires so briefly (common practice)."""
LONGEST_PULSE = 500.0
"""ms; longer than this nobody pulses on tape."""
STATION_INSET = 20.0
"""How far inside the travel the default stations lie, in mm."""


class Bed(ProfilePart):
    """The head's travel."""

    width: Length
    """Travel along X, mm."""
    depth: Length
    """Travel along Y, mm."""


class BeamPath(ProfilePart):
    """Where mirrors 1 and 2 stand and how long the fixed parts of the legs are."""

    side: Side
    """The side on which mirrors 1 and 2 stand, seen from the front."""
    mirror1_gap: Gap
    """Mirror 1 to mirror 2 with the gantry at the very back (y = depth), mm."""
    mirror2_gap: Gap
    """Mirror 2 to the head's entrance with the head at mirror 2's end of its travel, mm."""
    mirror1: Length = 25.0
    """Diameter of mirror 1, mm."""
    mirror2: Length = 25.0
    """Diameter of mirror 2, mm."""

    def diameter(self, mirror: int) -> float:
        """Diameter of mirror 1 or 2, mm."""
        return self.mirror1 if mirror == 1 else self.mirror2

    def measured(self, mirror: int, guessed: tuple[str, ...]) -> bool:
        """Whether somebody measured that diameter: it was said, and not as a guess."""
        name = f"mirror{mirror}"
        return name in self.model_fields_set and f"path.{name}" not in guessed


class Aperture(ProfilePart):
    """The round opening that the tape covers."""

    head: Length
    """Diameter at the head's entrance, mm.  An unusual one is questioned in `coach.describing`."""


class Tape(ProfilePart):
    """How far out a mark can still be read."""

    radius: Length
    """At the head: from the aperture's centre, mm."""
    mirror2_radius: Length = 25.0
    """At the own openings of mirrors 1 and 2, where the tape may be wider than the head's, mm."""
    wide: Length = 30.0
    """On a wide card in front of an opening, mm."""

    def readable(self, target: Target, wide: bool = False) -> float:
        """How far from that opening's centre a mark can still be read, mm."""
        if wide:
            return self.wide
        return self.radius if target == "head" else self.mirror2_radius


class Pulse(ProfilePart):
    """What is known of the machine's pulses; what is left out is not known."""

    timed: bool | None = None
    """True: the controller times a pulse; False: it lasts as long as the button is held."""
    percent: bool | None = None
    """Whether the power is set in per cent; False: by a knob without a scale, or by the tube's current."""
    ms: Annotated[float, Field(gt=0, le=LONGEST_PULSE, allow_inf_nan=False)] | None = None
    """The pulse to begin with, ms, where its owner knows which marks lightly."""
    power: Annotated[float, Field(gt=0, le=100, allow_inf_nan=False)] | None = None
    """The power to begin with, per cent, likewise."""


class Station(ProfilePart):
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


class Machine(ProfilePart):
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
    pulse: Pulse = Pulse()
    lens: Lens | None = None
    """None: nobody described it, and a usual one stands in where it matters."""
    mirror3: Literal["fixed"] | None = None
    """"fixed": it has no screws that one can reach; None: its mount stands in `mounts`, or nobody knows."""
    moves: tuple[PartMove, ...] = ()
    """Which parts can be moved, and how far; of a part that is not named nobody knows."""
    zero: Zero = "front-left"
    """The corner of travel from which the controller's display counts; this file counts from the front left."""

    @model_validator(mode="after")
    def _whole(self) -> Self:
        mirrors = [mount.mirror for mount in self.mounts]
        if len(set(mirrors)) != len(mirrors):
            raise ValueError("each mirror can have only one mount")
        parts = [move.part for move in self.moves]
        if len(set(parts)) != len(parts):
            raise ValueError("in 'moves' each part can be named only once")
        if self.mirror3 == "fixed" and 3 in mirrors:
            raise ValueError("'mirror3' says that mirror 3 is fixed, but 'mounts' has its screws; remove one of them")
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

    @property
    def frame(self) -> Frame:
        """From the places in this profile to the numbers on the controller's display."""
        return Frame(self.zero, self.bed.width, self.bed.depth)

    def reach(self, part: Part, direction: Direction) -> float | None:
        """How far a part can be moved each way, mm: 0 where it cannot, None where nobody knows."""
        return next((move.reach(direction) for move in self.moves if move.part == part), None)

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
        for mirror in ("mirror1", "mirror2"):
            if mirror not in self.path.model_fields_set:
                del table["path"][mirror]  # nobody said it: written down it would look as if it had been measured
        for mount in table["mounts"]:
            if "thread" in mount:
                del mount["pitch"]
        if self.stations == default_stations(self.bed):
            del table["stations"]
        if "zero" not in self.model_fields_set:
            del table["zero"]
        if self.lens is not None:
            table["lens"] = self.lens.model_dump(mode="json", exclude_unset=True, exclude_none=True)
        for key in ("guessed", "moves", "pulse"):
            if not table[key]:
                del table[key]
        return table
