"""The command that writes a copy of a session to be given away."""

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
