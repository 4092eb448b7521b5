"""A box with fields to type into; what was understood is read back before it counts."""

import textwrap
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.timer import Timer
from textual.widgets import Input, Label, OptionList, Static

from coach.errors import CoachError
from coach.steps.readback import AGAIN, RIGHT
from coach.tui.program import program_of
from coach.tui.screens.base import DIGITS
from coach.tui.screens.choices import Choices, Entry
from coach.tui.screens.dialogs import CHOOSING
from coach.tui.screens.entering import Entered
from coach.tui.screens.in_place import ENTRY, PlacedBox
from coach.tui.screens.leaving import GO_BACK, LEAVING, NEVER_MIND, clickable

WHETHER = (Entry("right", "Yes, keep it", number=RIGHT), Entry("again", "No, back", number=AGAIN))
NEXT, BETWEEN_FIELDS = "Enter: next field", "Up, Down"
MOST = 200
"""Characters of one entry: a note is a sentence or two."""
PAUSE = 0.3
"""After so many seconds without another key what is typed is on disk."""


@dataclass(frozen=True)
class Field:
    """Something to type."""

    key: str
    label: str
    value: str = ""
    check: Callable[[str], object] | None = None
    """Raises CoachError where what stands in this field alone cannot be used."""
    needed: bool = False
    """Whether nothing is understood as long as it is empty."""
    proposed: bool = False
    """Whether what stands in it is the coach's own proposal, and gives way to what is typed."""


Typed = Mapping[str, str]


