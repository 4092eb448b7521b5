"""A machine's history: what drifts and what comes, drawn over time; its visits; what is kept of its mounts."""

from collections.abc import Callable, Sequence
from functools import partial
from typing import ClassVar

from textual import work
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.content import Content
from textual.events import Resize
from textual.widgets import OptionList, Static

from coach.errors import CoachError
from coach.history.beside import beside, beside_lines, lined, rows, worst_words
from coach.history.of_machine import History
from coach.history.stored import stored_history
from coach.history.taught import forget, machine_lines
from coach.history.visits import Visit
from coach.history.words import happening_words, headline, history_lines, visit_words
from coach.machine import Machine
from coach.scenes.of_history import history_scene
from coach.session.kept import now
from coach.session.store import Store
from coach.tui.commands.command import bindings
from coach.tui.commands.registry import HISTORY
from coach.tui.screens.base import DIGITS, CoachScreen
from coach.tui.screens.choices import Choices, Entry
from coach.tui.screens.dialogs import Deed, Pick, Say
from coach.tui.screens.parts import KeysLine
from coach.tui.widgets.picture import Picture

READING = "Reading the visits …"
LEARNED = Entry("learned", "What was learned of the mounts")
HAPPENED = Entry("happened", "What happened in between")
CHECK_UP = Entry("check-up", "Begin a ten-minute check-up now")
BACK = Entry("back", "Back")
PICTURE_FROM = 18
"""Rows from which there is room for the picture."""
ALL_SAID_FROM = 34
"""Rows from which every part's sentence stands there; below, the list leads to them."""
SAID = Entry("said", "Every part, and what comes")


