"""A command: one class each, which feeds the keys, the key line, the list of commands and the help."""

from collections.abc import Iterable
from typing import Any, ClassVar, Generic, TypeVar

from textual.binding import Binding

from coach.tui.commands.meanings import Meaning

S = TypeVar("S")


class Command(Generic[S]):
    """Something a person can do with a key on screens of the kind `S`: whatever does what `run` asks of it.

    Screens list their commands, so a command knows no screen; it says in a protocol what it needs of one.
    """

    name: ClassVar[str]
    """Unique on a screen; what actions and the list of commands call it."""
    label: ClassVar[str]
    """One or two words for the key line and the list of commands."""
    about: ClassVar[str]
    """One sentence for the help."""
    keys: ClassVar[tuple[str, ...]]
    """As Textual names them; letters in both cases, and a twin that is no letter."""
    means: ClassVar[Meaning]
    """What its keys mean on every screen."""
    shown: ClassVar[tuple[str, ...]]
    """The keys as a person reads them, the first of them in the key line."""
    in_line: ClassVar[bool] = False
    """Whether the key line shows it."""
    why_not: ClassVar[str] = "That key does nothing here now; ? lists the keys"
    """What to say where it is not possible."""

    def short(self, screen: S) -> str:
        """The first of the keys that acts now, as a person reads it: no letter while a number is typed."""
        first = self.shown[0]
        letter = len(first) == 1 and first.isalpha()
        return self.shown[-1] if letter and getattr(screen, "typing", False) else first

    @property
    def shown_keys(self) -> str:
        """All its keys as a person reads them: "Enter, C or F8"."""
        return " or ".join(self.shown)

    @classmethod
    def id(cls) -> str:
        """What the program's map of the person's own keys calls this command."""
        return cls.__name__.lower()

    def now(self, screen: S) -> str:
        """What it would do now, for the key line."""
        return self.label

    def run(self, screen: S) -> None:
        """Do it."""
        raise NotImplementedError

    def possible(self, screen: S) -> bool:
        """Whether it does something now."""
        return True


Commands = tuple[Command[Any], ...]


def bindings(commands: Iterable[Command[Any]]) -> list[Binding]:
    """The Textual bindings for a screen's commands."""
    return [
        Binding(",".join(command.keys), f"command({command.name!r})", command.label, show=False, id=command.id())
        for command in commands
    ]
