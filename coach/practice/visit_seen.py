"""What somebody sees of a rehearsed visit's machine where a step asks them to look: in words, and in figures.

The words stand beside the step; who practises picks or types what they say.
"""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field

from coach.practice.visit_answers import remembered
from coach.practice.visit_bench import VisitBench, fell_through
from coach.practice.visit_kinds import Wrong
from coach.shown import Wording
from coach.steps.cut_deeds import OPEN
from coach.triage.causes import CheckName
from coach.triage.cleaned import Optic
from coach.triage.figures import CORNERS, RAMP

LEAD = "The bench: "
GAP, ALONG, WATER, CURRENT = 0.06, 1.0, 0.3, 0.25
"""rms to which a gap (mm), a place on the ramp board (mm), a temperature (°C), a current (mA) are read."""

USUAL_SPEED = 20.0
"""mm/s at which the owner cuts their sheet."""
ON_MARK = 0.15
"""mm beside the mark that nobody sees."""
HOURS, TIRED_HOURS = 650.0, 3400.0
"""What the counter of a tube shows."""


@dataclass(frozen=True)
class Seen:
    """What the bench shows at one step."""

    words: str
    """One sentence or two, beginning after "The bench: "."""
    figures: Mapping[str, float | str] = field(default_factory=dict)
    """The same as figures, by the names that entries have for them."""
    picks: str = ""
    """Which answer it amounts to; "" where there is none to pick."""

    @property
    def line(self) -> str:
        """As it stands beside the step."""
        return LEAD + self.words


def of_verdict(bench: VisitBench, cause: str) -> Seen | None:
    """What the owner has seen to since, `cause` being what the verdict names; None where there was nothing."""
    done = [each for each in bench.scenario.wrong if each in MENDED and each not in bench.world.wrong]
    if not done:
        return None
    return Seen(f"{', '.join(MENDED[each] for each in done)}.", picks="check-again" if cause in done else "")


def of_question(bench: VisitBench, question: str, *, more: bool) -> Seen:
    """What the owner of the practice machine would answer, or that there is no `more`.  Raises UnknownName."""
    if more:
        return Seen("that is all.", picks="enough")
    answer = remembered(bench, question)
    return Seen(f"{answer}.", picks=answer)


def of_check(bench: VisitBench, check: CheckName, key: int, wording: Wording) -> Seen:
    """What a check with covers shut shows; `key` the number of the entry to come."""
    words, figures, bad = _CHECKS[check](bench, key, wording)
    return Seen(words, figures, "bad" if bad else "good")


def of_optic(bench: VisitBench, optic: Optic) -> Seen:
    """An optic by the torch, before and after one drag."""
    if optic == "combiner":
        return Seen("the machine has no combiner.", picks="none-here")
    dull = optic in bench.dull or (optic == "lens" and "lens" in bench.world.wrong)
    film = "a brown haze; after one drag with a fresh tissue it is clear" if dull else "clear, before and after"
    return Seen(f"{optic}: {film}.", picks="clean")


def of_sheet(bench: VisitBench) -> Seen:
    """The sheet that is at hand, and about how fast it is cut."""
    words = f"at hand is {bench.sheet}, which you cut at about {USUAL_SPEED:g} mm/s."
    return Seen(words, {"material": bench.sheet, "speed": USUAL_SPEED}, bench.sheet)


def of_cut(bench: VisitBench, station: str, lines: Sequence[float], sheet: int, *, warm: bool = False) -> Seen:
    """Lines of rising speeds, mm/s, at a station; `sheet` the number of the entry that says which one lies in."""
    low, high = fell_through(lines, bench.just_through(station, sheet=sheet, warm=warm))
    figures = {name: value for name, value in (("fastest", low), ("next", high)) if value is not None}
    option = " ".join(OPEN if speed is None else f"{speed:g}" for speed in (low, high))
    if low is None:
        return Seen(f"none fell through, from {high:g} mm/s on.", figures, option)
    if high is None:
        return Seen(f"all fell through, up to {low:g} mm/s.", figures, option)
    return Seen(f"{low:g} mm/s fell through, {high:g} did not.", figures, option)


def of_card(bench: VisitBench, lowered: float, *, lens: bool, key: int, wording: Wording) -> Seen:
    """A pulse on the card on the bed: where the mark lies; `key` the number of the pulse's entry."""
    seen = _place(bench.head.bed_mark(lowered, lens=lens, key=key), "from the square's foot", wording)
    if not seen.figures:
        return seen
    height = f"the bed {wording.length(lowered, 0)} lower; " if lowered else ""
    return Seen(f"{height}{seen.words}", {**seen.figures, "lowered": lowered}, seen.picks)


def of_nozzle(bench: VisitBench, *, key: int, wording: Wording) -> Seen:
    """A pulse on tape under the nozzle: where the mark lies, and whether the rim cut it."""
    mark = bench.head.nozzle_mark(key=key)
    seen = _place(mark[:2] if mark else None, "from the middle of the rim's imprint", wording)
    if mark is not None and mark[2]:
        return Seen(f"{seen.words} The rim cut it.", seen.figures, "cut-by-rim")
    return seen


