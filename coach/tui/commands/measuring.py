"""Commands of the measuring screen.  While a number is typed letters do nothing: function keys do it all."""

from typing import TYPE_CHECKING, Protocol

from coach.reading.methods import METHODS
from coach.tui.commands.command import Command

if TYPE_CHECKING:  # not before the first paint
    from coach.reading.method import Method, OptionKey


NO_FIELDS = "Nothing is typed here: the arrows move the cross"


class Measurement(Protocol):
    """One mark that is measured."""

    @property
    def method(self) -> "Method":
        """The method in use."""

    @property
    def enter_reads_back(self) -> bool:
        """Whether Enter reads back what stands there."""

    def change_method(self, by: int) -> None:
        """The next or the last method."""

    def toggle(self, key: "OptionKey") -> None:
        """Switch an option."""

    def change_step(self, by: int) -> None:
        """A finer or a coarser step of the crosshair."""

    def accept(self) -> None:
        """Read back what was understood."""

    def next_field(self, by: int) -> None:
        """To the field after this one, or before it."""


class NextWay(Command[Measurement]):
    name = "next_way"
    label = "Next way"
    about = f"Another way to measure: {', '.join(method.label.lower() for method in METHODS)}.  What was typed stays."
    keys = ("pagedown",)
    means = "next page"
    shown = ("PgDn",)
    in_line = True

    def run(self, screen: Measurement) -> None:
        screen.change_method(1)


class LastWay(Command[Measurement]):
    name = "last_way"
    label = "Way before"
    about = "The way to measure before this one."
    keys = ("pageup",)
    means = "page before"
    shown = ("PgUp",)

    def run(self, screen: Measurement) -> None:
        screen.change_method(-1)


class NextField(Command[Measurement]):
    name = "next_field"
    label = "Next field"
    about = "The next field; after the last one the first."
    keys = ("tab",)
    means = "next field"
    shown = ("Tab",)
    why_not = NO_FIELDS

    def run(self, screen: Measurement) -> None:
        screen.next_field(1)

    def possible(self, screen: Measurement) -> bool:
        return bool(screen.method.fields)


class FieldBefore(Command[Measurement]):
    name = "field_before"
    label = "Field before"
    about = "The field before this one."
    keys = ("shift+tab",)
    means = "field before"
    shown = ("Shift+Tab",)
    why_not = NO_FIELDS

    def run(self, screen: Measurement) -> None:
        screen.next_field(-1)

    def possible(self, screen: Measurement) -> bool:
        return bool(screen.method.fields)


class OtherFace(Command[Measurement]):
    name = "face"
    label = "Other face"
    about = "Which face of the tape you look at: the outer one, which the beam hits, or the sticky one."
    keys = ("f6",)
    means = "face"
    shown = ("F6",)
    in_line = True

    def run(self, screen: Measurement) -> None:
        screen.toggle("face")


class OtherUnit(Command[Measurement]):
    name = "unit"
    label = "mm/inches"
    about = "Numbers without a unit are millimetres, or inches; inches may be fractions such as 3/8."
    keys = ("f9",)
    means = "unit"
    shown = ("F9",)

    def run(self, screen: Measurement) -> None:
        screen.toggle("unit")

    def possible(self, screen: Measurement) -> bool:
        return "unit" in screen.method.options


class OtherDetail(Command[Measurement]):
    name = "detail"
    label = "Edge/tool"
    about = (
        "Gaps: whether they end at the mark's near edge or at its centre.  Offsets: callipers, or a ruler, which "
        "counts as less sure."
    )
    keys = ("asterisk", "multiply")
    means = "detail"
    shown = ("*",)

    def run(self, screen: Measurement) -> None:
        if screen.method.own_option is not None:
            screen.toggle(screen.method.own_option)

    def possible(self, screen: Measurement) -> bool:
        return screen.method.own_option is not None


class Finer(Command[Measurement]):
    name = "finer"
    label = "Finer"
    about = "Crosshair: smaller steps."
    keys = ("minus", "subtract")
    means = "finer"
    shown = ("−",)

    def run(self, screen: Measurement) -> None:
        screen.change_step(-1)

    def possible(self, screen: Measurement) -> bool:
        return screen.method.by_keys


class Coarser(Command[Measurement]):
    name = "coarser"
    label = "Coarser"
    about = "Crosshair: larger steps."
    keys = ("plus", "equals_sign", "add")
    means = "coarser"
    shown = ("+",)

    def run(self, screen: Measurement) -> None:
        screen.change_step(1)

    def possible(self, screen: Measurement) -> bool:
        return screen.method.by_keys


class Accept(Command[Measurement]):
    name = "accept"
    label = "Next, or read back"
    about = (
        "On to the next field; in the last one, or when all that is needed stands there, it is read back to you "
        "before it counts.  F2 reads back at once."
    )
    keys = ("enter", "space", "f2")
    means = "go ahead"
    shown = ("Enter", "F2")
    in_line = True

    def now(self, screen: Measurement) -> str:
        return "Read back" if screen.enter_reads_back else "Next field"

    def run(self, screen: Measurement) -> None:
        screen.accept()
