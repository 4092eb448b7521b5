"""What was answered so far about one machine: frozen, from nothing to everything."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace

from pydantic import ValidationError

from coach import files
from coach.describing import head_answers, pulsing, typed
from coach.describing.moving import CAN, NO, REACHES, YES
from coach.describing.usual import CORNERED, CORNERS, UNKNOWN
from coach.errors import InputError, UnknownName
from coach.frame import ZEROS, Frame
from coach.machine import Machine, Mount
from coach.parts import FARTHEST_MOVE
from coach.threads import pitch_of_thread
from coach.units import Unit, parse_length

MIRRORS = (1, 2, 3)
SIZES = {
    "bed.width": "the travel's width",
    "bed.depth": "the travel's depth",
    "path.mirror1_gap": "mirror 1's gap",
    "path.mirror2_gap": "mirror 2's gap",
    "path.mirror1": "mirror 1's diameter",
    "path.mirror2": "mirror 2's diameter",
    "aperture.head": "the opening's diameter",
    "tape.radius": "the tape's radius",
    "tape.wide": "the wide card's radius",
    "tolerance": "the tolerance",
    **{f"mounts.{mirror}.arm": "the distance from A to B" for mirror in MIRRORS},
    **{key: f"how far the {part} can be moved {way}" for key, (part, way) in REACHES.items()},
    **head_answers.LENGTHS,
}
"""Questions that are answered by a length, and what it is called."""
MAY_BE_NOTHING = ("path.mirror1_gap", "path.mirror2_gap", *REACHES, head_answers.REACH)
LARGEST = {"tolerance": 20.0, **dict.fromkeys(REACHES, FARTHEST_MOVE), **head_answers.LARGEST}
"""mm, where less than any machine's size is the most."""
SAME, OWN, OTHER, BEFORE, USUAL_STATIONS = "same", "own", "other", "before", "usual"
"""Answers to closed questions: as at mirror 1; points, stations of one's own; another screw; as it was before."""
PLACES = "stations.places"
SHAPES = (*CORNERED, "up", "down", OWN, BEFORE)
CLOSED: dict[str, tuple[str, ...]] = {
    "path.side": ("left", "right"),
    "zero": ZEROS,
    "stations": (USUAL_STATIONS, OWN, BEFORE),
    **{f"mounts.{mirror}.shape": SHAPES if mirror == 1 else (SAME, *SHAPES) for mirror in MIRRORS},
    **{f"mounts.{mirror}.corner": tuple(CORNERS) for mirror in MIRRORS},
    **{f"mounts.{mirror}.drive": ("push", "pull", UNKNOWN) for mirror in MIRRORS},
    **dict.fromkeys(CAN, (NO, YES, UNKNOWN)),
    **pulsing.CLOSED,
    **head_answers.CLOSED,
}


@dataclass(frozen=True)
class Description:
    """Answers by question, as they are kept (`coach.describing.typed`); `before` is the profile being changed."""

    answers: Mapping[str, str] = field(default_factory=dict)
    before: Machine | None = None
    head_alone: bool = False
    """Whether only mirror 3, lens and nozzle are asked about."""

    def answered(self, key: str, text: str, unit: Unit = "mm") -> "Description":
        """With one more answer, as typed; `unit` is that of lengths typed without one.

        Raises InputError with one sentence where the answer cannot be used.
        """
        answers = {**self.answers, key: _kept(key, text, unit)}
        if key == "zero" and "zero" not in self.answers and {PLACES, "bed.width", "bed.depth"} <= set(answers):
            answers[PLACES] = self._places_counted(answers[key])
        return replace(self, answers=answers)

    def frame(self) -> Frame:
        """How the controller counts, as far as it is known: the places of one's own are typed so."""
        zero = next((zero for zero in ZEROS if zero == self.answers.get("zero")), ZEROS[0])
        return Frame(zero, self.length("bed.width") or 0.0, self.length("bed.depth") or 0.0)

    def _places_counted(self, zero: str) -> str:
        """Places that stood before anybody said how the controller counts: they stay where they are on the bed."""
        frame = replace(self, answers={**self.answers, "zero": zero}).frame()
        return typed.stations_kept(typed.counted(typed.stations(self.answers[PLACES]), frame))

    def unanswered(self, key: str) -> "Description":
        """Without that answer: it is guessed."""
        return replace(self, answers={name: text for name, text in self.answers.items() if name != key})

    def length(self, key: str) -> float | None:
        """An answered size in mm; None where there is no answer."""
        text = self.answers.get(key)
        return None if text is None else parse_length(text).mm

    def like_first(self, mirror: int) -> bool:
        """Whether that mirror's mount was said to be like mirror 1's."""
        return self.answers.get(f"mounts.{mirror}.shape") == SAME


def _kept(key: str, text: str, unit: Unit) -> str:
    """The answer as it is kept.  Raises InputError."""
    if key in SIZES:
        nothing, largest = key in MAY_BE_NOTHING, LARGEST.get(key, typed.LARGEST)
        return typed.kept(typed.size(text, unit, SIZES[key], may_be_nothing=nothing, largest=largest))
    if key in CLOSED:
        if text not in CLOSED[key]:
            raise UnknownName(f"{text!r} is no answer here", expected="one of: " + ", ".join(CLOSED[key]))
        return text
    found = _READERS[key.rpartition(".")[2]](text, unit)
    if key.endswith(".own"):
        _check_plane(key, found)
    return found


def _check_plane(key: str, points: str) -> None:
    """What a profile would refuse about three points, said at once.  Raises InputError."""
    try:
        Mount(mirror=1, pitch=1.0, drive="unknown", points=typed.points(points))
    except ValidationError as error:
        reason = files.reason(error.errors()[0])
        mirror = key.split(".")[1]
        raise InputError(f"This mount cannot be: mirror {mirror}: {reason}", example=typed.POINTS_EXAMPLE) from None


def _screw(text: str, unit: Unit) -> str:
    entry = typed.screw(text, unit)
    return text.strip() if "thread" in entry else typed.plain(float(entry["pitch"]))


def _thread(text: str, unit: Unit) -> str:
    if text != OTHER:
        pitch_of_thread(text)
    return text


_READERS: dict[str, Callable[[str, Unit], str]] = {
    "name": lambda text, _: typed.name(text),
    "own": lambda text, unit: typed.points_kept(typed.points(text, unit)),
    "places": lambda text, unit: typed.stations_kept(typed.stations(text, unit)),
    "thread": _thread,
    "screw": _screw,
    "ms": lambda text, _: pulsing.kept(pulsing.MS, text),
    "power": lambda text, _: pulsing.kept(pulsing.POWER, text),
}
