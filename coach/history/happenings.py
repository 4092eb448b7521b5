"""What happened to a machine at and between its visits, and which of its parts that touched."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Literal

from coach.session.events import Disturbed, Event, Lock, Mended, Shift, Turn
from coach.session.visit_events import Answer, Care
from coach.triage.questions import standing
from coach.upkeep.entries import Done, counting
from coach.upkeep.log import MachineLog

Part = Literal["mirror 1", "mirror 2", "centre", "opening", "power"]
PARTS: tuple[Part, ...] = ("mirror 1", "mirror 2", "centre", "opening")
"""In the order of `coach.history.beam.TO_PARTS`; the opening is mirror 2's own, which is not asked whether it drifts;
"power" is what the cuts say."""
Kind = Literal["bumped", "moved", "out", "changed", "cleaned", "mended", "nuts", "turned"]

STEERS: dict[str, tuple[Part, ...]] = {
    "machine": PARTS,
    "tube": ("mirror 1", "centre", "opening"),
    "mirror": PARTS,
    "mirror 1": ("mirror 1", "centre", "opening"),
    "mirror 2": ("mirror 2", "centre", "opening"),
    "mirror 3": (),
    "head": ("centre",),
    "lens": (),
    "combiner": ("mirror 1", "centre", "opening"),
    "optics": (),
    "lock nuts": (),
}
"""What stands elsewhere, as seen at the head's opening, once that was touched."""
CUTS: frozenset[str] = frozenset(("tube", "mirror", "mirror 1", "mirror 2", "mirror 3", "lens", "combiner", "optics"))
"""What changes how fast it cuts once it was changed or cleaned."""
ANEW: frozenset[Kind] = frozenset(("changed", "mended"))
"""After these a part has no past: what it drifted before says nothing of what it will."""


@dataclass(frozen=True)
class Happening:
    """Something that was done to a machine, or befell it."""

    kind: Kind
    what: str
    """"tube", "mirror 2", "machine", "optics", …"""
    on: date
    before_marks: bool
    """Whether it was before what that visit found; else it was in the visit, after that."""

    @property
    def steps(self) -> tuple[Part, ...]:
        """What may stand elsewhere since, whatever drifts."""
        power: tuple[Part, ...] = (
            ("power",) if self.kind in ("changed", "cleaned", "out") and self.what in CUTS else ()
        )
        return (*(STEERS[self.what] if self.kind != "cleaned" else ()), *power)

    @property
    def begins(self) -> tuple[Part, ...]:
        """Whose past ends here: a new tube steers the beam otherwise, but the mounts behind it go on as before."""
        if self.kind not in ANEW:
            return ()
        return tuple(part for part in self.steps if part == "power" or self.what != "tube")


def of_session(events: Sequence[Event], found_at: int | None) -> tuple[Happening, ...]:
    """What a session's counting events say happened; `found_at`: the index at which what it found was complete."""
    known: list[Happening] = []
    for index, event in enumerate(events):
        before = found_at is None or index < found_at
        known += [Happening(kind, what, _day(event.at), before) for kind, what in _in_event(event, before)]
    answered = [event for event in events if isinstance(event, Answer)]
    stand = standing(tuple((event.question, event.answer) for event in answered))
    if answered:
        on = _day(answered[-1].at)
        moved: dict[str, Kind] = {"moved": "moved", "bumped": "bumped"}
        known += [Happening(moved[a], "machine", on, True) for a in stand.get("moved", ()) if a in moved]
        known += [Happening("changed", a, on, True) for a in stand.get("changed", ()) if a in STEERS]
    return tuple(dict.fromkeys(known))


def _in_event(event: Event, before: bool) -> Iterable[tuple[Kind, str]]:
    match event:
        case Disturbed():
            yield "bumped", event.part
        case Care(taken_out=True):
            yield "out", event.optic
        case Care(result="clean" | "haze"):
            yield "cleaned", "optics"
        case Mended(cause="loose"):
            yield "mended", "mirror 2"
        case Mended(cause="station" | "edge" | "yaw"):
            yield "mended", "machine"
        case Turn() if before and event.mirror in (1, 2):
            yield "turned", f"mirror {event.mirror}"
        case Shift() if before and event.part in STEERS:
            yield "moved", event.part
        case Lock() if before and event.mirror in (1, 2):
            yield "turned", f"mirror {event.mirror}"


def of_log(log: MachineLog | None) -> tuple[Happening, ...]:
    """What the machine's log says was cleaned, and of its lock nuts."""
    done = [entry for entry in counting(log.events) if isinstance(entry, Done)] if log is not None else []
    kinds: dict[str, Kind] = {"optics": "cleaned", "lock nuts": "nuts"}
    return tuple(Happening(kinds[e.item], e.item, e.on, True) for e in done if e.item in kinds)


def _day(at: datetime) -> date:
    return at.astimezone().date()
