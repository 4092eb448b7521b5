"""Commands of the screen on which a sheet is typed in."""

from typing import Protocol

from coach.tui.commands.command import Command


class SheetList(Protocol):
    """A sheet's tapes."""

    def undo(self) -> None:
        """Take the last entry of the sheet back and say which."""


class SheetUndo(Command[SheetList]):
    name = "undo"
    label = "Undo"
    about = "Take the last entry of this sheet back; it says what was taken back."
    keys = ("u", "U", "f5")
    means = "one back"
    shown = ("U", "F5")
    in_line = True

    def run(self, screen: SheetList) -> None:
        screen.undo()
