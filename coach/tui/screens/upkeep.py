"""A machine's upkeep: what is due, what to do and what to beware of; said done with Enter, taken back, intervals."""

from collections.abc import Callable
from datetime import date, datetime
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Horizontal, VerticalScroll
from textual.content import Content
from textual.events import Resize
from textual.widgets import OptionList, Static

from coach.errors import CoachError
from coach.steps.moved_words import comparison_lines
from coach.tui.commands.command import bindings
from coach.tui.commands.registry import UPKEEP
from coach.tui.screens.arrangements import LISTED, SMALLEST, TALL
from coach.tui.screens.band import band_rows, briefest
from coach.tui.screens.base import DIGITS
from coach.tui.screens.choices import Choices, Entry
from coach.tui.screens.dialogs import Deed
from coach.tui.screens.parts import Cautions, KeysLine
from coach.tui.screens.upkeep_ahead import AheadScreen
from coach.tui.screens.upkeep_asking import ask_hours, ask_interval
from coach.tui.widgets.bigtype import BigText
from coach.upkeep.items import ItemName
from coach.upkeep.log import MachineLog
from coach.upkeep.standing import Standing, due_first, unnoted
from coach.upkeep.words import (
    due_words,
    entry_words,
    item_lines,
    next_words,
    readback_words,
    standing_words,
    unnoted_words,
)

LIST_SHARE = 0.5
TITLE_FROM = 27
"""Rows from which the highlighted item stands in large letters above the list."""
LEAST_ROWS = 16
"""Rows below which cautions, the list and the keys are all there is room for; the help tells what to do."""
SAY_DONE = "Enter asks whether {title} is done today"
SAY_CHECK_UP = "Enter: begin {title}, or note it"
CHECK_UP = (Entry("begin", "Begin it now"), Entry("done", "It was done today"))
DONE = (Entry("done", "Yes, it is done: note it"), Entry("not", "No: back to the list"))
AGAIN = "It is noted as done today already; nothing was entered."