class HistoryScreen(CoachScreen[None]):
    """One machine's visits, the newest first."""

    commands = HISTORY
    BINDINGS: ClassVar[list[BindingType]] = [*bindings(HISTORY), *DIGITS]
    AUTO_FOCUS = "#list"

    def __init__(self, machine: str) -> None:
        super().__init__()
        self.machine = machine
        self.history: History | None = None
        self._kept: Machine | None = None

    def compose(self) -> ComposeResult:
        yield Static(id="where")
        yield Static(READING, id="said")
        yield Picture(id="picture")
        yield Choices(id="list")
        yield KeysLine(id="keys")

    def on_mount(self) -> None:
        self.query_one("#where", Static).update(Content.assemble(("▶ History", "bold reverse"), f" {self.machine}"))
        self.query_one("#keys", KeysLine).say(self.commands)
        self.read()

    @work(thread=True, exclusive=True)
    def read(self) -> None:
        """Everything anew, without keeping the screen waiting."""
        try:
            told: History | CoachError = stored_history(self.coach.folder, self.machine, now())
        except CoachError as error:
            told = error
        machines = [found.content for found in Store(self.coach.folder).machines() if found.content]
        kept = next((each for each in machines if each.name == self.machine), None)
        self.app.call_from_thread(self._has, told, kept)

    def _has(self, told: History | CoachError, kept: Machine | None) -> None:
        if isinstance(told, CoachError):
            self.query_one("#said", Static).update(Content(str(told)))
            return
        self.history, self._kept = told, kept
        self.look_again()

    def look_again(self) -> None:
        """Say everything in the wording of now."""
        if self.history is not None:
            self._lay_out()
            choices = self.query_one("#list", Choices)
            choices.offer(self._entries(self.history), self._columns(), choices.highlighted)
            choices.reopen()
            self._show()

    def _entries(self, told: History) -> Sequence[Entry]:
        visits = [
            Entry(f"visit{number}", visit_words(number, visit, worst_words(visit, self.wording)))
            for number, visit in reversed(told.numbered)
        ]
        happened = (HAPPENED,) if told.happened or told.problems else ()
        return (SAID, *((CHECK_UP,) if told.forecast else ()), LEARNED, *happened, *visits)

    def _columns(self) -> int:
        return self.size.width - 4

    def on_resize(self, event: Resize) -> None:
        self._lay_out()
        self.query_one("#list", Choices).fit_to(self._columns())

    def _lay_out(self) -> None:
        """The picture gives way first, then all sentences but the headline."""
        self.query_one("#picture").display = self.size.height >= PICTURE_FROM and self._scene() is not None
        if self.history is not None:
            lines = history_lines(self.history, self.wording)
            roomy = self.size.height >= ALL_SAID_FROM
            said = lines if roomy else (headline(self.history, self.wording), *self._comes(lines))
            self.query_one("#said", Static).update(Content("\n".join(said)))

    def _comes(self, lines: Sequence[str]) -> tuple[str, ...]:
        """What comes, in one line where the terminal is small."""
        return tuple(line for line in lines[1:] if line.startswith(("Untouched", "By its drift", "Look again")))[-1:]

    def _scene(self, chosen: int | None = None) -> object | None:
        return history_scene(self.history, chosen) if self.history is not None else None

    def _show(self) -> None:
        """The picture, with the highlighted visit marked."""
        visit = self._highlighted()
        if self.history is not None:
            self.query_one("#picture", Picture).scene = history_scene(self.history, visit)

    def _highlighted(self) -> int | None:
        choices = self.query_one("#list", Choices)
        if choices.highlighted is None or choices.highlighted >= len(choices.entries):
            return None
        key = choices.entries[choices.highlighted].key
        return int(key.removeprefix("visit")) if key.startswith("visit") else None

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        event.stop()
        self._show()

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Open what was chosen."""
        event.stop()
        told = self.history
        assert told is not None
        acts: dict[str, Callable[[], None]] = {
            SAID.key: lambda: self._say("What the visits say", history_lines(told, self.wording)),
            LEARNED.key: self._learned,
            HAPPENED.key: lambda: self._say(HAPPENED.label, self._happened(told)),
            CHECK_UP.key: lambda: self.coach.check_up(self.machine),
        }
        key = str(event.option_id)
        act = acts.get(key) or partial(self._visit, told.visit(key.removeprefix("visit")))
        act()

    def _happened(self, told: History) -> tuple[str, ...]:
        return (*map(happening_words, told.happened), *(f"Left out: {problem}" for problem in told.problems))

    def _say(self, title: str, lines: Sequence[str]) -> None:
        self.app.push_screen(Say(title, "\n".join(lines)))

    # one visit, and two

    def _visit(self, visit: Visit) -> None:
        """Its figures, and which other one to set beside it."""
        assert self.history is not None
        table = (("What", "found", "left"), *((row.what, row.found, row.left) for row in rows(visit, self.wording)))
        others = [(number, each) for number, each in reversed(self.history.numbered) if each is not visit]
        entries = [
            Entry(str(number), f"Beside {number}: {each.on} {each.title}", number=at)
            for at, (number, each) in enumerate(others, start=1)
        ]
        box = Pick(f"{visit.on} {visit.title}", ("\n".join(lined(table)),), (*entries, BACK))
        self.app.push_screen(box, lambda key: self._beside(visit, key) if key not in (None, BACK.key) else None)

    def _beside(self, visit: Visit, key: str | None) -> None:
        assert self.history is not None
        other = self.history.visit(str(key))
        self._say("Two visits beside each other", beside_lines(beside(visit, other, self.wording)))

    # mounts

    def _learned(self) -> None:
        """What is kept of each mount; forgetting it is a deed of its own."""
        if self._kept is None:
            self._say(LEARNED.label, ("This machine is not described any more: only its visits are left.",))
            return
        known = [mount.mirror for mount in self._kept.mounts if mount.learned is not None]
        entries = (BACK, *(Entry(str(mirror), f"Forget what was learned of mirror {mirror}") for mirror in known))
        box = Deed(LEARNED.label, ("\n".join(machine_lines(self._kept)),), entries)
        self.app.push_screen(box, lambda key: self._forget(int(key)) if key and key.isdigit() else None)

    def _forget(self, mirror: int) -> None:
        try:
            change = forget(Store(self.coach.folder), self.machine, mirror)
        except CoachError as error:
            self.coach.tell(str(error))
            return
        self._kept = change.after
        self.mention(f"Forgotten: what was learned of mirror {mirror}'s mount.", "done")

    def help_paragraphs(self) -> tuple[str, ...]:
        return (
            "Each visit has a disc where the beam was found and a ring where it was left: how far off the worst "
            "station was. The line from ring to disc is the drift; what is turned at a visit leads down again.",
            "Up and Down mark a visit in the picture; Enter shows its figures, and sets another one beside it.",
            *(history_lines(self.history, self.wording) if self.history else ()),
        )
