"""Measuring a mark: a table of methods, the other face of the tape, and everything read back before it counts."""

from dataclasses import replace
from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.events import DescendantFocus
from textual.timer import Timer
from textual.widgets import Input, OptionList

from coach.errors import CoachError
from coach.practice.assist import Assist
from coach.reading.crosshair import crosshair_of, next_step, with_crosshair
from coach.reading.entries import METHOD, begun, corrected, switched
from coach.reading.method import Entries, OptionKey
from coach.reading.methods import METHODS, unit_of
from coach.reading.model import Reading
from coach.session.events import Amend, Mark
from coach.session.session import Session
from coach.steps.measuring import questioned
from coach.steps.purpose import Purpose
from coach.steps.table import cautions_for
from coach.tui.commands.command import bindings
from coach.tui.commands.registry import MEASURING
from coach.tui.commands.registry import SETTINGS as ANSWERING
from coach.tui.screens.asking import PAUSE
from coach.tui.screens.base import DIGITS, IDLE
from coach.tui.screens.choices import Choices, Entry
from coach.tui.screens.measure_parts import NumberInput
from coach.tui.screens.measure_view import MeasureView
from coach.tui.screens.measure_words import ANSWER_FIRST, REFUSED, options_said

SCROLLING = {"next_way": 1, "last_way": -1}
"""Which keys move what is read back, where it is longer than its room."""