class UpkeepScreen(AheadScreen):
    """The items of one machine, those that are due first, in an order that stays while they are looked at."""

    commands = UPKEEP
    hint_from = 16
    BINDINGS: ClassVar[list[BindingType]] = [*bindings(UPKEEP), *DIGITS]
    AUTO_FOCUS = "#list"

    def __init__(self, log: MachineLog) -> None:
        super().__init__(log)
        self._left = False
        self._noted: ItemName | None = None
        """The item that was noted a moment ago: the headline says so as long as it is looked at."""
        standing = log.standing(_today())
        due = due_first(standing)
        self._order: tuple[ItemName, ...] = tuple(
            each.item.name for each in (*due, *(each for each in standing if not each.is_due))
        )

    def compose(self) -> ComposeResult:
        yield Static(id="where")
        yield BigText(id="action", max_rows=5)
        yield Static(id="said")
        with Horizontal(id="middle"):
            yield Choices(id="list")
            with VerticalScroll(id="scroll", can_focus=False):
                yield BigText(id="figure", max_rows=7)
                yield Static(id="text")
        yield Cautions(id="cautions")
        yield KeysLine(id="keys")

    def on_mount(self) -> None:
        self.offer_hint("upkeep")
        choices = self.query_one("#list", Choices)
        choices.calm = choices.deliberate = True
        self.show_items(self._summary())
        self.look_ahead()

    def on_resize(self, event: Resize) -> None:
        self.query_one("#list", Choices).fit_to(self._lay_out())
        self.show_item()

    # what stands there

    @property
    def standing(self) -> tuple[Standing, ...]:
        """How the items stand now, in the order in which they are listed."""
        found = {each.item.name: each for each in self.log_of_machine.standing(_today())}
        return tuple(found[name] for name in self._order)

    @property
    def highlighted(self) -> Standing | None:
        """The item that is looked at."""
        at = self.query_one("#list", Choices).highlighted
        return None if at is None else self.standing[at]

    def _summary(self) -> str:
        due = self.log_of_machine.due(_today())
        if due:
            return f"Due: {due_words(due)}."
        comes = next_words(self.log_of_machine.standing(_today()))
        calm = unnoted_words(unnoted(self.log_of_machine.standing(_today())))
        return ". ".join(filter(None, (f"Nothing is due{f'; {comes}' if comes else ''}", calm))) + "."

    def show_items(self, said: str) -> None:
        """Show every item as it stands now, and something said."""
        choices = self.query_one("#list", Choices)
        rows = [Entry(each.item.name, f"{each.item.title}: {standing_words(each)}") for each in self.standing]
        choices.offer(rows, self._lay_out(), choices.highlighted)
        self.query_one("#said", Static).update(Content(said))
        if self.size.height < LEAST_ROWS:
            self.mention(said.removeprefix("! "), "nothing" if said.startswith("! ") else "told")
        self.say_where()
        self.show_item()

    def _lay_out(self) -> int:
        """Set list and text side by side, or one above the other; the list's columns."""
        width, beside = self.size.width, self.size.width >= SMALLEST[0]
        self.query_one("#middle").styles.layout = "horizontal" if beside else "vertical"
        choices, scroll = self.query_one("#list", Choices), self.query_one("#scroll")
        columns = int(width * LIST_SHARE) if beside else width
        choices.styles.width = columns if beside else "100%"
        choices.styles.height = "100%" if beside else "1fr"
        scroll.styles.width, scroll.styles.height = ("1fr", "100%") if beside else ("100%", "1fr")
        self.query_one("#action").display = self.size.height >= TITLE_FROM
        roomy = self.size.height >= LEAST_ROWS
        for part in ("#where", "#said", "#scroll"):
            self.query_one(part).display = roomy
        return columns - 4

    def show_item(self) -> None:
        """Title, what to do and the cautions of the highlighted item; without one, of none."""
        each, width, height = self.highlighted, self.size.width - 2, self.size.height
        own = each.item.own_cautions if each else ()
        small = height < SMALLEST[1] or width < SMALLEST[0] - 2
        rows = briefest(own, width) if small else band_rows(own, width, listed=height >= LISTED, whole=height >= 40)
        self.query_one("#cautions", Cautions).say(rows)
        figure = self.query_one("#figure", BigText)
        figure.text, figure.display = standing_words(each) if each else "", each is not None and height >= TALL
        self._noted = self._noted if each and each.item.name == self._noted else None
        title = each.item.title.capitalize() if each else "Upkeep"
        self.query_one("#action", BigText).text = f"Noted: {each.item.title}" if each and self._noted else title
        self.query_one("#text", Static).update(Content("\n".join(self._item_lines(each)) if each else ""))
        self.query_one("#scroll", VerticalScroll).scroll_home(animate=False)
        self.query_one("#keys", KeysLine).say(self.commands)

    def show_ahead(self) -> None:
        if (each := self.highlighted) and each.item.name == "check-up":
            self.query_one("#text", Static).update(Content("\n".join(self._item_lines(each))))

    def _item_lines(self, each: Standing) -> tuple[str, ...]:
        """All that is told of an item; of a check-up when to look again by the drift, and what the last one said,
        come first."""
        if each.item.name != "check-up":
            return item_lines(each)
        seen = self.log_of_machine.check_up()
        return (
            *self.ahead[1],
            "",
            *((*comparison_lines(seen, self.wording), "") if seen else ()),
            *item_lines(each),
        )

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        event.stop()
        self.show_item()

    def on_choices_not_said(self, event: Choices.NotSaid) -> None:
        """Say what Enter would note, or why the key took nothing."""
        event.stop()
        event.prevent_default()  # said here in other words than elsewhere
        each = self.highlighted
        self.show_item()
        if event.chose and each:
            words = SAY_CHECK_UP if each.item.name == "check-up" else SAY_DONE
            self.mention(words.format(title=each.item.title), "chosen")
        else:
            self.mention(event.words)

    # entries

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Ask whether it is done; once a day is enough, so that a key pressed twice makes one entry."""
        event.stop()
        each = next(each for each in self.standing if each.item.name == event.option_id)
        if each.item.name == "check-up":
            self._ask_check_up(each)
            return
        self._ask_done(each)
        self.query_one("#list", Choices).reopen()

    def _ask_done(self, each: Standing) -> None:
        """Read back what is about to be noted, unless it is noted today."""
        if self._noted_today(each):
            self.show_items(AGAIN)
            return
        said = readback_words(each.item, _today(), self.log_of_machine.hours(_today()))
        box = Deed(each.item.title.capitalize(), (said,), DONE)
        self.app.push_screen(box, lambda key: self._done(each) if key == "done" else None)

    def _noted_today(self, each: Standing) -> bool:
        return each.last == _today() and each.by == "log"

    def _ask_check_up(self, each: Standing) -> None:
        """Begin it, which notes itself; or note one that was made without the program."""
        acts: dict[str, Callable[[], None]] = {"begin": self._begin_check_up, "done": lambda: self._done(each)}
        box = Deed(each.item.title.capitalize(), (each.item.do,), CHECK_UP)
        self.app.push_screen(box, lambda key: acts[key]() if key else None)

    def _begin_check_up(self) -> None:
        self._left = True
        self.coach.check_up(self.log_of_machine.machine)

    def _done(self, each: Standing) -> None:
        """Note it, unless it is noted today."""
        if self._noted_today(each):
            self.show_items(AGAIN)
            return
        self._noted = each.item.name
        self.enter(lambda: self.log_of_machine.done(each.item.name))

    def on_screen_resume(self) -> None:
        """Back from a visit: what it did counts now."""
        super().on_screen_resume()
        if not self._left:
            return
        self._left = False
        try:
            self.log_of_machine = MachineLog.open(self.log_of_machine.machine, self.coach.folder)
        except CoachError as error:
            self.coach.tell(str(error))
            return
        self.show_items(self._summary())
        self.look_ahead()

    def enter(self, act: Callable[[], None]) -> None:
        """Make an entry, and say what was entered, or why not."""
        try:
            act()
        except CoachError as error:
            self._noted = None
            self.show_items(f"! Not entered. {error}")
            return
        self.tell_entry()

    def tell_entry(self) -> None:
        """Say what was entered last, and what is due now."""
        last = self.log_of_machine.last
        self.show_items(f"{entry_words(last)}. U takes it back. {self._summary()}" if last else self._summary())

    def undo(self) -> None:
        """Take the last entry back and say which."""
        try:
            entry = self.log_of_machine.undo()
        except CoachError as error:
            self.show_items(str(error))
            return
        self._noted = None
        self.show_items(f"Taken back: {entry_words(entry)}.")

    def open_interval(self) -> None:
        """How often the highlighted item is due."""
        each = self.highlighted
        if each is not None:
            self.app.push_screen(
                ask_interval(self.log_of_machine, each.item), lambda done: self.tell_entry() if done else None
            )

    def open_hours(self) -> None:
        """What the counter of hours of use shows."""
        ask = ask_hours(self.log_of_machine)
        self.app.push_screen(ask, lambda done: self.tell_entry() if done else None)

    def help_paragraphs(self) -> tuple[str, ...]:
        each = self.highlighted
        cautions = tuple(f"{c.signal}: {c.text} ({c.source})" for c in each.item.cautions) if each else ()
        return (
            "What keeps the machine well, what is due first. Up, Down or a digit shows what is to be done; Enter "
            "asks whether it is done today, and notes it. What a visit did counts by itself.",
            "How often is common practice; your machine's manual comes first: E changes it, also to never.",
            "H takes what the counter of hours of use shows, where the machine has one: some items go by use too.",
            f"The log is in {self.log_of_machine.path}.",
            *((f"{each.item.title.capitalize()}: {' '.join(filter(None, self._item_lines(each)))}",) if each else ()),
            *cautions,
        )


def _today() -> date:
    return datetime.now().astimezone().date()
