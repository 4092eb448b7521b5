"""Commands that most screens have."""

from typing import ClassVar, Protocol

from coach.tui.commands.command import Command


class AnyScreen(Protocol):
    """What every full screen does."""

    def open_help(self) -> None:
        """Show help for this moment."""

    def open_settings(self) -> None:
        """Show the settings."""

    def open_palette(self) -> None:
        """Show all commands."""

    def next_look(self) -> None:
        """The next set of colours."""

    def leave(self) -> None:
        """Back to the screen before."""


class Help(Command[AnyScreen]):
    name = "help"
    label = "Help"
    about = "Help for this moment, all keys, and what the words mean."
    keys = ("question_mark", "f1")
    shown = ("?", "F1")
    in_line = True

    def run(self, screen: AnyScreen) -> None:
        screen.open_help()


class Look(Command[AnyScreen]):
    name = "look"
    label = "Colours"
    about = "The next set of colours: dark, light, high contrast, the terminal's own."
    keys = ("t", "T", "f6")
    shown = ("T", "F6")

    def run(self, screen: AnyScreen) -> None:
        screen.next_look()


class Settings(Command[AnyScreen]):
    name = "settings"
    label = "Settings"
    about = "Colours, units, steps, signs, hints and keys as you like them; each is kept at once."
    keys = ("s", "S", "f8")
    shown = ("S", "F8")

    def run(self, screen: AnyScreen) -> None:
        screen.open_settings()


class Palette(Command[AnyScreen]):
    name = "palette"
    label = "Find a command"
    about = "A list of all commands to search in."
    keys = ("p", "P", "f7")
    shown = ("P", "F7")

    def run(self, screen: AnyScreen) -> None:
        screen.open_palette()


class Back(Command[AnyScreen]):
    name = "back"
    label = "Back"
    about = "Back to where you came from; nothing is lost."
    keys: ClassVar[tuple[str, ...]] = ("q", "Q", "f4", "escape")
    shown = ("Q", "F4")
    in_line = True

    def run(self, screen: AnyScreen) -> None:
        screen.leave()


class Quit(Back):
    label = "Quit"
    about = "Leave the program; everything is saved."
    keys = ("q", "Q", "f4")


class Home(Back):
    label = "Home"
    about = "Back to the list of machines and sessions; everything is saved."
    keys = ("q", "Q", "f4")
