"""The machine behind a row of the first screen: its picture, and what is known and due of it."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from coach.shown import Wording
from coach.tui.widgets.bigfont import set_text

if TYPE_CHECKING:
    from coach.pictures.plan import PlanScene
    from coach.session.summary import Outline

BESIDE = (110, 20)
"""Columns and rows from which the machine of the highlighted row stands beside the list."""


LARGEST = 9
"""Rows that its name, and how it stands, may take each in large letters."""


@dataclass(frozen=True)
class Shown:
    """A machine and what of it is due."""

    machine: "Outline"
    open: bool = False
    """Whether a session on it waits to be gone on with."""
    invented: bool = False
    """Whether it is the practice bench's."""
    upkeep: str = ""
    """What upkeep is due, in one line."""


def plan_of(machine: "Outline") -> "PlanScene":
    """The machine from above: its travel, and the side of its mirrors."""
    from coach.pictures.plan import PlanScene

    return PlanScene(machine.width, machine.depth, machine.side, machine.mirror1_gap, machine.mirror2_gap)


def about(shown: Shown, state: str, wording: Wording) -> tuple[str, ...]:
    """Its name, how its last session left it (nothing where that is not known), its size, what is due."""
    machine = shown.machine
    size = f"{wording.length(machine.width, 0)} × {wording.length(machine.depth, 0)}"
    due = "A session is open: go on." if shown.open else ""
    last = "An invented machine, no laser." if shown.invented else f"{state[:1].upper()}{state[1:]}." if state else ""
    care = f"Upkeep due: {shown.upkeep}." if shown.upkeep else ""
    rows = (machine.name, last, due, care, f"Travel {size}, mirrors on the {machine.side}.")
    return tuple(row for row in rows if row)


def enlarged(words: tuple[str, ...], columns: int, *, ascii_only: bool) -> tuple[str, ...]:
    """The same, its name and how it stands in letters that are read standing."""
    rows: list[str] = []
    for text in words[:2]:
        rows += [*set_text(text, columns, LARGEST, ascii_only=ascii_only, largest="small").rows, ""]
    return (*rows, *words[2:])
