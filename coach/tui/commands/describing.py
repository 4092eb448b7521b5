"""Commands of the form that describes a machine, and the one that opens it."""

from typing import TYPE_CHECKING

from coach.tui.commands.command import Command
from coach.tui.commands.everywhere import Help

if TYPE_CHECKING:
    from coach.tui.screens.describe import DescribeScreen
    from coach.tui.screens.home import HomeScreen


class Edit(Command["HomeScreen"]):
    name = "edit"
    label = "Edit machine"
    about = "Change the description of the highlighted machine; sessions keep the machine as it was."
    keys = ("e", "E", "f2")
    shown = "E or F2"
    in_line = True
    why_not = "Highlight a machine first: its description is then changed"

    def run(self, screen: "HomeScreen") -> None:
        screen.edit_machine()

    def possible(self, screen: "HomeScreen") -> bool:
        return screen.highlighted_machine is not None


class DontKnow(Command["DescribeScreen"]):
    name = "dont_know"
    label = "Don't know"
    about = "Not measured, or not to be seen: it is guessed and marked as guessed; on to the next question."
    keys = ("d", "D", "f8")
    shown = "D or F8"
    in_line = True
    why_not = "This cannot be guessed: look or measure"

    def run(self, screen: "DescribeScreen") -> None:
        screen.guess()

    def possible(self, screen: "DescribeScreen") -> bool:
        return screen.question is None or not screen.question.required


class Before(Command["DescribeScreen"]):
    name = "before"
    label = "Before"
    about = "Back to the question before; what is typed stays."
    keys = ("b", "B", "f3", "pageup")
    shown = "B or F3"
    in_line = True

    def run(self, screen: "DescribeScreen") -> None:
        screen.go_before()


class Enough(Command["DescribeScreen"]):
    name = "enough"
    label = "Guess the rest"
    about = "Enough answered: the rest is guessed; on to the list of all values, where each can be changed."
    keys = ("e", "E", "f2", "pagedown")
    shown = "E or F2"
    in_line = True
    why_not = "All values stand here: the first row keeps the machine"

    def run(self, screen: "DescribeScreen") -> None:
        screen.enough()

    def possible(self, screen: "DescribeScreen") -> bool:
        return screen.question is not None


class DescribingUnit(Command["DescribeScreen"]):
    name = "unit"
    label = "mm/inches"
    about = "Lengths without a unit are millimetres, or inches; a unit behind a number always counts: 23.6 in."
    keys = ("f9",)
    shown = "F9"

    def run(self, screen: "DescribeScreen") -> None:
        screen.other_unit()


class DescribingHelp(Help):
    """Where words are typed a question mark is one of them."""

    def short(self, screen: object) -> str:
        return "F1" if getattr(screen, "typing", False) else "?"
