"""What the table of measuring methods says of each: what it asks, when it fits, and how a reading comes of it.

What is typed for a measurement are *entries*: plain text by name, exactly what is kept as the session's draft.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Literal, assert_never

from coach.errors import InputError
from coach.reading.clock import parse_clock
from coach.reading.model import Reading
from coach.shown import Unit, Wording
from coach.units import parse_length

MethodKey = Literal["crosshair", "gaps", "offsets", "clock"]
"""The methods; the names stand in session files."""
OptionKey = Literal["face", "unit", "to", "tool"]
"""What can be switched; the names stand in session files."""
FieldKind = Literal["size", "offset", "hour"]
"""A length of 0 or more, a length with a sign, an hour of the clock's face."""

OPENING = "opening"
"""The shell's option for an opening that no profile tells."""

Entries = dict[str, str]
Given = Mapping[str, str]

NUMBER = '0123456789.,-+−/ "″'
CLOCK = "0123456789.,:/ "


@dataclass(frozen=True)
class Tape:
    """What is known of the tape on which the mark lies, mm."""

    opening: float | None
    """Diameter of the opening that it covers; None where nobody knows it."""
    drawn: float
    """Diameter of what a drawing of it shows."""


@dataclass(frozen=True)
class Value:
    """One way that an option can stand."""

    key: str
    word: str
    about: str = ""
    """What else it means, for who is asked."""
    shell: str = ""
    """How the shell calls it, where otherwise."""

    @property
    def in_shell(self) -> str:
        """How the shell calls it."""
        return self.shell or self.key


@dataclass(frozen=True)
class Option:
    """Something that can be switched, the usual value first."""

    key: OptionKey
    question: str
    values: tuple[Value, ...]
    shell_help: str = ""

    def stands(self, entries: Given) -> Value:
        """How it stands."""
        return next((value for value in self.values if value.key == entries.get(self.key)), self.values[0])


@dataclass(frozen=True)
class Field:
    """One number to type."""

    key: str
    """The entry's name."""
    name: str
    kind: FieldKind = "size"
    typed: str = ""
    """Its name in what is kept with the reading, where that is another."""
    detail: str = ""
    """Stands behind the name where there is room."""
    hint: str = ""
    """What is worth saying where it is asked alone."""
    may_lack: bool = False
    """Whether the reading may do without."""
    carried: str = ""
    """The entry that stands in where nothing is typed: what was measured on the mark before."""
    swaps: bool = False
    """Whether it is said as one looks at the tape, and lies on the other side where the sticky face is looked at."""
    needed: Callable[[Given], bool] | None = None
    """None: always asked for; else only where this says so of the other entries."""
    shell: tuple[str, ...] = ()
    """The shell's options, where they are not its kept name."""
    shell_help: str | None = None

    @property
    def label(self) -> str:
        """Its name and what stands behind it."""
        return f"{self.name}, {self.detail}" if self.detail else self.name

    @property
    def kept_as(self) -> str:
        """Its name in what is kept with the reading."""
        return self.typed or self.key

    @property
    def flags(self) -> tuple[str, ...]:
        """The shell's options for it, the first being its proper name."""
        return tuple(f"--{name}" for name in self.shell or (self.kept_as.replace("_", "-"),))

    @property
    def argument(self) -> str:
        """What the shell's options give is called there."""
        return self.flags[0].removeprefix("--").replace("-", "_")

    @property
    def allowed(self) -> str:
        """The characters that belong in it."""
        return CLOCK if self.kind == "hour" else NUMBER

    def check(self, text: str, unit: Unit) -> None:
        """Raises InputError for a text that cannot be used by itself."""
        match self.kind:
            case "hour":
                parse_clock(text)
            case "offset":
                parse_length(text, unit, self.name)
            case "size":
                if parse_length(text, unit, self.name).mm < 0:
                    raise InputError(
                        f"{self.name} is less than nothing", expected="a length of 0 or more", example="4.2"
                    )
            case _:
                assert_never(self.kind)


@dataclass(frozen=True)
class Shell:
    """A method's options in the shell."""

    heading: str
    enough: str = ""
    """How many of its numbers are enough, where not all are needed."""


@dataclass(frozen=True, kw_only=True)
class Method:
    """One way to measure a mark."""

    key: MethodKey
    label: str
    about: str
    """From where to where, for who has no drawing."""
    hint: str
    """What is worth saying while it is used."""
    options: tuple[OptionKey, ...]
    meaning: Callable[[Given], str] | None = None
    """Says in one sentence what its numbers are, where a name alone could be understood in two ways."""
    read: Callable[[Given, Tape, Wording], Reading]
    """The reading that the entries make.  Raises InputError with the sentence to show."""
    fields: tuple[Field, ...] = ()
    enough: Callable[[Given], bool] | None = None
    """Whether what stands there may do, though fields are empty; None: where every field is filled that is always
    asked for."""
    surer: Callable[[Given], str] | None = None
    """Says what more could be measured to make a reading surer; "" where nothing is left."""
    remembered: Callable[[Given], Entries] | None = None
    """Makes entries of what was kept with a reading; None: field by field."""
    needs_opening: bool = False
    """Whether it starts from the rim of an opening whose size has to be known."""
    by_keys: bool = False
    """Whether a cross is moved over a drawing in place of typing numbers."""
    shell: Shell | None = None
    """How the shell offers it; None where it cannot."""

    @property
    def shell_extras(self) -> tuple[str, ...]:
        """What the shell takes for it besides its numbers."""
        own = (self.own_option,) if self.own_option is not None else ()
        return (*own, OPENING) if self.needs_opening else own

    def told(self, entries: Given) -> str:
        """What its numbers are, and what is worth saying while it is used."""
        return " ".join(filter(None, (self.meaning(entries) if self.meaning else "", self.hint)))

    def fits(self, tape: Tape) -> bool:
        """Whether it can be used on that tape."""
        return tape.opening is not None or not self.needs_opening

    @property
    def own_option(self) -> OptionKey | None:
        """The option that not every method has, if it has one."""
        return next((key for key in self.options if key not in ("face", "unit")), None)

    def entries_of(self, typed: Given) -> Entries:
        """The entries that made a reading, without its options, from what is kept with it."""
        if self.remembered is not None:
            return self.remembered(typed)
        return {field.key: typed[field.kept_as] for field in self.fields if field.kept_as in typed}

    def is_filled(self, entries: Given) -> bool:
        """Whether all that is always asked for stands there, or enough of it."""
        if self.enough is not None and self.enough(entries):
            return True
        return self.is_whole(entries)

    def is_whole(self, entries: Given) -> bool:
        """Whether all that is always asked for stands there."""
        return all(entries.get(field.key, "").strip() for field in self.fields if field.needed is None)

    def faulty_field(self, entries: Given, unit: Unit) -> str | None:
        """The first field that cannot be used by itself, else the first empty one; None where all could be used."""
        for field in self.fields:
            text = entries.get(field.key, "").strip()
            try:
                if text:
                    field.check(text, unit)
            except InputError:
                return field.key
        return next((field.key for field in self.fields if not entries.get(field.key, "").strip()), None)
