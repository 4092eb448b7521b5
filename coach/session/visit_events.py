"""What happens around the beam's path: answers, checks with covers shut, cuts, cleaning."""

from datetime import date
from typing import Annotated, Literal, Self

from pydantic import BaseModel, ConfigDict, Field, model_validator

from coach.cutting.cuts import Cuts
from coach.cutting.limits import Limit, checked_limit
from coach.cutting.sheet import checked_sheet
from coach.machine import Finite, Name
from coach.session.happened import Happened
from coach.session.moments import Day
from coach.triage.causes import CheckName
from coach.triage.cleaned import Cleaned, Optic
from coach.triage.figures import Result, checked_check
from coach.triage.questions import checked_answer

Speed = Annotated[float, Field(gt=0, le=2000, allow_inf_nan=False)]
Milliampere = Annotated[float, Field(gt=0, le=200, allow_inf_nan=False)]
Percent = Annotated[float, Field(gt=0, le=100, allow_inf_nan=False)]


class Answer(Happened):
    """A question about what changed was answered (`coach.triage.questions`)."""

    kind: Literal["answer"] = "answer"
    question: str
    answer: str

    @model_validator(mode="after")
    def _known(self) -> Self:
        checked_answer(self.question, self.answer)
        return self


class Check(Happened):
    """A check with covers shut, with its figures (`coach.triage.figures`)."""

    kind: Literal["check"] = "check"
    name: CheckName
    result: Result
    figures: dict[str, Finite] = {}

    @model_validator(mode="after")
    def _known(self) -> Self:
        checked_check(self.name, self.result, self.figures)
        return self


class SheetLaid(Happened):
    """A sheet was laid in to be cut, focus gauged and settings made: with the next cut a further check begins."""

    kind: Literal["sheet"] = "sheet"
    material: Name
    """With thickness and batch."""
    power: Percent | None = None
    """The power that was set, per cent."""
    speed: Speed | None = None
    """About how fast it is usually cut, mm/s."""

    @model_validator(mode="after")
    def _possible(self) -> Self:
        checked_sheet(self.material)
        return self


class Cut(Happened):
    """Lines were cut at a station: the fastest that fell through, and the next, which did not, mm/s."""

    kind: Literal["cut"] = "cut"
    station: str
    fastest: Speed | None = None
    """None: no line fell through."""
    next: Speed | None = None
    """None: all lines fell through."""
    material: Name
    """With thickness and batch."""
    power: Percent | None = None
    """The power that was set, per cent."""
    anew: bool = False
    """With this one a further cut check begins."""
    warm: bool = False
    """The same station once more, at once, while the tube is warm: it stands beside the cold one."""

    @model_validator(mode="after")
    def _possible(self) -> Self:
        checked_limit(self.station, self.fastest, self.next)
        checked_sheet(self.material)
        return self

    @property
    def limit(self) -> Limit:
        """Between which speeds the sheet is just cut through."""
        return checked_limit(self.station, self.fastest, self.next)


class Care(Happened):
    """An optic was cleaned, or looked at and left."""

    kind: Literal["care"] = "care"
    optic: Optic
    result: Cleaned
    taken_out: bool = False
    """It was out of its mount: what it steers may have moved."""


class KeptLimit(BaseModel):
    """One station of a cut check, as it is kept."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    name: Name
    fastest: Speed | None = None
    next: Speed | None = None

    @model_validator(mode="after")
    def _possible(self) -> Self:
        checked_limit(self.name, self.fastest, self.next)
        return self


class KeptCuts(BaseModel):
    """A cut check as it is kept: what later ones are compared with."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    material: Name
    on: Day
    power: Percent | None = None
    stations: tuple[KeptLimit, ...]

    @model_validator(mode="after")
    def _possible(self) -> Self:
        checked_sheet(self.material)
        names = [station.name for station in self.stations]
        if not names or len(set(names)) != len(names):
            raise ValueError("every station once, and one at the least")
        return self

    @classmethod
    def of(cls, cuts: Cuts, on: date) -> "KeptCuts":
        """These cuts, to be kept."""
        stations = tuple(
            KeptLimit(
                name=limit.station,
                fastest=limit.low or None,
                next=None if limit.high == float("inf") else limit.high,
            )
            for limit in cuts.limits
        )
        return cls(material=cuts.sheet.name, on=on, power=cuts.power, stations=stations)

    @property
    def cuts(self) -> Cuts:
        """As they are compared."""
        limits = tuple(checked_limit(each.name, each.fastest, each.next) for each in self.stations)
        return Cuts(checked_sheet(self.material), limits, self.power)


class KeptMark(BaseModel):
    """A mark at the head with which an earlier visit ended, mm."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    station: Name
    x: Finite
    y: Finite
    u: Finite
    v: Finite
    sd: Annotated[float, Field(gt=0, le=100, allow_inf_nan=False)]
    on: Day


class Baseline(Happened):
    """What this machine once cut, its tube's usual current, or the marks with which its last visit ended, taken from
    its folder to be compared with."""

    kind: Literal["baseline"] = "baseline"
    cuts: KeptCuts | None = None
    current: Milliampere | None = None
    """mA at the usual setting."""
    marks: tuple[KeptMark, ...] = ()

    @model_validator(mode="after")
    def _something(self) -> Self:
        if [self.cuts is not None, self.current is not None, bool(self.marks)].count(True) != 1:
            raise ValueError("cuts, a current or marks, one of the three")
        return self
