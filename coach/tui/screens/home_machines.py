"""What is done with a machine from the first screen: begin a session, describe it, keep it well."""

from collections.abc import Callable
from functools import partial, wraps
from pathlib import Path
from typing import TYPE_CHECKING, Concatenate, ParamSpec

from coach.errors import CoachError
from coach.tui.screens.base import CoachScreen
from coach.tui.screens.choices import Choices, Entry
from coach.tui.screens.home_rows import NOTHING
from coach.visit import VISIT_PARTS

if TYPE_CHECKING:
    from coach.describing.drafts import Draft

VISIT = Entry("visit", "It cuts worse than it did: the whole visit")
ALONE = Entry("begin", "Align the beam alone")
ONE_PART = Entry("part", "One part of a visit")
ON_PAPER = Entry("paper", "Worksheet: print one, type one in")
HISTORY = Entry("history", "History: what drifts, when to look again")
UPKEEP = Entry("upkeep", "Upkeep: what is due, what to do")


Given = ParamSpec("Given")
Way = Callable[Concatenate["MachinesAtHome", Given], None]
"""A way to a screen."""


def once_ready(way: Way[Given]) -> Way[Given]:
    """A way that needs the engine: gone at once, or as soon as that is loaded."""

    @wraps(way)
    def go(home: "MachinesAtHome", /, *args: Given.args, **rest: Given.kwargs) -> None:
        home.coach.when_ready(partial(way, home, *args, **rest))

    return go


class MachinesAtHome(CoachScreen[None]):
    """A list with machines in it, and what can be chosen of one."""

    def __init__(self) -> None:
        super().__init__()
        self._listing = NOTHING

    def load(self) -> object:
        """Read the data folder anew."""
        raise NotImplementedError

    @property
    def highlighted_machine(self) -> str | None:
        """The key of the machine's row that is highlighted, if one is."""
        choices = self.query_one("#list", Choices)
        if choices.highlighted is None or choices.highlighted >= len(choices.entries):
            return None
        key = choices.entries[choices.highlighted].key
        return key if key in self._listing.names else None

    def machine_chosen(self, key: str) -> None:
        """Begin a visit or a session on it, change its description, or see to its upkeep."""
        from coach.tui.screens.dialogs import Pick

        name = self._listing.names[key]
        state = self._listing.states.get(key, "")
        path = self._listing.paths[key]
        actions = {
            "visit": lambda: self.coach.new_visit(path, VISIT_PARTS[0]),
            "begin": lambda: self.coach.new_session(path),
            "part": lambda: self._one_part(path),
            "change": lambda: self._change(path),
            "upkeep": lambda: self.keep_well(name),
            "paper": lambda: self._on_paper(path),
            "history": lambda: self._look_back(name),
        }
        entries = (VISIT, ALONE, ONE_PART, Entry("change", "Change its description"), UPKEEP, ON_PAPER, HISTORY)
        box = Pick(name, (f"{state[:1].upper()}{state[1:]}.",) if state else (), entries)
        self.app.push_screen(box, lambda answer: actions[answer]() if answer else None)

    @once_ready
    def _one_part(self, machine: Path) -> None:
        """A visit that begins with one part; the others can be gone to from there."""
        from coach.steps.parts.table import PARTS
        from coach.steps.visit_words import PART_LEAD
        from coach.tui.screens.dialogs import Pick

        parts = {f"part{number}": part for number, part in enumerate(PARTS)}
        entries = [Entry(key, f"{part.title} (about {part.minutes} min)") for key, part in parts.items()]
        box = Pick("Which part?", (PART_LEAD,), entries)
        self.app.push_screen(box, lambda key: self.coach.new_visit(machine, parts[key].name) if key else None)

    @once_ready
    def _on_paper(self, machine: Path) -> None:
        """A worksheet is written to be printed, or one is typed in."""
        from coach.tui.screens.home_paper import on_paper

        on_paper(self.app, machine)

    @once_ready
    def _look_back(self, machine: str) -> None:
        """The history of the machine of that name."""
        from coach.tui.screens.history import HistoryScreen

        self.app.push_screen(HistoryScreen(machine))

    @once_ready
    def keep_well(self, machine: str) -> None:
        """The upkeep of the machine of that name."""
        from coach.tui.screens.upkeep import UpkeepScreen
        from coach.upkeep.log import MachineLog

        try:
            log = MachineLog.open(machine, self.coach.folder)
        except CoachError as error:
            self.coach.tell(str(error))
            return
        self.app.push_screen(UpkeepScreen(log))

    @property
    def _highlighted_session(self) -> Path | None:
        """The file of the session whose row is highlighted, if one is."""
        choices = self.query_one("#list", Choices)
        if choices.highlighted is None or choices.highlighted >= len(choices.entries):
            return None
        key = choices.entries[choices.highlighted].key
        return None if key in self._listing.names else self._listing.paths.get(key)

    @property
    def can_report(self) -> bool:
        """Whether a session is highlighted."""
        return self._highlighted_session is not None

    @once_ready
    def open_report(self) -> None:
        """The highlighted session as a page, a message, or tables."""
        from coach.tui.screens.report import report_of_file

        path = self._highlighted_session
        if path is not None:
            report_of_file(self.app, path)

    def edit_machine(self) -> None:
        """Change the description of the highlighted machine."""
        key = self.highlighted_machine
        if key is not None:
            self._change(self._listing.paths[key])

    @once_ready
    def _change(self, path: Path) -> None:
        from coach.describing.drafts import begin_change

        try:
            draft = begin_change(self.coach.folder, path)
        except CoachError as error:
            self.coach.tell(str(error))
            return
        self._show(draft)

    @once_ready
    def describe(self) -> None:
        """A new machine; half-described ones stay as they are."""
        from coach.describing.drafts import begin

        self._show(begin(self.coach.folder))

    @once_ready
    def _show(self, draft: "Draft") -> None:
        from coach.tui.screens.describe import DescribeScreen

        self.app.push_screen(DescribeScreen(draft), self._described)

    def _described(self, path: object) -> None:
        """The machine is kept: say where, and offer a session on it."""
        from coach.tui.screens.dialogs import Pick

        if not isinstance(path, Path):
            return
        begins = {
            "visit": lambda: self.coach.new_visit(path, VISIT_PARTS[0]),
            "begin": lambda: self.coach.new_session(path),
        }
        entries = (VISIT, ALONE, Entry("home", "Back to the list"))
        box = Pick("Kept", (f"The machine is kept in {path}. Its description can be changed at any time.",), entries)
        self.app.push_screen(box, lambda answer: begins[answer]() if answer in begins else None)

    def go_on_with(self, draft: "Draft") -> None:
        """Go on with a half-described machine, or throw the half away."""
        from coach.tui.screens.dialogs import Deed

        what = "The machine itself stays as it is." if draft.machine else "It is no machine yet."
        entries = (Entry("on", "Go on"), Entry("away", "Throw these answers away"))
        box = Deed(draft.name, (f"Half described, kept in {draft.path}. {what}",), entries)

        def answered(key: str | None) -> None:
            if key == "on":
                self._show(draft)
            elif key == "away":
                self._throw_away(draft)

        self.app.push_screen(box, answered)

    def _throw_away(self, draft: "Draft") -> None:
        from coach.describing.drafts import discard

        try:
            discard(draft)
        except CoachError as error:
            self.coach.tell(str(error))
        self.load()
