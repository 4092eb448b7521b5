"""Everything that speaks for or against a cause, gathered: answers, checks, cleaning, cuts, and the marks."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from coach.cutting.check import CutCheck
from coach.cutting.fading import Fading
from coach.shown import share_within
from coach.triage.causes import Cause, CheckName
from coach.triage.cleaned import DULL, OPTICS_OF, Cleaned, Optic
from coach.triage.findings import CAUSE_OF, Finding, State
from coach.triage.questions import Answers
from coach.triage.table import AGAINST, FOR

Beam = Literal["", "in", "out"]

BY_MARKS: dict[Beam, State] = {"": "open", "in": "cleared", "out": "found"}
"""What the marks say of the alignment."""

_LESS_LIGHT: tuple[Cause, ...] = ("tube", "lens", "mirrors", "focus", "material", "supply", "cooling")
_BY_PLACE: tuple[Cause, ...] = ("alignment", "bed", "rail")
_WITH_WARMTH: tuple[Cause, ...] = ("cooling", "lens", "tube")
_COLD_AS_WARM: tuple[Cause, ...] = ("alignment", "bed", "focus", "material")


@dataclass(frozen=True)
class Evidence:
    """What is known so far; nothing of it must be."""

    answers: Answers = field(default_factory=dict)
    findings: Mapping[CheckName, Finding] = field(default_factory=dict)
    looks: Mapping[CheckName, int] = field(default_factory=dict)
    """How often each check ended as it did last, in a row; once where it is not named."""
    care: Mapping[Optic, Cleaned] = field(default_factory=dict)
    cuts: CutCheck | None = None
    beam: Beam = ""
    """What the marks say: every station within tolerance, or not."""
    aligned: bool = False
    """Whether screws were turned or a part was moved since it was cut last, and the marks say that the beam is in."""
    disturbed: tuple[str, ...] = ()
    """Parts of which it was entered that they were out or bumped."""

    def speaks(self, cause: Cause) -> tuple[tuple[str, ...], tuple[str, ...]]:
        """The sentences for a cause and against it."""
        plus, minus = _said(FOR, self.answers, cause), _said(AGAINST, self.answers, cause)
        for found in self.findings.values():
            plus += [why for about, why in found.speaks_for if about == cause]
            minus += [why for about, why in found.speaks_against if about == cause]
        if self.cuts is not None:
            by_cuts = of_cuts(self.cuts)
            plus += [why for about, why in by_cuts[0] if about == cause]
            minus += [why for about, why in by_cuts[1] if about == cause]
            by_warmth = of_fading(self.cuts.fading)
            plus += [why for about, why in by_warmth[0] if about == cause]
            minus += [why for about, why in by_warmth[1] if about == cause]
        return tuple(dict.fromkeys(plus)), tuple(dict.fromkeys(minus))

    def state(self, cause: Cause) -> tuple[State, tuple[str, ...]]:
        """Whether a test found or cleared a cause, and what it said."""
        if cause == "alignment":
            return BY_MARKS[self.beam], ()
        by_care = self._by_care(cause)
        if by_care is not None:
            return by_care
        found = next((f for f in self.findings.values() if CAUSE_OF[f.check] == cause), None)
        return (found.state, found.says) if found is not None else ("open", ())

    def looked_once(self, cause: Cause) -> bool:
        """Whether all that is known of a cause's test is one look, without any figure."""
        found = next((f for f in self.findings.values() if CAUSE_OF[f.check] == cause), None)
        return found is not None and not found.figures and self.looks.get(found.check, 1) < 2

    def cleared_too_soon(self, cause: Cause) -> bool:
        """Whether one look alone cleared a cause that more speaks for than against."""
        plus, minus = self.speaks(cause)
        return self.state(cause)[0] == "cleared" and len(plus) > len(minus) and self.looked_once(cause)

    def _by_care(self, cause: Cause) -> tuple[State, tuple[str, ...]] | None:
        """What was seen while cleaning; the newest word on an optic, before any earlier look through a cover."""
        optics = OPTICS_OF[cause] if cause in ("lens", "mirrors") else ()
        dull = [(optic, DULL[self.care[optic]]) for optic in optics if self.care.get(optic) in DULL]
        if dull:
            return "found", tuple(f"The {optic} has {what}." for optic, what in dull)
        if optics and all(self.care.get(optic) == "clean" for optic in optics):
            return "cleared", ()
        return None


def _said(
    table: Mapping[tuple[str, str], tuple[tuple[Cause, str], ...]], answers: Answers, cause: Cause
) -> list[str]:
    return [
        why
        for key, given in answers.items()
        for answer in given
        for about, why in table.get((key, answer), ())
        if about == cause
    ]


Rows = tuple[tuple[Cause, str], ...]


def of_cuts(cuts: CutCheck) -> tuple[Rows, Rows]:
    """What a cut check's pattern speaks for, and against; it "may" where stations that are alike are not excluded."""
    slowest = f"the slowest station cuts at {share_within(*cuts.uniformity)} of the fastest"
    may, are, stands = ("", "are", "stands") if cuts.uneven else ("may ", "may be", "may stand")
    match cuts.pattern:
        case "fine":
            return (), ()
        case "alike":
            seen = "The cuts show no pattern by place" if cuts.uneven else "It cuts alike at every station"
            even = f"{seen}: {slowest}."
            weaker = cuts.again == "no"
            plus: Rows = tuple((cause, "It is slower at every station alike.") for cause in _LESS_LIGHT)
            return (plus if weaker else ()), tuple((cause, even) for cause in _BY_PLACE)
        case "legs":
            falls = f"The cuts {may}fall along the beam's way: {slowest}."
            if cuts.beyond == "alike":
                grown = "The beam's growth and the openings explain how the cuts fall."
                return (), (("alignment", grown),)
            lower = "A bed that is lowest at the far corner makes cuts fall so too: its gaps tell."
            return (("alignment", falls), ("bed", lower)), tuple(
                (cause, falls) for cause in _LESS_LIGHT if cause != "mirrors"
            )
        case "bed" if cuts.opposite:
            corners = " and ".join(cuts.opposite)
            twisted = f"Two opposite corners {are} weak, {corners}, as a twisted bed makes them: {slowest}."
            racked = f"A gantry out of square weakens two opposite corners too, {corners}: {slowest}."
            return (("bed", twisted), ("alignment", racked), ("rail", racked)), (
                ("tube", twisted), ("supply", twisted), ("material", twisted), ("lens", twisted)
            )  # fmt: skip
        case "bed":
            across = f"The cuts {may}follow the bed: {slowest}."
            return (("bed", across),), (("alignment", across), ("tube", across), ("supply", across))
        case "one place":
            lone = f"One place {stands} off, {cuts.place}: {slowest}."
            return (("rail", lone), ("bed", lone)), (("tube", lone), ("supply", lone), ("material", lone))


def of_fading(seen: Fading | None) -> tuple[Rows, Rows]:
    """What a station cut once more, warm, speaks for, and against: what does not know warm from cold."""
    if seen is None or seen.fades == "unsure":
        return (), ()
    warm = f"Warm, {seen.station} cuts at {share_within(*seen.ratio)} of cold."
    if seen.fades == "no":
        return (), (("cooling", warm),)
    return (
        tuple((cause, warm) for cause in _WITH_WARMTH),
        tuple((cause, warm) for cause in _COLD_AS_WARM),
    )
