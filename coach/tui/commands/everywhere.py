"""Commands that most screens have."""

from typing import TYPE_CHECKING, Any, ClassVar

from coach.tui.commands.command import Command

if TYPE_CHECKING:
    from coach.tui.screens.base import CoachScreen


class Help(Command["CoachScreen[Any]"]):
    name = "help"
    label = "Help"
    about = "Help for this moment, all keys, and what the words mean."
    keys = ("question_mark", "f1")
    shown = "? or F1"
    in_line = True

    def run(self, screen: "CoachScreen[Any]") -> None:
        screen.open_help()


class Look(Command["CoachScreen[Any]"]):
    name = "look"
    label = "Colours"
    about = "The next set of colours: dark, light, high contrast, the terminal's own."
    keys = ("t", "T", "f6")
    shown = "T or F6"

    def run(self, screen: "CoachScreen[Any]") -> None:
        screen.coach.next_look()


class Settings(Command["CoachScreen[Any]"]):
    name = "settings"
    label = "Settings"
    about = "Colours, units, steps, signs, hints and keys as you like them; each is kept at once."
    keys = ("s", "S", "f8")
    shown = "S or F8"

    def run(self, screen: "CoachScreen[Any]") -> None:
        screen.open_settings()


class Palette(Command["CoachScreen[Any]"]):
    name = "palette"
    label = "Find a command"
    about = "A list of all commands to search in."
    keys = ("p", "P", "f7")
    shown = "P or F7"

    def run(self, screen: "CoachScreen[Any]") -> None:
        screen.app.action_command_palette()


class Back(Command["CoachScreen[Any]"]):
    name = "back"
    label = "Back"
    about = "Back to where you came from; nothing is lost."
    keys: ClassVar[tuple[str, ...]] = ("q", "Q", "f4", "escape")
    shown = "Q or F4"
    in_line = True

    def run(self, screen: "CoachScreen[Any]") -> None:
        screen.leave()


class Quit(Back):
    label = "Quit"
    about = "Leave the program; everything is saved."
    keys = ("q", "Q", "f4")


class Home(Back):
    label = "Home"
    about = "Back to the list of machines and sessions; everything is saved."
    keys = ("q", "Q", "f4")
