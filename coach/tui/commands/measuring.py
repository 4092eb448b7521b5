"""Commands of the measuring screen.  Letters reach them past the number fields, which take digits only."""

from typing import TYPE_CHECKING

from coach.tui.commands.command import Command

if TYPE_CHECKING:
    from coach.tui.screens.measure import MeasureScreen


class NextWay(Command["MeasureScreen"]):
    name = "next_way"
    label = "Next way"
    about = "Another way to measure: crosshair, gaps, offsets, clock.  What was typed stays."
    keys = ("tab",)
    shown = "Tab"
    in_line = True

    def run(self, screen: "MeasureScreen") -> None:
        screen.change_way(1)


class LastWay(Command["MeasureScreen"]):
    name = "last_way"
    label = "Way before"
    about = "The way to measure before this one."
    keys = ("shift+tab",)
    shown = "Shift+Tab"

    def run(self, screen: "MeasureScreen") -> None:
        screen.change_way(-1)


class OtherFace(Command["MeasureScreen"]):
    name = "face"
    label = "Other face"
    about = "Which face of the tape you look at: the outer one, which the beam hits, or the sticky one."
    keys = ("f", "F", "f8")
    shown = "F or F8"
    in_line = True

    def run(self, screen: "MeasureScreen") -> None:
        screen.toggle("face")


class Inches(Command["MeasureScreen"]):
    name = "inches"
    label = "Inches"
    about = "Numbers without a unit are inches; fractions such as 3/8 can be typed."
    keys = ("i", "I", "quotation_mark")
    shown = 'I or "'

    def run(self, screen: "MeasureScreen") -> None:
        screen.set_option("unit", "in")

    def possible(self, screen: "MeasureScreen") -> bool:
        return screen.way.has_unit


class Millimetres(Command["MeasureScreen"]):
    name = "millimetres"
    label = "Millimetres"
    about = "Numbers without a unit are millimetres."
    keys = ("m", "M")
    shown = "M"

    def run(self, screen: "MeasureScreen") -> None:
        screen.set_option("unit", "mm")

    def possible(self, screen: "MeasureScreen") -> bool:
        return screen.way.has_unit


class OtherUnit(Command["MeasureScreen"]):
    name = "unit"
    label = "mm/inches"
    about = "Switches between millimetres and inches."
    keys = ("f9",)
    shown = "F9"

    def run(self, screen: "MeasureScreen") -> None:
        screen.toggle("unit")

    def possible(self, screen: "MeasureScreen") -> bool:
        return screen.way.has_unit


class GapsTo(Command["MeasureScreen"]):
    name = "to"
    label = "Edge/centre"
    about = "Gaps: whether they end at the mark's near edge or at its centre."
    keys = ("e", "E", "f5")
    shown = "E or F5"

    def run(self, screen: "MeasureScreen") -> None:
        screen.toggle("to")

    def possible(self, screen: "MeasureScreen") -> bool:
        return screen.way.key == "gaps"


class OtherTool(Command["MeasureScreen"]):
    name = "tool"
    label = "Tool"
    about = "Offsets: callipers or a ruler; a ruler's reading counts as less sure."
    keys = ("r", "R", "f3")
    shown = "R or F3"

    def run(self, screen: "MeasureScreen") -> None:
        screen.toggle("tool")

    def possible(self, screen: "MeasureScreen") -> bool:
        return screen.way.key == "offsets"


class Finer(Command["MeasureScreen"]):
    name = "finer"
    label = "Finer"
    about = "Crosshair: smaller steps."
    keys = ("minus", "subtract")
    shown = "−"

    def run(self, screen: "MeasureScreen") -> None:
        screen.change_step(-1)

    def possible(self, screen: "MeasureScreen") -> bool:
        return screen.way.key == "crosshair"


class Coarser(Command["MeasureScreen"]):
    name = "coarser"
    label = "Coarser"
    about = "Crosshair: larger steps."
    keys = ("plus", "equals_sign", "add")
    shown = "+"

    def run(self, screen: "MeasureScreen") -> None:
        screen.change_step(1)

    def possible(self, screen: "MeasureScreen") -> bool:
        return screen.way.key == "crosshair"


class Accept(Command["MeasureScreen"]):
    name = "accept"
    label = "Done"
    about = "Take what stands here; it is read back to you before it counts."
    keys = ("enter", "space", "f2")
    shown = "Enter or F2"
    in_line = True

    def run(self, screen: "MeasureScreen") -> None:
        screen.accept()
