"""Commands of the screen where the program begins."""

from typing import Protocol

from coach.tui.commands.command import Command


class ListOfSessions(Protocol):
    """A list of sessions, of which not all may be shown."""

    @property
    def is_read(self) -> bool:
        """Whether all sessions are known by now."""

    def find(self) -> None:
        """Ask for words, and show the sessions of which they are true."""


class Find(Command[ListOfSessions]):
    name = "find"
    label = "Find a session"
    about = "Any session, however old: by its machine, its name, a day or month, practice, finished, unfinished."
    keys = ("f", "F", "dollar_sign")
    means = "search"
    shown = ("F", "$")
    why_not = "The sessions are still being read: in a moment"

    def run(self, screen: ListOfSessions) -> None:
        screen.find()

    def possible(self, screen: ListOfSessions) -> bool:
        return screen.is_read
