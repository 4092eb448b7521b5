"""Answers and figures that cannot all be true: asked about, never decided for the person."""

from dataclasses import dataclass

from coach.triage.evidence import Evidence
from coach.triage.findings import Finding

UNEVEN = 0.85
"""Uniformity whose whole interval lies below this says that one station is slow."""


@dataclass(frozen=True)
class Doubt:
    """Two entries that contradict each other."""

    asks: str
    """Both, and what is asked."""
    about: tuple[str, str]
    """Question, check, or "cuts", whose answer may be changed."""


def doubts(evidence: Evidence) -> tuple[Doubt, ...]:
    """Everything that contradicts, in the order in which it was asked."""
    return (*_of_cuts(evidence), *_of_what_happened(evidence), *_of_checks(evidence))


def _of_cuts(evidence: Evidence) -> list[Doubt]:
    cuts, weak = evidence.cuts, evidence.answers.get("weak", ())
    if cuts is None or not weak:
        return []
    found = []
    if "everywhere alike" in weak and cuts.uniformity[2] < UNEVEN:
        slowest = min(cuts.stations, key=lambda name: cuts.stations[name][0])
        found.append(
            Doubt(
                f"It was said to be weak everywhere alike, and {slowest} cuts slower than the others. Which is it?",
                ("weak", "cuts"),
            )
        )
    by_place = [answer for answer in weak if answer in ("toward one corner", "along one axis", "at one place")]
    if by_place and cuts.pattern in ("alike", "fine"):
        found.append(
            Doubt(f"It was said to be weak {by_place[0]}, and the stations cut alike. Which is it?", ("weak", "cuts"))
        )
    if evidence.answers.get("material") == ("the same",) and cuts.not_compared.startswith("another"):
        found.append(
            Doubt(
                f"The material was said to be the same, and was cut from {cuts.not_compared}. Which is it?",
                ("material", "cuts"),
            )
        )
    return found


def _of_what_happened(evidence: Evidence) -> list[Doubt]:
    found = []
    if evidence.disturbed and evidence.answers.get("moved") == ("no",):
        found.append(
            Doubt(
                "Nothing was moved or bumped, it was said, and yet entered as out or bumped: the "
                f"{evidence.disturbed[-1]}. Which is it?",
                ("moved", "disturbed"),
            )
        )
    if evidence.answers.get("fades") == ("yes",) and evidence.answers.get("since") == ("always",):
        found.append(
            Doubt("It was said never to have cut well, and to be good when cold. Which is it?", ("since", "fades"))
        )
    return found


def _of_checks(evidence: Evidence) -> list[Doubt]:
    return [_doubted(found) for found in evidence.findings.values() if found.contradicts]


def _doubted(found: Finding) -> Doubt:
    said = found.says[0].rstrip(".")
    asks = f"{found.check.capitalize()} was called {found.result}, and: {said}. Which is it?"
    return Doubt(asks, (found.check, found.check))
