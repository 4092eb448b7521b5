"""What all full screens of the coach share: commands by key, help, and a way back."""

from functools import partial
from typing import ClassVar, TypeVar

from textual.events import Key, Paste
from textual.screen import Screen

from coach.shown import Wording
from coach.tui.commands.command import Commands
from coach.tui.program import Moment, Program, program_of
from coach.tui.screens.choices import Choices
from coach.tui.screens.parts import KeysLine, Passing

IDLE = "{key} does nothing here; ? lists the keys"
NOTHING_TO_FILL = "What was pasted was not taken: nothing is typed in here."
NAMED = ("backspace", "delete", "insert", "home", "end", "left", "right", "tab", "escape", "pageup", "pagedown")
"""Keys without a character that a person presses on purpose."""

ResultT = TypeVar("ResultT")


class CoachScreen(Screen[ResultT]):
    """A screen with commands."""

    commands: ClassVar[Commands] = ()
    hint_from: ClassVar[int] = 30
    """Rows of the terminal from which a hint has a row of its own."""

    @property
    def coach(self) -> Program:
        """The program around it."""
        return program_of(self.app)

    @property
    def wording(self) -> Wording:
        """How this person wants lengths and turns said."""
        return self.coach.wording

    def action_command(self, name: str) -> None:
        """Run the screen's command of that name, or say why it does nothing now."""
        for command in self.commands:
            if command.name == name:
                if command.possible(self):
                    command.run(self)
                else:
                    self.mention(command.why_not)

    def action_digit(self, number: int) -> None:
        """Take the entry with that number from the screen's list."""
        if not any(choices.take(number) for choices in self.query(Choices)):
            self.mention(IDLE.format(key=number))

    def on_key(self, event: Key) -> None:
        """A key that nothing here waits for is told so, briefly."""
        if any(key in self.active_bindings for key in event.aliases):
            return
        if event.is_printable and event.character:
            self.mention(IDLE.format(key=event.character))
        elif event.key in NAMED or event.key.lstrip("f").isdigit():
            self.mention(IDLE.format(key=event.key.capitalize()))

    def on_screen_resume(self) -> None:
        """Back from a box or another screen: something can be chosen again."""
        for choices in self.query(Choices):
            choices.reopen()

    def on_choices_not_said(self, event: Choices.NotSaid) -> None:
        """Say what the key chose, or why it took nothing."""
        event.stop()
        self.mention(event.words, "chosen" if event.chose else "nothing")

    def on_paste(self, event: Paste) -> None:
        """Nothing that was pasted goes missing without a word."""
        event.stop()
        self.mention(NOTHING_TO_FILL)

    def mention(self, words: str, passing: Passing = "nothing", *, lasts: bool = False) -> None:
        """Say something briefly where the keys stand; what `lasts` is not overtaken by what the screen does next."""
        for keys in self.query(KeysLine):
            keys.mention(words, passing, lasts=lasts)

    def offer_hint(self, moment: Moment) -> None:
        """Say what can be done here, the first time that there is room; the screen's keys are shown after this."""
        for keys in self.query(KeysLine):
            keys.hint_from = self.hint_from
            keys.offer(self.coach.hint(moment), partial(self.coach.saw, moment))

    def help_paragraphs(self) -> tuple[str, ...]:
        """Help for this moment."""
        return ()

    def open_help(self) -> None:
        """Show help, keys and words."""
        self.coach.open_help(self.help_paragraphs(), self.commands)

    def open_settings(self) -> None:
        """Show the settings; afterwards this screen may have to say things otherwise."""
        self.coach.open_settings(self.look_again)

    def open_list(self) -> None:
        """A list of all commands to search in."""
        self.coach.open_commands(self.commands, self.action_command)

    def next_look(self) -> None:
        """The next set of colours."""
        self.coach.next_look()

    def look_again(self) -> None:
        """Say everything anew, as the settings are now."""

    def page(self, way: int) -> None:
        """The page of the list before (-1) or after (1)."""
        for choices in self.query(Choices):
            choices.page(way)

    def can_page(self, way: int) -> bool:
        """Whether the list goes on above (-1) or below (1)."""
        return any(choices.can_page(way) for choices in self.query(Choices) if choices.display)

    def save_draft(self) -> None:
        """Keep on disk what is being typed, where there is anything."""

    def leave(self) -> None:
        """Back to the screen before."""
        self.dismiss()


DIGITS = [(str(n), f"digit({n})", "Take") for n in range(1, 10)]
"""Bindings of the digits, for screens with a numbered list."""
