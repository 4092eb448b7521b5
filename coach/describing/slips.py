"""Asks about an answer that can be but is unlikely, most of all one that would be usual in the other unit.

Nothing is swallowed and nothing is refused in silence: the person takes the correction, keeps what was typed where
it can be kept, or types it again.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

from coach.describing import head_answers, typed
from coach.describing.description import SIZES, Description
from coach.describing.moving import REACHES
from coach.describing.walking import taken
from coach.errors import InputError
from coach.shown import Unit, show_inches, show_millimetres
from coach.threads import MM_PER_INCH
from coach.units import parse_length

ACROSS = 0.25
"""Stations of one's own reach over at least this share of the travel (common practice)."""


@dataclass(frozen=True)
class Usual:
    """Sizes of a kind, as they are usual on machines for one person: mm, common practice."""

    what: str
    """How a sentence about one begins."""
    least: float
    most: float

    def has(self, mm: float) -> bool:
        """Whether that size is usual."""
        return self.least <= mm <= self.most


TRAVEL = Usual("A travel of {}", 150, 3000)
GAP = Usual("A gap of {}", 20, 800)
MIRROR = Usual("A mirror of {} across", 8, 80)
ARM = Usual("A mount with points {} apart", 10, 160)
PITCH = Usual("A screw's advance of {} in one turn", 0.2, 2)
USUAL = {
    "bed.width": TRAVEL,
    "bed.depth": TRAVEL,
    "path.mirror1_gap": GAP,
    "path.mirror2_gap": GAP,
    "path.mirror1": MIRROR,
    "path.mirror2": MIRROR,
    "aperture.head": Usual("An opening of {} across", 3, 60),
    "tape.radius": Usual("A tape that is read to {}", 3, 80),
    "tape.wide": Usual("A card that reaches {}", 12, 150),
    "tolerance": Usual("A tolerance of {}", 0.2, 6),
    **dict.fromkeys((*REACHES, head_answers.REACH), Usual("A part that can be moved by {}", 0.5, 25)),
    head_answers.FOCAL: Usual("A lens of {} focal length", 25, 200),
    head_answers.GAP: Usual("A focus {} below the nozzle", 1.5, 30),
    head_answers.HOLE: Usual("A nozzle's hole of {}", 0.8, 8),
    head_answers.HANGS: Usual("A lens {} below mirror 3", 15, 300),
}


@dataclass(frozen=True)
class Doubt:
    """What is asked about an answer, and what each answer to that makes of the description."""

    sentence: str
    kept: Description | None
    """As it was typed; None where that cannot be."""
    meant: Description | None
    """As it was probably meant, if something else is likelier."""
    meant_words: str = ""


@dataclass(frozen=True)
class _Answer:
    """An answer on its way: what it makes of the description is None where it cannot be as it was typed."""

    description: Description
    key: str
    text: str
    unit: Unit
    kept: Description | None = None

    def as_if(self, text: str, unit: Unit) -> Description:
        """What it would have made so.  Raises InputError."""
        return taken(self.description, self.key, text, unit)


def weighed(description: Description, key: str, text: str, unit: Unit) -> Description | Doubt:
    """The description with that answer, or what has to be asked before.  `unit` is that of lengths without one.

    Raises InputError with one sentence for what cannot be used, and could not in the other unit either.
    """
    answer = _Answer(description, key, text, unit)
    try:
        kept = answer.as_if(text, unit)
    except InputError:
        doubt = _doubt(answer)
        if doubt is None:
            raise
        return doubt
    if kept.answers == description.answers:
        return kept
    return _doubt(replace(answer, kept=kept)) or kept


def _doubt(of: _Answer) -> Doubt | None:
    last = of.key.rpartition(".")[2]
    try:
        if of.key in SIZES:
            return _about_size(of)
        if last in _AS_A_WHOLE:
            return _AS_A_WHOLE[last](of)
    except InputError:  # no number at all: the refusal says so
        pass
    return None


