"""What all full screens of the coach share: commands by key, help, and a way back."""

from typing import TYPE_CHECKING, ClassVar, TypeVar, cast

from textual.screen import Screen

from coach.tui.commands.command import Commands

if TYPE_CHECKING:
    from coach.tui.app import CoachApp

ResultT = TypeVar("ResultT")


class CoachScreen(Screen[ResultT]):
    """A screen with commands."""

    commands: ClassVar[Commands] = ()

    @property
    def coach(self) -> "CoachApp":
        """The app, by its own type."""
        return cast("CoachApp", self.app)

    def action_command(self, name: str) -> None:
        """Run the screen's command of that name, if it does something now."""
        for command in self.commands:
            if command.name == name and command.possible(self):
                command.run(self)

    def action_digit(self, number: int) -> None:
        """Take the entry with that number from the screen's list."""
        from coach.tui.screens.parts import Choices

        for choices in self.query(Choices):
            choices.take(number)

    def help_paragraphs(self) -> tuple[str, ...]:
        """Help for this moment."""
        return ()

    def open_help(self) -> None:
        """Show help, keys and words."""
        from coach.tui.screens.help import HelpScreen

        self.app.push_screen(HelpScreen(self.help_paragraphs(), self.commands))

    def save_draft(self) -> None:
        """Keep on disk what is being typed, where there is anything."""

    def leave(self) -> None:
        """Back to the screen before."""
        self.dismiss()


DIGITS = [(str(n), f"digit({n})", "Take") for n in range(1, 10)]
"""Bindings of the digits, for screens with a numbered list."""
