"""The commands that write a copy of a session to be given away, and take one up."""

from typing import Protocol

from coach.tui.commands.command import Command


class Shared(Protocol):
    """A session that is looked at."""

    def share(self) -> None:
        """List what is personal, then write a copy."""


class Share(Command[Shared]):
    name = "share"
    label = "Share"
    about = "A copy to give away: what is personal in it is listed first, names and notes can be left out."
    keys = ("x", "X", "at")
    means = "share"
    shown = ("X", "@")

    def run(self, screen: Shared) -> None:
        screen.share()


class ListOfFiles(Protocol):
    """A list of what the data folder holds."""

    def take_up(self) -> None:
        """Ask for a file from elsewhere, and keep it."""


class TakeUp(Command[ListOfFiles]):
    name = "take_up"
    label = "Take up a file"
    about = "A session's file from elsewhere: it is checked, told what is in it, and kept beside what is here."
    keys = ("i", "I", "semicolon")
    means = "take up"
    shown = ("I", ";")

    def run(self, screen: ListOfFiles) -> None:
        screen.take_up()