def _about_size(of: _Answer) -> Doubt | None:
    usual = USUAL.get(of.key, ARM)
    found = parse_length(of.text, of.unit)
    if found.mm <= 0 or usual.has(found.mm):
        return None
    inches, mm = found.mm / MM_PER_INCH, found.mm
    sentence = _sentence(usual, mm, found.unit)
    other = mm * MM_PER_INCH if found.unit == "mm" else inches  # the same number, read in the other unit
    if not usual.has(other):
        return Doubt(sentence, of.kept, None) if of.kept is not None else None
    meant = f"{typed.plain(round(mm, 6))} in" if found.unit == "mm" else f"{typed.plain(round(inches, 6))} mm"
    return _corrected(sentence, of.kept, of.as_if(meant, of.unit), found.unit, other)


def _about_points(of: _Answer) -> Doubt | None:
    def span(unit: Unit) -> float:
        places = [(point.x, point.y) for point in typed.points(of.text, unit)]
        return max(math.dist(one, two) for one, two in combinations(places, 2))

    return _read_otherwise(of, ARM, span)


def _about_screw(of: _Answer) -> Doubt | None:
    if of.text.strip()[:1].isalpha():
        return None  # a thread
    return _read_otherwise(of, PITCH, lambda unit: parse_length(of.text, unit).mm)


def _read_otherwise(of: _Answer, usual: Usual, measure: Callable[[Unit], float]) -> Doubt | None:
    """Asks where the same text, its lengths read in the other unit, would be usual."""
    one, other = measure(of.unit), measure(_other(of.unit))
    if one <= 0 or usual.has(one) or not usual.has(other):
        return None
    meant = of.as_if(of.text, _other(of.unit))
    return _corrected(_sentence(usual, one, of.unit), of.kept, meant, of.unit, other)


def _about_places(of: _Answer) -> Doubt | None:
    """Stations in a small corner of the travel, or outside of it, that would reach over it in the other unit."""
    sizes = (of.description.length("bed.width"), of.description.length("bed.depth"))
    travel = [size for size in sizes if size is not None]
    if len(travel) < 2 or _reaches(of.text, of.unit, travel) or not _reaches(of.text, _other(of.unit), travel):
        return None
    where = "close together" if _inside(of.text, of.unit, travel) else "outside the travel"
    words = f"all of it in {'inches' if of.unit == 'mm' else 'mm'}"
    meant = of.as_if(of.text, _other(of.unit))
    return Doubt(f"These places lie {where}. Did you mean {words}?", of.kept, meant, words)


def _axes(text: str, unit: Unit) -> tuple[list[float], list[float]]:
    stations = typed.stations(text, unit)
    return [station.x for station in stations], [station.y for station in stations]


def _inside(text: str, unit: Unit, travel: Sequence[float]) -> bool:
    try:
        axes = _axes(text, unit)
    except InputError:  # farther away than anything
        return False
    return all(min(axis) >= 0 and max(axis) <= far for axis, far in zip(axes, travel, strict=True))


def _reaches(text: str, unit: Unit, travel: Sequence[float]) -> bool:
    if not _inside(text, unit, travel):
        return False
    return all(max(axis) - min(axis) >= ACROSS * far for axis, far in zip(_axes(text, unit), travel, strict=True))


_AS_A_WHOLE = {"own": _about_points, "screw": _about_screw, "places": _about_places}


def _other(unit: Unit) -> Unit:
    return "in" if unit == "mm" else "mm"


def _sentence(usual: Usual, mm: float, unit: Unit) -> str:
    size = show_millimetres(mm, 2) if unit == "mm" else show_inches(mm)
    return f"{usual.what.format(size)} is unusually {'small' if mm < usual.least else 'large'}."


def _corrected(sentence: str, kept: Description | None, meant: Description, unit: Unit, mm: float) -> Doubt:
    """The question with the other unit's size, in mm."""
    size = show_millimetres(mm)
    words = f"{show_inches(mm)}, that is {size}" if unit == "mm" else size
    return Doubt(f"{sentence} Did you mean {'inches' if unit == 'mm' else 'mm'}: {words}?", kept, meant, words)
