"""Measuring a mark: four ways, the other face of the tape, and everything read back before it counts."""

from dataclasses import replace
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.events import Resize
from textual.timer import Timer
from textual.widgets import Input, Static

from coach.errors import CoachError
from coach.practice.assist import Assist
from coach.reading.face import Face, mirrored
from coach.reading.model import Reading
from coach.session.session import Session
from coach.steps.cautions import cautions_for
from coach.steps.measuring import questioned
from coach.tui.commands.command import bindings
from coach.tui.commands.registry import MEASURING
from coach.tui.pictures.aperture import MarkShown
from coach.tui.screens import ways
from coach.tui.screens.base import CoachScreen
from coach.tui.screens.fitting import ALWAYS, caution_rows
from coach.tui.screens.measure_parts import FieldRow, NumberInput
from coach.tui.screens.measure_words import hints, option_rows
from coach.tui.screens.parts import Cautions, KeysLine
from coach.tui.screens.purpose import Purpose
from coach.tui.screens.readback import Readback
from coach.tui.screens.scenes import SCORCH, aperture_scene
from coach.tui.screens.wording import place_words
from coach.tui.widgets.bigtype import BigText
from coach.tui.widgets.picture import Picture

PAUSE = 0.3
"""After so many seconds without another key the entries are on disk."""


