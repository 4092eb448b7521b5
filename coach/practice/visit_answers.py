"""What the owner of a rehearsed visit's machine remembers of it, and how it cuts, as they would say it."""

from collections.abc import Callable, Mapping

from coach.errors import UnknownName
from coach.practice.visit_bench import VisitBench
from coach.practice.visit_kinds import Wrong
from coach.triage.questions import question

_SLOWLY: frozenset[Wrong] = frozenset(("lens", "mirrors", "tube", "extraction"))
EVEN, NEARLY = 0.85, 0.92
"""Slowest over fastest from which it is said to cut alike; and the second slowest from which one place stands out."""


def remembered(bench: VisitBench, key: str) -> str:
    """Their answer to that question, one of those it has.  Raises UnknownName."""
    asked = question(key)
    if key not in _ANSWERS:
        raise UnknownName(f"The practice machine's owner knows nothing of {key!r}", expected=", ".join(_ANSWERS))
    answer = _ANSWERS[key](bench)
    if answer not in asked.answers:
        raise UnknownName(f"{answer!r} is no answer to {asked.asks!r}", expected="; ".join(asked.answers))
    return answer


def _weak(bench: VisitBench) -> str:
    speeds = sorted(bench.speeds().values())
    if "supply" in bench.world.wrong:
        return "on and off"
    if speeds[0] >= EVEN * speeds[-1]:
        return "everywhere alike"
    return "at one place" if speeds[1] >= NEARLY * speeds[-1] else "toward one corner"


def _has(bench: VisitBench, *causes: Wrong) -> bool:
    return bool(set(causes) & set(bench.scenario.wrong))


def _edge(bench: VisitBench) -> str:
    return "leaning" if _has(bench, "alignment") or bench.scenario.head != "head-aligned" else "upright"


_ANSWERS: Mapping[str, Callable[[VisitBench], str]] = {
    "weak": _weak,
    "since": lambda bench: "slowly, over weeks" if _SLOWLY & set(bench.scenario.wrong) else "suddenly",
    "fades": lambda bench: "yes" if _has(bench, "lens", "cooling", "tube") else "no",
    "edge": _edge,
    "moved": lambda bench: "bumped" if _has(bench, "alignment", "rail") else "no",
    "changed": lambda bench: "lens" if _has(bench, "focus") else "nothing",
    "material": lambda bench: "new" if _has(bench, "material") else "the same",
}
