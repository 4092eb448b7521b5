"""Commands of the form that describes a machine, and the one that opens it."""

from typing import TYPE_CHECKING, Protocol

from coach.tui.commands.command import Command
from coach.tui.commands.everywhere import Help

if TYPE_CHECKING:  # not before the first paint
    from coach.describing.question import Question


class Listing(Protocol):
    """A list with machines in it."""

    @property
    def highlighted_machine(self) -> str | None:
        """The machine's row that is highlighted, if one is."""

    def edit_machine(self) -> None:
        """Change the description of the highlighted machine."""


class Form(Protocol):
    """A form that asks about a machine, question by question."""

    @property
    def question(self) -> "Question | None":
        """The question that is asked; None where all values are listed."""

    def guess(self) -> None:
        """Something usual stands in for what is asked."""

    def go_after(self) -> None:
        """The question after this one."""

    def go_before(self) -> None:
        """The question before this one."""

    def enough(self) -> None:
        """All values, the rest guessed."""

    def other_unit(self) -> None:
        """Millimetres or inches."""


class Edit(Command[Listing]):
    name = "edit"
    label = "Edit machine"
    about = "Change the description of the highlighted machine; sessions keep the machine as it was."
    keys = ("e", "E", "f2")
    means = "go ahead"
    shown = ("E", "F2")
    in_line = True
    why_not = "Highlight a machine first: its description is then changed"

    def run(self, screen: Listing) -> None:
        screen.edit_machine()

    def possible(self, screen: Listing) -> bool:
        return screen.highlighted_machine is not None


class DontKnow(Command[Form]):
    name = "dont_know"
    label = "Don't know"
    about = "Not measured, or not to be seen: it is guessed and marked as guessed; on to the next question."
    keys = ("d", "D", "f12")
    means = "guess"
    shown = ("D", "F12")
    in_line = True
    why_not = "This cannot be guessed: look or measure"

    def run(self, screen: Form) -> None:
        screen.guess()

    def possible(self, screen: Form) -> bool:
        return screen.question is None or not screen.question.required


class Before(Command[Form]):
    name = "before"
    label = "Before"
    about = "Back to the question before; what is typed stays."
    keys = ("b", "B", "shift+tab")
    means = "field before"
    shown = ("B", "Shift+Tab")
    in_line = True

    def run(self, screen: Form) -> None:
        screen.go_before()


class NextQuestion(Command[Form]):
    name = "next_question"
    label = "Next question"
    about = "What is answered or typed stands; on to the next question."
    keys = ("tab",)
    means = "next field"
    shown = ("Tab",)
    why_not = "All values stand here: the first row keeps the machine"

    def run(self, screen: Form) -> None:
        screen.go_after()

    def possible(self, screen: Form) -> bool:
        return screen.question is not None


class Enough(Command[Form]):
    name = "enough"
    label = "Guess the rest"
    about = "Enough answered: the rest is guessed; on to the list of all values, where each can be changed."
    keys = ("a", "A", "f3")
    means = "list"
    shown = ("A", "F3")
    in_line = True
    why_not = "All values stand here: the first row keeps the machine"

    def run(self, screen: Form) -> None:
        screen.enough()

    def possible(self, screen: Form) -> bool:
        return screen.question is not None


class DescribingUnit(Command[Form]):
    name = "unit"
    label = "mm/inches"
    about = "Lengths without a unit are millimetres, or inches; a unit behind a number always counts: 23.6 in."
    keys = ("f9",)
    means = "unit"
    shown = ("F9",)

    def run(self, screen: Form) -> None:
        screen.other_unit()


class DescribingHelp(Help):
    """Where words are typed a question mark is one of them."""

    def short(self, screen: object) -> str:
        return "F1" if getattr(screen, "typing", False) else "?"