class Ask(PlacedBox[bool]):
    """Fields to type into.  What is understood is told while typing; a refusal leaves the entry as it is.

    `echo` tells what was understood, `accept` makes the entry; both raise CoachError with the sentence to show.
    With `doubted` the person confirms what was understood before the entry is made, here below it; where it says that
    this is doubtful, "no, back" is what Enter takes.  `keep` keeps what is typed.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        NEVER_MIND,
        Binding("down,tab", "app.focus_next", "Next", show=False),
        Binding("up,shift+tab", "app.focus_previous", "Before", show=False),
        Binding("f2", "accept", "Go ahead", show=False),
        *(Binding(*digit, show=False) for digit in DIGITS),
    ]
    AUTO_FOCUS = "Input"

    def __init__(
        self,
        title: str,
        lead: str,
        fields: Sequence[Field],
        echo: Callable[[Typed], str],
        accept: Callable[[Typed], None],
        *,
        doubted: Callable[[Typed], bool] | None = None,
        keep: Callable[[Typed], None] | None = None,
        enter: str = "",
    ) -> None:
        super().__init__()
        self.heading, self.lead, self.fields = title, lead, tuple(fields)
        self.label_columns = max(len(field.label) for field in self.fields) + 4
        self._echo, self._accept, self._doubted, self._keep = echo, accept, doubted, keep
        self._enters = enter or ("keep it" if doubted is None else "read back")
        self._asking = False
        self._left: Input | None = None  # the field in which Enter was pressed
        self._timer: Timer | None = None
        self._kept = {field.key: field.value for field in fields}

    def compose(self) -> ComposeResult:
        with Vertical(classes="box"):
            yield Static(Content(self.heading), classes="heading")
            with VerticalScroll(can_focus=False, classes="body"):
                yield Static(Content(self.lead))
                for field in self.fields:
                    with Vertical(classes="asked"):
                        label = Label(Content(f"  {field.label}"))
                        label.styles.min_width = self.label_columns
                        yield label
                        gives_way = field.check is not None or field.proposed
                        yield Entered(
                            field.value, gives_way=gives_way, id=field.key, max_length=MOST, classes="entry"
                        )
                yield Static(id="echo")
            yield Choices()
            yield Static(classes="hint")

    def rows_needed(self, columns: int) -> int:
        """Heading, words, fields, what was understood, whether that is right, and the keys."""
        words = [str(self.query_one(selector, Static).content) for selector in ("#echo", ".hint")]
        rows = sum(max(len(textwrap.wrap(text, columns)), 1) for text in (self.lead, *words))
        entry = 1 if self.label_columns + ENTRY <= columns else 2
        return 1 + rows + entry * len(self.fields) + (len(WHETHER) if self._doubted is not None else 0)

    def on_mount(self) -> None:
        choices = self.query_one(Choices)
        choices.calm = choices.deliberate = True
        self._ask(None)

    def _ask(self, doubtful: bool | None) -> None:
        """Whether what was understood is right, "no" highlighted where that is doubtful; None: type again."""
        self._asking = doubtful is not None
        choices = self.query_one(Choices)
        choices.display = self._asking
        for entry in self.query(Entered):
            entry.can_focus = not self._asking
        self._say_keys()
        if self._asking:
            program_of(self.app).asks_anew()
            self.stand()  # what was understood may take more rows than there were
            choices.offer(WHETHER, self.columns, int(bool(doubtful)))
            choices.focus()
            choices.reopen()
            self.call_after_refresh(self.query_one(VerticalScroll).scroll_end, animate=False)

    def _say_keys(self) -> None:
        """What each key does now: in the last field, or once all are filled, Enter does what F2 does anywhere."""
        entry = self.focused if isinstance(self.focused, Input) else None
        if len(self.fields) == 1 or (entry is not None and self._enters_from(entry)):
            buttons = [(f"Enter or F2: {self._enters}", "screen.accept")]
        else:
            buttons = [(NEXT, "screen.submit"), (f"F2: {self._enters}", "screen.accept")]
        said = (*(words for words, _ in buttons), f"{LEAVING}, nothing is entered")
        others = (BETWEEN_FIELDS,) if len(self.fields) > 1 else ()
        words = CHOOSING if self._asking else " · ".join(said + others)
        self.query_one(".hint", Static).update(clickable(words, *buttons, (LEAVING, GO_BACK)))

    def _enters_from(self, entry: Input) -> bool:
        """Whether Enter in that field does not lead on to the next one."""
        return entry.id == self.fields[-1].key or all(self.typed.values())

    @property
    def typed(self) -> dict[str, str]:
        """What stands in the fields."""
        return {field.key: self.query_one(f"#{field.key}", Input).value for field in self.fields}

    def on_descendant_focus(self) -> None:
        for field in self.fields:
            entry = self.query_one(f"#{field.key}", Input)
            assert entry.parent is not None
            sign = "▶ " if entry.has_focus else "  "
            entry.parent.query_one(Label).update(Content(sign + field.label))
        self._say_keys()

    def on_input_changed(self, event: Input.Changed) -> None:
        event.stop()
        self._say(self._understood)
        self._say_keys()
        if self._timer is not None:
            self._timer.stop()
        self._timer = self.set_timer(PAUSE, self.save_draft)

    def _understood(self) -> str:
        """What is understood so far; while something is still to be typed only what cannot be used is told."""
        typed = self.typed
        if all(typed[field.key].strip() for field in self.fields if field.needed) and any(typed.values()):
            return self._echo(typed)
        for field in self.fields:
            if field.check is not None and typed[field.key].strip():
                field.check(typed[field.key])
        return ""

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Enter goes to the next field; in the last one, or when all are filled, it is read back or taken."""
        event.stop()
        if not self.is_active or self._asking:
            return  # a second Enter of the same press: the first one opened or closed a box
        if self._enters_from(event.input):
            self._go_ahead(event.input)
        else:
            self.action_next_field(event.input)

    def _go_ahead(self, entry: Input) -> None:
        """Read it back or take it, or say what is wrong and go there."""
        if self._say(lambda: self._echo(self.typed)):
            self._confirm(entry)
        else:
            self._to_the_faulty()

    def action_accept(self) -> None:
        """Read it back or take it at once, from whichever field."""
        if self.is_active and not self._asking and isinstance(self.focused, Input):
            self._go_ahead(self.focused)

    async def action_submit(self) -> None:
        """As Enter in the field that is typed into."""
        entry = self.focused if isinstance(self.focused, Input) else self.query_one(f"#{self.fields[-1].key}", Input)
        await entry.action_submit()

    def action_next_field(self, entry: Input) -> None:
        """From this field to the one after it."""
        keys = [field.key for field in self.fields]
        self.query_one(f"#{keys[keys.index(entry.id or '') + 1]}").focus()

    def _confirm(self, entry: Input) -> None:
        if self._doubted is None:
            self._enter()
            return
        self.save_draft()
        self._left = entry
        program_of(self.app).presses.elsewhere("enter")
        self._ask(self._doubted(self.typed))

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        event.stop()
        if self.is_active and self._asking:
            self._enter() if event.option_id == "right" else self._again()

    def action_digit(self, number: int) -> None:
        if self._asking:
            self.query_one(Choices).take(number)

    def _again(self) -> None:
        """It is not so: what is typed now stands for what stood there."""
        self._ask(None)
        assert self._left is not None
        self._left.focus()

    def _enter(self) -> None:
        def entered() -> str:
            self._accept(self.typed)
            return ""

        if self._say(entered):
            self._keep = None  # it became an entry
            self.dismiss(True)
        elif self._asking:
            self._again()

    def _to_the_faulty(self) -> None:
        """The cursor to the first field that cannot be used by itself."""
        for field in self.fields:
            try:
                if field.check is not None and self.typed[field.key].strip():
                    field.check(self.typed[field.key])
            except CoachError:
                self.query_one(f"#{field.key}").focus()
                return

    def _say(self, ask: Callable[[], str]) -> bool:
        try:
            words, fine = ask(), True
        except CoachError as error:
            words, fine = f"! {error}", False
        self.query_one("#echo", Static).update(Content(words))
        return fine

    def save_draft(self) -> None:
        """Keep on disk what is being typed, if it changed."""
        if self._keep is None or self.typed == self._kept:
            return
        self._kept = self.typed
        keep = self._keep
        try:
            keep(self._kept)
        except CoachError as error:
            self.query_one("#echo", Static).update(Content(f"! {error}"))

    def action_never_mind(self) -> None:
        if self._asking:
            self._again()
            return
        self.save_draft()
        self.dismiss(False)
