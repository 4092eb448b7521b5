"""Commands of a machine's upkeep."""

from typing import Protocol

from coach.tui.commands.command import Command


class UpkeepList(Protocol):
    """A machine's items of upkeep."""

    @property
    def highlighted(self) -> object | None:
        """The item that is looked at, if one is."""

    def undo(self) -> None:
        """Take the last entry back and say which."""

    def open_interval(self) -> None:
        """How often the highlighted item is due."""

    def open_hours(self) -> None:
        """What the counter of hours of use shows."""


class UpkeepUndo(Command[UpkeepList]):
    name = "undo"
    label = "Undo"
    about = "Take the last entry of this machine's upkeep back; it says what was taken back."
    keys = ("u", "U", "f5")
    means = "one back"
    shown = ("U", "F5")
    in_line = True

    def run(self, screen: UpkeepList) -> None:
        screen.undo()


class HowOften(Command[UpkeepList]):
    name = "how_often"
    label = "How often"
    about = "How often the highlighted item is due on this machine, by days and by hours of use."
    keys = ("e", "E", "f2")
    means = "go ahead"
    shown = ("E", "F2")
    in_line = True
    why_not = "Choose an item first: how often it is due is then asked"

    def run(self, screen: UpkeepList) -> None:
        screen.open_interval()

    def possible(self, screen: UpkeepList) -> bool:
        return screen.highlighted is not None


class Hours(Command[UpkeepList]):
    name = "hours"
    label = "Hours"
    about = "What the machine's counter of hours of use shows; some items are due by use."
    keys = ("h", "H", "percent_sign")
    means = "hours"
    shown = ("H", "%")
    in_line = True

    def run(self, screen: UpkeepList) -> None:
        screen.open_hours()