def of_pointer(bench: VisitBench, lowered: float, *, key: int, wording: Wording) -> Seen:
    """The pointer's spot beside the mark."""
    right, back = bench.pointer.seen(lowered, key=key)
    seen = _place((right, back), "from the mark to the pointer's spot", wording)
    figures = {**seen.figures, "lowered": lowered}
    return Seen(seen.words, figures, "on-mark" if math.hypot(right, back) < ON_MARK else "spot")


def _place(place: tuple[float, float] | None, counted: str, wording: Wording) -> Seen:
    if place is None:
        return Seen("nothing came through.", picks="nothing-through")
    right, back = place
    across = f"{wording.length(abs(right), 2)} to the {'right' if right >= 0 else 'left'}"
    along = f"{wording.length(abs(back), 2)} to the {'back' if back >= 0 else 'front'}"
    return Seen(f"{counted}: {across}, {along}.", {"right": right, "back": back}, "whole")


MENDED: Mapping[Wrong, str] = {
    "bed": "the bed was levelled",
    "focus": "the gauge was set anew",
    "cooling": "the water was cooled",
    "extraction": "filter and hose were cleared",
    "rail": "the rail was dressed and cleaned",
    "material": "the old sheet is used again",
    "lens": "the lens was wiped clear",
}
"""What became of it once it was seen to."""

# -- checks with covers shut ----------------------------------------------------------------------

Looked = tuple[str, Mapping[str, float | str], bool]
"""The words, the figures, and whether it looks bad."""


def _bed(bench: VisitBench, key: int, wording: Wording) -> Looked:
    gaps = bench.world.gaps
    read = {c: bench.figure(gaps[c], GAP, 1, key=key, number=n) for n, c in enumerate(CORNERS)}
    said = ", ".join(f"{corner.replace('_', ' ')} {wording.amount(gap)}" for corner, gap in read.items())
    return f"gap {said} {wording.unit}.", read, "bed" in bench.world.wrong


def _focus(bench: VisitBench, key: int, wording: Wording) -> Looked:
    along = bench.figure(bench.world.gauge_off / RAMP, ALONG, 0, key=key)
    way = f"{wording.length(abs(along), 0)} {'up' if along > 0 else 'down'} the board from"
    where = f"{way} the gauge's height" if along else "at the gauge's height"
    return f"the thinnest line lies {where}.", {"along": along}, "focus" in bench.world.wrong


def _water(bench: VisitBench, key: int, wording: Wording) -> Looked:
    celsius = bench.figure(bench.world.water, WATER, 1, key=key)
    return f"the water has {celsius:g} °C; it flows, without bubbles.", {"celsius": celsius}, _wrong(bench, "cooling")


def _tube(bench: VisitBench, key: int, wording: Wording) -> Looked:
    current = bench.figure(bench.world.current, CURRENT, 1, key=key)
    hours = TIRED_HOURS if _wrong(bench, "tube") else HOURS
    words = f"the needle stands at {current:g} mA at the usual setting; the tube has {hours:g} hours."
    return words, {"current": current, "hours": hours}, _wrong(bench, "supply")


def _wrong(bench: VisitBench, cause: str) -> bool:
    return cause in bench.wrong_now()


def _by_eye(cause: str, good: str, bad: str) -> Callable[[VisitBench, int, Wording], Looked]:
    """A check that has no figures: how it looks."""

    def looked(bench: VisitBench, key: int, wording: Wording) -> Looked:
        return (bad if _wrong(bench, cause) else good), {}, _wrong(bench, cause)

    return looked


_CHECKS: Mapping[CheckName, Callable[[VisitBench, int, Wording], Looked]] = {
    "bed": _bed,
    "focus": _focus,
    "water": _water,
    "tube": _tube,
    "lens": _by_eye(
        "lens",
        "the lens is clear, firm in its ring, curved side up.",
        "the lens wears a brown haze; it is firm in its ring, curved side up.",
    ),
    "mirrors": _by_eye(
        "mirrors",
        "the mirrors shine, without spot or scratch.",
        "a brown film lies on a mirror; no spot, no scratch.",
    ),
    "extraction": _by_eye(
        "extraction",
        "a tissue holds to the grate by itself; no smoke stands over the cut.",
        "a tissue falls off the grate; smoke stands over the cut.",
    ),
    "material": _by_eye(
        "material",
        "a piece of the old sheet cuts no faster than today's.",
        "a piece of the old sheet falls through where today's does not.",
    ),
    "supply": _by_eye(
        "supply",
        "the needle stands still during a cut, where it used to.",
        "the needle swings during a cut, and stands lower than it used to.",
    ),
    "rail": _by_eye(
        "rail",
        "head and gantry slide evenly along their whole ways.",
        "the head catches at one place; there is a dent in the rail.",
    ),
}
