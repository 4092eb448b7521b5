"""Figures and words that are typed at a step: what is asked, how each is read, and what was understood.

A front end shows the fields and calls `Form.read`; what stands here knows neither screen nor session.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import partial

from coach.errors import InputError
from coach.shown import UNIT_WORDS, Wording
from coach.units import parse_length, parse_number

Value = float | str
Figures = Mapping[str, Value]
"""What was understood, by the names of the fields; what was left empty is not in it.  Lengths are in mm."""


@dataclass(frozen=True, kw_only=True)
class FormField:
    """One thing to type."""

    name: str
    label: str
    """What is asked, with its unit."""
    reads: Callable[[str], Value]
    """What was typed, understood.  Raises InputError or OutOfReach."""
    starts: str = ""
    """What stands there at first."""
    needed: bool = True
    """Whether nothing typed is refused; else it is simply not known."""
    length: bool = False
    """Whether it is a length, typed in the person's own unit."""

    def checked(self, text: str) -> None:
        """Raises InputError or OutOfReach where what was typed cannot be used."""
        if text.strip():
            self.reads(text.strip())


@dataclass(frozen=True, kw_only=True)
class Form:
    """What is asked with one choice."""

    title: str
    lead: str
    fields: tuple[FormField, ...]
    says: Callable[[Figures], str]
    """What was understood, to be read back.  Raises InputError where the fields do not go together."""
    doubt: Callable[[Figures], str] = field(default=lambda figures: "")
    """A question about what was understood, "" where nothing is odd; Enter alone keeps no doubtful entry."""

    def read(self, typed: Mapping[str, str]) -> dict[str, Value]:
        """All fields.  Raises InputError or OutOfReach, also where all of them are empty."""
        read = {}
        for each in self.fields:
            text = typed.get(each.name, "").strip()
            if text:
                read[each.name] = each.reads(text)
            elif each.needed:
                raise InputError(f"Nothing was entered for: {each.label}", expected="an entry there")
        if not read:
            raise InputError("Nothing was entered", expected=f"one of these at the least: {self._asked()}")
        return read

    def _asked(self) -> str:
        return "; ".join(each.label[0].lower() + each.label[1:] for each in self.fields)

    def echo(self, typed: Mapping[str, str]) -> str:
        """What was understood, and what is odd about it.  Raises InputError or OutOfReach."""
        figures = self.read(typed)
        return " ".join(filter(None, (self.says(figures), self.doubt(figures))))

    def doubtful(self, typed: Mapping[str, str]) -> bool:
        """Whether what was understood is questioned.  Raises InputError or OutOfReach."""
        return bool(self.doubt(self.read(typed)))


def length_field(
    name: str,
    label: str,
    wording: Wording,
    check: Callable[[float], float] = float,
    *,
    starts: str = "",
    needed: bool = True,
) -> FormField:
    """A length, in the person's unit unless another is typed; `check` bounds it in mm."""
    return FormField(
        name=name,
        label=f"{label}, {UNIT_WORDS[wording.unit]}",
        reads=partial(_length, label, wording, check),
        starts=starts,
        needed=needed,
        length=True,
    )


def number_field(
    name: str,
    label: str,
    unit: str,
    check: Callable[[float], float] = float,
    *,
    starts: str = "",
    needed: bool = True,
) -> FormField:
    """A number in a unit that everybody uses; `check` bounds it."""
    return FormField(
        name=name,
        label=f"{label}, {unit}",
        reads=partial(_number, label, unit, check),
        starts=starts,
        needed=needed,
    )


def words_field(
    name: str, label: str, check: Callable[[str], str] = str, *, starts: str = "", needed: bool = True
) -> FormField:
    """A few words."""
    return FormField(name=name, label=label, reads=check, starts=starts, needed=needed)


def _length(label: str, wording: Wording, check: Callable[[float], float], text: str) -> float:
    return check(parse_length(text, wording.unit, label).mm)


def _number(label: str, unit: str, check: Callable[[float], float], text: str) -> float:
    plain = text.strip()
    if plain.casefold().endswith(unit.casefold()):
        plain = plain[: -len(unit)].strip()
    return check(parse_number(plain, label))
