"""The measuring screen: what stands on it, and what gives way in a small terminal."""

import textwrap

from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.events import Resize
from textual.widgets import Static

from coach.errors import CoachError
from coach.pictures.aperture import MarkShown
from coach.pictures.view import Scene
from coach.practice.assist import Assist
from coach.reading.entries import method_of
from coach.reading.face import Face, mirrored
from coach.reading.method import Entries, Method
from coach.reading.methods import face_of, methods_for
from coach.reading.model import Reading
from coach.session.session import Session
from coach.steps.measuring import tape_of, where_on_tape
from coach.steps.purpose import Purpose
from coach.steps.table import kind_of
from coach.tui.screens.band import band_rows, briefest
from coach.tui.screens.base import CoachScreen
from coach.tui.screens.fitting import LISTED, SMALLEST
from coach.tui.screens.measure_parts import FieldRow, NumberInput
from coach.tui.screens.measure_words import options_shown
from coach.tui.screens.parts import Cautions, KeysLine
from coach.tui.screens.scenes import MARK_WIDTH, SCORCH, aperture_scene, gaps_scene
from coach.tui.widgets.bigtype import BigText
from coach.tui.widgets.picture import Picture


class MeasureView(CoachScreen[bool]):
    """Shows the entries of one measurement."""

    AUTO_FOCUS = ""  # the method in use decides

    def __init__(self, session: Session, purpose: Purpose, assist: Assist | None) -> None:
        super().__init__()
        self.session, self.purpose = session, purpose
        self.tape = tape_of(session.machine, purpose.shot)
        self.offered = methods_for(self.tape)
        self.entries: Entries = dict(purpose.start)
        self.bench = assist.mark(purpose.pulse) if assist and purpose.pulse else None
        self.trouble = ""
        """What is wrong with the entries, or was with the last key."""
        self._shown_options = Content()

    @property
    def method(self) -> Method:
        """The method in use."""
        return method_of(self.entries, self.offered)

    @property
    def face(self) -> Face:
        """The face of the tape that is looked at."""
        return face_of(self.entries)

    def compose(self) -> ComposeResult:
        yield Static(id="where")
        yield BigText(id="action", max_rows=3)
        yield Static(id="figure")
        with Horizontal(id="middle"):
            with Vertical(id="left"):
                yield Static(id="ways")
                yield Static(id="options")
                for method in self.offered:
                    for field in method.fields:
                        yield FieldRow(method.key, field, self.entries.get(field.key, ""))
                yield Static(id="trouble")
                yield Static(id="bench")
                yield Static(id="hint")
            yield Picture(id="picture")
        yield Cautions(id="cautions")
        yield KeysLine(id="keys")

    def on_resize(self, event: Resize) -> None:
        self.lay_out()

    # how it is laid out

    def lay_out(self) -> None:
        """Give way to what matters most as the terminal gets smaller: cautions, fields, what is wrong, the bench."""
        width, height = self.size.width, self.size.height
        roomy = width >= SMALLEST[0] and height >= SMALLEST[1]
        for name in ("#where", "#figure", "#picture"):
            self.query_one(name).display = roomy
        left = max(40, round(0.45 * width)) if roomy else width
        self.query_one("#left").styles.width = left if roomy else "1fr"
        cautions = self._caution_rows(width, height)
        self.query_one("#cautions", Cautions).say(cautions)
        self._fill_parts(roomy)
        rows = height - len(cautions)
        if roomy:
            rows -= 1 + self.query_one("#keys", KeysLine).extra  # where it is said, and the keys
            rows = self._make_room(rows - 1, left - 2)
        else:
            self.query_one("#action", BigText).max_rows = 1
        self._share_out(rows, left - 2, roomy)
        self.query_one("#action").refresh(layout=True)

    def _make_room(self, rows: int, width: int) -> int:
        """What the large type and the line below it leave of so many rows: they give way to what is wrong."""
        large, figure = self.query_one("#action", BigText), self.query_one("#figure")
        needed = len(self.method.fields) + sum(rows for _, rows in self._parts(width)[:4])
        for most, line in ((5 if self.size.height >= 30 else 3, True), (1, True), (1, False)):
            large.max_rows, figure.display = most, line
            left = rows - line - large.get_content_height(self.size, self.size, self.size.width - 2)
            if left >= needed:
                break
        return left

    def _caution_rows(self, width: int, height: int) -> tuple[str, ...]:
        own = kind_of("measure").own_cautions
        if width < SMALLEST[0] or height < SMALLEST[1]:
            return briefest(own, width - 2)
        return band_rows(own if height >= LISTED else own[:1], width - 2, listed=height >= LISTED, whole=False)

    def _share_out(self, rows: int, width: int, roomy: bool) -> None:
        """Show what so many rows have room for, the most important first."""
        parts = self._parts(width)
        if not roomy:
            parts[4:4] = [("#action", 1), ("#keys", 1)]
        rows -= len(self.method.fields)
        for name, needed in parts:
            shown = 0 < needed <= rows
            self.query_one(name).display = shown
            rows -= needed if shown else 0
        if roomy:
            self.query_one("#action").display = self.query_one("#keys").display = True

    def _fill_parts(self, roomy: bool) -> None:
        self._shown_options = self._options(roomy)
        self.query_one("#options", Static).update(self._shown_options)
        self.query_one("#bench", Static).update(Content(self._bench_words()))

    def _parts(self, width: int) -> list[tuple[str, int]]:
        """What stands beside the picture besides the fields, the most important first, and the rows that it takes."""
        return [
            ("#trouble", _rows(f"! {self.trouble}", width) if self.trouble else 0),
            ("#options", _rows(self._shown_options.plain, width)),
            ("#bench", _rows(self._bench_words(), width)),
            ("#ways", 1),
            ("#hint", _rows(self.method.told(self.entries), width)),
        ]

    def _options(self, roomy: bool) -> Content:
        """The options with their keys, one in a row where there is room."""
        parts: list[str | tuple[str, str]] = []
        for number, shown in enumerate(options_shown(self.entries, self.method, self.wording)):
            parts.append("" if number == 0 else "\n" if roomy and number == 1 else "  ")
            words = shown.words if roomy else shown.word
            parts += [(f" {shown.key} ", "bold reverse"), " ", (words, "bold reverse" if shown.loud else "bold")]
        return Content.assemble(*parts)

    def _bench_words(self) -> str:
        if self.bench is None:
            return ""
        if self.size.width >= SMALLEST[0]:
            return f"{self.bench.on(self.face, self.wording)}."
        _, read = self.bench.read(self.face, self.wording)
        return f"Bench{', sticky face' if self.face == 'sticky' else ''}: {read}."

    # what it shows

    def show_entries(self) -> None:
        """Show how everything stands now."""
        reading = self._reading_if_any()
        self.query_one("#ways", Static).update(self._methods_line())
        self.query_one("#trouble", Static).update(Content(f"! {self.trouble}"))
        self.query_one("#hint", Static).update(Content(self.method.told(self.entries)))
        large = self.query_one("#action", BigText)
        large.text = self.wording.place(reading.u, reading.v, unit=False) if reading else "MEASURE THE MARK"
        figure = "Where does the mark lie against the imprint of the rim?"
        if reading:
            where = where_on_tape(reading, self.session.machine, self.purpose.shot)
            figure = f"{self.wording.place(reading.u, reading.v)}: {where}"
        self.query_one("#figure", Static).update(Content(figure))
        self.show_picture(reading)
        self.query_one("#keys", KeysLine).say(self.commands)
        self.lay_out()

    def show_picture(self, reading: Reading | None) -> None:
        """Draw the tape with the mark as it would be, and what the numbers are measured from and to."""
        machine, shot, sticky = self.session.machine, self.purpose.shot, self.face == "sticky"
        scene: Scene
        if self.method.needs_opening:
            tape = aperture_scene(machine, shot, (), sticky=sticky)
            typed = (self.focused.id or "") if self.focused else ""
            place = self._place(reading)
            scene = gaps_scene(tape, place, self.entries, asked=typed.removeprefix("field-"))
        else:
            scene = aperture_scene(machine, shot, self._marks(reading), sticky=sticky)
        self.query_one("#picture", Picture).scene = scene

    def _place(self, reading: Reading | None) -> tuple[float, float, float] | None:
        """The mark's middle as seen on the face that is looked at, and its width; None while nobody knows it."""
        if reading is not None:
            return *mirrored(reading.u, reading.v, self.face), reading.width or MARK_WIDTH
        if self.bench is not None:
            return *mirrored(self.bench.u, self.bench.v, self.face), self.bench.diameter
        return None

    def _methods_line(self) -> Content:
        parts: list[str | tuple[str, str]] = []
        for method in self.offered:
            parts += [(f"▶{method.label}", "bold reverse") if method is self.method else f" {method.label}", " "]
        return Content.assemble(*parts)

    def _marks(self, reading: Reading | None) -> tuple[MarkShown, ...]:
        """The bench's scorch and the cross, as seen on the face that is looked at."""
        marks = []
        if self.bench:
            seen = mirrored(self.bench.u, self.bench.v, self.face)
            marks.append(MarkShown(*seen, "blob", self.bench.diameter, SCORCH))
        if reading:
            marks.append(MarkShown(*mirrored(reading.u, reading.v, self.face), "crosshair"))
        elif self.method.by_keys:
            marks.append(MarkShown(0.0, 0.0, "crosshair"))
        return tuple(marks)

    def _reading_if_any(self) -> Reading | None:
        try:
            return self.method.read(self.entries, self.tape, self.wording)
        except CoachError:
            return None

    def inputs(self) -> list[NumberInput]:
        """The fields of the method in use."""
        return [self.query_one(f"#field-{field.key}", NumberInput) for field in self.method.fields]


def _rows(text: str, width: int) -> int:
    return sum(len(textwrap.wrap(row, max(width, 1), break_on_hyphens=False)) for row in text.split("\n"))