class MeasureScreen(MeasureView):
    """Dismissed with True once the mark is saved, with False when the person goes back."""

    commands = MEASURING
    BINDINGS: ClassVar[list[BindingType]] = [
        *bindings(MEASURING),
        *DIGITS,
        *(
            Binding(key, f"arrow({right}, {up})", show=False)
            for key, right, up in (("left", -1, 0), ("right", 1, 0), ("up", 0, 1), ("down", 0, -1))
        ),
    ]

    def __init__(self, session: Session, purpose: Purpose, assist: Assist | None) -> None:
        super().__init__(session, purpose, assist)
        self._dirty, self._walking = False, False
        self._timer: Timer | None = None

    def on_mount(self) -> None:
        answers = self.query_one("#answers", Choices)
        answers.calm = answers.deliberate = True
        self._begin()
        self.offer_hint("measuring")
        self.show_method()

    def _begin(self) -> None:
        """Say the unit and the step where the entries do not; a unit chosen since the last mark wins."""
        session, settings = self.session, self.coach.settings
        if session.draft.get("for") == self.purpose.key:
            return  # it means what it meant when it was typed
        entries = dict(self.entries)
        chosen = self.coach.unit_chosen
        numbers = any(entries.get(field.key) for method in METHODS for field in method.fields)
        if chosen and not numbers and all(e.at < chosen for e in session.events if isinstance(e, Mark | Amend)):
            entries.pop("unit", None)
        self.entries = begun(entries, settings.unit, settings.steps)

    def show_method(self) -> None:
        """Show the fields of the method in use, and go to the first that is empty."""
        self.trouble, self.asked = "", None
        inputs = self.inputs()
        empty = [entry for entry in inputs if not entry.value]
        self.set_focus((empty or inputs)[0] if inputs else None)
        self.show_entries()

    # entries

    def change(self, entries: Entries) -> None:
        """Take entries over, show them, and keep them on disk shortly."""
        if entries == self.entries:
            return
        self.entries = {**entries, "for": self.purpose.key}
        self.trouble = ""
        self._dirty = True
        if self._timer is not None:
            self._timer.stop()
        self._timer = self.set_timer(PAUSE, self.save_draft)
        self.show_entries()

    def save_draft(self) -> None:
        """Keep what stands here on disk, if it changed."""
        if not self._dirty:
            return
        self._dirty = False
        try:
            self.session.keep_draft(self.entries)
        except CoachError as error:
            self._say(str(error))

    def on_input_changed(self, event: Input.Changed) -> None:
        event.stop()
        key = (event.input.id or "").removeprefix("field-")
        if event.value or key in self.entries:
            self.change({**self.entries, key: event.value})

    def on_input_blurred(self, event: Input.Blurred) -> None:
        self.save_draft()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Enter goes to the next field, or reads back what stands there."""
        event.stop()
        if not self.is_active or event.input is not self.focused:
            return  # a second Enter of the same press: the first one is read back, or went to the next field
        inputs = self.inputs()
        if self.enter_reads_back or event.input not in inputs:
            self.accept()
        else:
            self.set_focus(inputs[inputs.index(event.input) + 1])

    @property
    def typing(self) -> bool:
        """Whether a number is typed: letters are no commands then."""
        return self.focused in self.inputs()

    @property
    def enter_reads_back(self) -> bool:
        """In the last field, when all that is needed stands there, or in an empty field that is not needed."""
        inputs = self.inputs()
        if self.focused not in inputs or self.focused is inputs[-1]:
            return True
        if self._walking and isinstance(self.focused, NumberInput) and self.focused.stood:
            return False  # measured again: it stays as it is, on to the next
        empty = not self.entries.get(self.method.fields[inputs.index(self.focused)].key)
        return self.method.is_filled(self.entries) or (empty and self._reading_if_any() is not None)

    def on_descendant_focus(self, event: DescendantFocus) -> None:
        self.say_keys()
        self.show_picture(self.asked or self._reading_if_any())

    def on_number_input_refused(self, event: NumberInput.Refused) -> None:
        """Letters are no numbers, and no commands while a number is typed."""
        kind = next(field.kind for field in self.method.fields if f"field-{field.key}" == event.entry)
        self.mention(REFUSED[kind].format(dropped=event.dropped), lasts=True)

    def action_arrow(self, right: int, up: int) -> None:
        """Move the crosshair, or between fields."""
        if self.asked is not None:
            return
        if self.method.by_keys:
            crosshair = crosshair_of(self.entries)
            self.change(with_crosshair(self.entries, crosshair.moved(right, up)))
            return
        if up and self.focused in self.inputs():
            self.next_field(-up)

    # commands

    def change_method(self, by: int) -> None:
        """The next or the last method; entries stay."""
        method = self.offered[(self.offered.index(self.method) + by) % len(self.offered)]
        self.change({**self.entries, METHOD: method.key})
        self.save_draft()
        self.show_method()

    def toggle(self, key: OptionKey) -> None:
        """Switch an option."""
        self.change(switched(self.entries, key))

    def change_step(self, by: int) -> None:
        """A finer or a coarser step of the crosshair."""
        self.change(next_step(self.entries, by, self.coach.settings.steps))

    def next_field(self, by: int) -> None:
        """To the field after this one (1) or before it (-1), round and round."""
        inputs = self.inputs()
        if inputs:
            place = inputs.index(self.focused) if self.focused in inputs else -max(by, 0)
            self.set_focus(inputs[(place + by) % len(inputs)])

    def accept(self) -> None:
        """Read back what was understood, with every question about it; then it counts."""
        self.save_draft()
        try:
            reading = self.method.read(self.entries, self.tape, self.wording)
            reading = questioned(self.session, self.purpose.shot, reading)
        except CoachError as error:
            self._say(str(error))
            self._to_the_faulty()
            return
        self._walking = False
        self.coach.presses.elsewhere("enter")
        self._ask(reading)

    def _ask(self, reading: Reading | None) -> None:
        """Read it back in place of the fields' explanations; None: the fields again."""
        self.asked = reading
        for entry in self.query(NumberInput):
            entry.can_focus = reading is None
        answers = self.query_one("#answers", Choices)
        if reading is not None:
            self.coach.asks_anew()
            self.trouble = ""
            offered = [Entry(answer.key, answer.label, number=answer.number) for answer in self._answers()]
            answers.offer(offered, self.size.width - 2)
            self.show_entries()
            answers.focus()
            answers.reopen()
        else:
            self.show_entries()

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        event.stop()
        if self.is_active and self.asked is not None and event.option_id is not None:
            reading = self.asked
            self._ask(None)
            self._answered(reading, event.option_id)

    def action_digit(self, number: int) -> None:
        if self.asked is not None:
            super().action_digit(number)
        else:
            self.mention(IDLE.format(key=number))

    def action_command(self, name: str) -> None:
        """While something is read back it is answered first."""
        if self.asked is None or name in {command.name for command in ANSWERING}:
            super().action_command(name)
        elif name in SCROLLING:
            asked = self.query_one("#asked", VerticalScroll)
            asked.scroll_relative(y=SCROLLING[name] * max(asked.size.height - 1, 1), animate=False)
        else:
            self.mention(ANSWER_FIRST)

    def _answered(self, reading: Reading, answer: str) -> None:
        match answer:
            case "again":
                self._again()
            case "keep" | "doubtful":
                self._keep(reading)
            case "sure":
                self._keep(replace(reading, looked_twice=True))
            case "other face" | "to the centre" | "in inches" | "in mm":
                self.change(corrected(self.entries, answer))
                self.accept()
            case _:
                raise ValueError(f"{answer!r} answers nothing that was read back")

    def _again(self) -> None:
        """From the first field on, as one walks through them; what is typed there stands for what stood there."""
        self._walking = True
        for entry in self.inputs()[:1]:
            self.set_focus(entry)
            entry.enter_anew()

    def _keep(self, reading: Reading) -> None:
        try:
            self.purpose.save(reading)
        except CoachError as error:
            self._say(str(error))
            return
        self.dismiss(True)

    def _to_the_faulty(self) -> None:
        """The cursor to the field that is at fault."""
        key = self.method.faulty_field(self.entries, unit_of(self.entries))
        if key is not None:
            self.set_focus(self.query_one(f"#field-{key}", NumberInput))

    def _say(self, sentence: str) -> None:
        if sentence != self.trouble:
            self.trouble = sentence
            self.show_entries()

    def leave(self) -> None:
        self.save_draft()
        if self.asked is not None:
            self._ask(None)
            self._again()
        else:
            self.dismiss(False)

    def help_paragraphs(self) -> tuple[str, ...]:
        cautions = tuple(
            f"⚠ {caution.signal} {caution.text} ({caution.source})" for caution in cautions_for("measure")
        )
        return (
            f"Measure the mark at {self.purpose.shot.name}.",
            options_said(self.entries, self.method, self.wording),
            self.method.told(self.entries),
            *((f"{self.bench.on(self.face, self.wording)}.",) if self.bench else ()),
            *cautions,
        )