class MeasureScreen(CoachScreen[bool]):
    """Dismissed with True once the mark is saved, with False when the person goes back."""

    commands = MEASURING
    BINDINGS: ClassVar[list[BindingType]] = [
        *bindings(MEASURING),
        *(
            Binding(key, f"arrow({right}, {up})", show=False)
            for key, right, up in (("left", -1, 0), ("right", 1, 0), ("up", 0, 1), ("down", 0, -1))
        ),
    ]
    AUTO_FOCUS = ""  # the way in use decides

    def __init__(self, session: Session, purpose: Purpose, assist: Assist | None) -> None:
        super().__init__()
        self.session, self.purpose = session, purpose
        self.entries: ways.Entries = dict(purpose.start)
        self.bench = assist.mark() if assist and purpose.key.startswith("pulse") else None
        self._dirty = False
        self._timer: Timer | None = None

    @property
    def way(self) -> ways.Way:
        """The way in use."""
        offered = ways.ways_for(self.purpose.shot)
        return next((way for way in offered if way.key == self.entries.get("way")), offered[0])

    def compose(self) -> ComposeResult:
        yield Static(id="where")
        yield BigText(id="action", max_rows=3)
        yield Static(id="figure")
        with Horizontal(id="middle"):
            with Vertical(id="left"):
                yield Static(id="ways")
                yield Static(id="options")
                for way in ways.ways_for(self.purpose.shot):
                    for field in way.fields:
                        yield FieldRow(way.key, field, self.entries.get(field.key, ""))
                yield Static(id="trouble")
                yield Static(id="hint")
            yield Picture(id="picture")
        yield Cautions(id="cautions")
        yield KeysLine(id="keys")

    def on_mount(self) -> None:
        practice = " · PRACTICE" if self.session.practice else ""
        self.query_one("#where", Static).update(
            Content.assemble(("▶ Measure the mark", "bold reverse"), f" at {self.purpose.shot.name}{practice}")
        )
        self.show_way()

    def on_resize(self, event: Resize) -> None:
        self.lay_out()

    # showing

    def lay_out(self) -> None:
        """Give way to what matters most as the terminal gets smaller: the fields and what was understood."""
        width, height = self.size.width, self.size.height
        roomy = width >= 80 and height >= 24
        for name in ("#where", "#figure", "#keys", "#picture"):
            self.query_one(name).display = roomy
        self.query_one("#action", BigText).max_rows = 5 if height >= 30 else 3 if height >= 20 else 1
        self.query_one("#action").refresh(layout=True)
        self.query_one("#left").styles.width = max(40, round(0.45 * width)) if roomy else "1fr"
        texts = tuple(caution.text for caution in cautions_for("measure"))
        rows = caution_rows(texts, width - 2, listed=height >= 32)
        if height < 28:
            rows = caution_rows((texts[0], *texts[-ALWAYS:]), width - 2, listed=False)
        self.query_one("#cautions", Cautions).say(rows if roomy else ())

    def show_way(self) -> None:
        """Show the fields of the way in use, and go to the first that is empty."""
        for row in self.query(FieldRow):
            row.display = row.has_class(self.way.key)
        self._say("")
        inputs = self._inputs()
        empty = [entry for entry in inputs if not entry.value]
        self.set_focus((empty or inputs)[0] if inputs else None)
        self.show_entries()
        self.lay_out()

    def show_entries(self) -> None:
        """Show how everything stands now."""
        reading = self._reading_if_any()
        sticky = ways.option(self.entries, "face") == "sticky"
        self.query_one("#ways", Static).update(self._ways_line())
        self.query_one("#options", Static).update(Content("\n".join(option_rows(self.entries, self.way))))
        self.query_one("#hint", Static).update(Content("\n".join(hints(self.way, self.bench))))
        large = self.query_one("#action", BigText)
        large.text = place_words(reading.u, reading.v).replace(" mm", "") if reading else "MEASURE THE MARK"
        figure = "Where does the mark lie against the imprint of the rim?"
        if reading:
            inside = ways.inside_words(reading, self.session.machine, self.purpose.shot)
            figure = f"{place_words(reading.u, reading.v)}: {inside}"
        self.query_one("#figure", Static).update(Content(figure))
        scene = aperture_scene(self.session.machine, self.purpose.shot, self._marks(reading), sticky=sticky)
        self.query_one("#picture", Picture).scene = scene
        self.query_one("#keys", KeysLine).say(self.commands)

    def _ways_line(self) -> Content:
        parts: list[str | tuple[str, str]] = []
        for way in ways.ways_for(self.purpose.shot):
            parts += [(f"▶{way.label}", "bold reverse") if way is self.way else f" {way.label}", " "]
        return Content.assemble(*parts)

    def _marks(self, reading: Reading | None) -> tuple[MarkShown, ...]:
        """The bench's scorch and the cross, as seen on the face that is looked at."""
        face: Face = "sticky" if ways.option(self.entries, "face") == "sticky" else "outer"
        marks = []
        if self.bench:
            marks.append(MarkShown(*mirrored(self.bench.u, self.bench.v, face), "blob", self.bench.diameter, SCORCH))
        if reading:
            marks.append(MarkShown(*mirrored(reading.u, reading.v, face), "crosshair"))
        elif self.way is ways.CROSSHAIR:
            marks.append(MarkShown(0.0, 0.0, "crosshair"))
        return tuple(marks)

    def _reading_if_any(self) -> Reading | None:
        try:
            return ways.reading_of(self.entries, self.way, self.session.machine, self.purpose.shot)
        except CoachError:
            return None

    def _inputs(self) -> list[NumberInput]:
        return [self.query_one(f"#field-{field.key}", NumberInput) for field in self.way.fields]

    # entries

    def change(self, entries: ways.Entries) -> None:
        """Take entries over, show them, and keep them on disk shortly."""
        if entries == self.entries:
            return
        self.entries = {**entries, "for": self.purpose.key}
        self._say("")
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
        """Enter goes to the next field; in the last one, or when all are filled, it is done."""
        event.stop()
        inputs = self._inputs()
        place = inputs.index(event.input) if event.input in inputs else len(inputs) - 1
        if place == len(inputs) - 1 or all(entry.value for entry in inputs):
            self.accept()
        else:
            self.set_focus(inputs[place + 1])

    def action_arrow(self, right: int, up: int) -> None:
        """Move the crosshair, or between fields."""
        if self.way.key == "crosshair":
            crosshair = ways.crosshair_of(self.entries)
            self.change(ways.with_crosshair(self.entries, crosshair.moved(right, up)))
            return
        inputs = self._inputs()
        if up and self.focused in inputs:
            place = inputs.index(self.focused)
            self.set_focus(inputs[(place - up) % len(inputs)])

    # commands

    def change_way(self, by: int) -> None:
        """The next or the last way; entries stay."""
        offered = ways.ways_for(self.purpose.shot)
        way = offered[(offered.index(self.way) + by) % len(offered)]
        self.change({**self.entries, "way": way.key})
        self.save_draft()
        self.show_way()

    def toggle(self, name: str) -> None:
        """Switch an option."""
        first, second = ways.OPTIONS[name]
        self.set_option(name, second if ways.option(self.entries, name) == first else first)

    def set_option(self, name: str, value: str) -> None:
        """Set an option."""
        entries = {**self.entries, name: value}
        if name == "face" and value != ways.option(self.entries, "face"):
            cross = ways.crosshair_of(entries)  # stays on the same spot of the tape
            entries = ways.with_crosshair(entries, replace(cross, u=0.0 - cross.u))
        self.change(entries)

    def change_step(self, by: int) -> None:
        """A finer or a coarser step of the crosshair."""
        self.change(ways.next_step(self.entries, by))

    def accept(self) -> None:
        """Read back what was understood, with every question about it; then it counts."""
        self.save_draft()
        try:
            reading = ways.reading_of(self.entries, self.way, self.session.machine, self.purpose.shot)
            reading = questioned(self.session, self.purpose.shot, reading)
        except CoachError as error:
            self._say(str(error))
            return
        inside = ways.inside_words(reading, self.session.machine, self.purpose.shot)
        self.app.push_screen(
            Readback(reading, self.purpose.shot.name, inside), lambda key: self._answered(reading, key)
        )

    def _answered(self, reading: Reading, answer: str | None) -> None:
        if answer == "keep":
            try:
                self.purpose.save(reading)
            except CoachError as error:
                self._say(str(error))
                return
            self.dismiss(True)
        elif answer == "far":
            self.toggle("face")
            self.accept()
        elif answer == "gaps-room":
            self.set_option("to", "centre")
            self.accept()

    def _say(self, sentence: str) -> None:
        trouble = self.query_one("#trouble", Static)
        trouble.update(Content(f"! {sentence}"))
        trouble.display = bool(sentence)
        self.query_one("#hint").display = not sentence or self.size.height >= 28
        self.query_one("#options").display = not sentence or self.size.height >= 24

    def leave(self) -> None:
        self.save_draft()
        self.dismiss(False)

    def help_paragraphs(self) -> tuple[str, ...]:
        cautions = tuple(f"⚠ {caution.text} ({caution.source})" for caution in cautions_for("measure"))
        return (
            f"Measure the mark at {self.purpose.shot.name}.",
            *option_rows(self.entries, self.way),
            *hints(self.way, self.bench),
            *cautions,
        )
