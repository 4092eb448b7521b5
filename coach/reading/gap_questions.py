"""What is asked about gaps that can hardly be: facts, which say their sentence in the wording they are handed."""

from dataclasses import dataclass

from coach.reading.model import Correction, Question
from coach.shown import UNIT_WORDS, Unit, Wording

WIDEST_MARK, NARROWEST_MARK = 6.0, 0.2
"""mm across: one short pulse leaves no mark wider or narrower than that (common practice)."""


@dataclass(frozen=True)
class GapsDoNotAddUp(Question):
    """Opposite gaps that are longer or shorter together than the other gaps and the opening allow."""

    pair: tuple[str, str]
    longer: bool
    excess: float
    """mm."""
    opening: float
    """Diameter, mm."""

    @property
    def out_by(self) -> float:
        return self.excess

    def sentence(self, wording: Wording) -> str:
        return (
            f"These gaps do not add up: {' and '.join(self.pair)} together are {wording.length(self.excess)} "
            f"{'longer' if self.longer else 'shorter'} than the other gaps and the opening of "
            f"{wording.length(self.opening)} allow. Measure again, or say how sure you are."
        )


@dataclass(frozen=True)
class NoRoomForAMark(Question):
    """Gaps to the mark's edges that fill the whole opening."""

    opening: float
    """Diameter, mm."""

    @property
    def correction(self) -> Correction:
        return "to the centre"

    def sentence(self, wording: Wording) -> str:
        return (
            f"These gaps fill the whole opening of {wording.length(self.opening)} and leave no room for a mark. "
            "Were they measured to the mark's centre?"
        )

    def suggestion(self, wording: Wording) -> str:
        return "to the mark's centre"


@dataclass(frozen=True)
class UnusualMark(Question):
    """Gaps to the mark's edges that leave a mark such as no short pulse makes."""

    width: float
    """mm."""

    @property
    def out_by(self) -> float:
        """Half of what it is too wide: so much may each edge have been misjudged."""
        return max(self.width - WIDEST_MARK, 0.0) / 2

    def sentence(self, wording: Wording) -> str:
        wide = self.width > WIDEST_MARK
        usual = wording.length(WIDEST_MARK if wide else NARROWEST_MARK)
        return (
            f"The mark would be {wording.length(self.width)} wide, and one short pulse seldom makes one "
            f"{'wider' if wide else 'narrower'} than {usual}. Look again at where each gap begins and ends."
        )


@dataclass(frozen=True)
class TypedInOtherUnit(Question):
    """Gaps that fit the opening in the unit in which they were not read."""

    unit: Unit
    """The likelier one."""
    width: float | None
    """Of the mark that they would make, mm; None where they end at its middle."""
    opening: float
    """Diameter, mm."""

    @property
    def correction(self) -> Correction:
        return "in inches" if self.unit == "in" else "in mm"

    def sentence(self, wording: Wording) -> str:
        opening = wording.length(self.opening)
        return f"Were these gaps typed in {UNIT_WORDS[self.unit]}? Then they would fit the opening of {opening}."

    def suggestion(self, wording: Wording) -> str:
        mark = "" if self.width is None else f", a mark {wording.length(self.width)} wide"
        return f"in {UNIT_WORDS[self.unit]}{mark}"
