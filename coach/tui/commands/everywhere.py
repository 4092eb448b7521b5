"""Commands that most screens have."""

from typing import ClassVar, Protocol

from coach.tui.commands.command import Command


class AnyScreen(Protocol):
    """What every full screen does."""

    def open_help(self) -> None:
        """Show help for this moment."""

    def open_settings(self) -> None:
        """Show the settings."""

    def open_list(self) -> None:
        """Show all commands."""

    def next_look(self) -> None:
        """The next set of colours."""

    def leave(self) -> None:
        """Back to the screen before."""

    def page(self, way: int) -> None:
        """The page of the list before (-1) or after (1)."""

    def can_page(self, way: int) -> bool:
        """Whether the list goes on above (-1) or below (1)."""


class Help(Command[AnyScreen]):
    name = "help"
    label = "Help"
    about = "Help for this moment, all keys, and what the words mean."
    keys = ("question_mark", "f1")
    means = "help"
    shown = ("?", "F1")
    in_line = True

    def run(self, screen: AnyScreen) -> None:
        screen.open_help()


class Look(Command[AnyScreen]):
    name = "look"
    label = "Colours"
    about = "The next set of colours: dark, light, high contrast, the terminal's own."
    keys = ("t", "T", "number_sign")
    means = "look"
    shown = ("T", "#")

    def run(self, screen: AnyScreen) -> None:
        screen.next_look()


class Settings(Command[AnyScreen]):
    name = "settings"
    label = "Settings"
    about = "Colours, units, steps, signs, hints and keys as you like them; each is kept at once."
    keys = ("s", "S", "f8")
    means = "settings"
    shown = ("S", "F8")

    def run(self, screen: AnyScreen) -> None:
        screen.open_settings()


class ListOfCommands(Command[AnyScreen]):
    name = "commands"
    label = "Find a command"
    about = "A list of all commands to search in."
    keys = ("p", "P", "f7")
    means = "find"
    shown = ("P", "F7")

    def run(self, screen: AnyScreen) -> None:
        screen.open_list()


class Back(Command[AnyScreen]):
    name = "back"
    label = "Back"
    about = "Back to where you came from; nothing is lost."
    keys: ClassVar[tuple[str, ...]] = ("q", "Q", "f4", "escape")
    means = "back"
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


class PageBefore(Command[AnyScreen]):
    name = "page_before"
    label = "Page up"
    about = "Where the list is longer than the screen: the page before."
    keys = ("pageup",)
    means = "page before"
    shown = ("PgUp",)
    why_not = "This is the first row"

    def run(self, screen: AnyScreen) -> None:
        screen.page(-1)

    def possible(self, screen: AnyScreen) -> bool:
        return screen.can_page(-1)


class NextPage(Command[AnyScreen]):
    name = "next_page"
    label = "Page down"
    about = "Where the list is longer than the screen: the next page."
    keys = ("pagedown",)
    means = "next page"
    shown = ("PgDn",)
    why_not = "This is the last row"

    def run(self, screen: AnyScreen) -> None:
        screen.page(1)

    def possible(self, screen: AnyScreen) -> bool:
        return screen.can_page(1)
