"""The measuring screen: what stands on it, and what gives way in a small terminal."""

from textual.app import ComposeResult
from textual.containers import Container, VerticalScroll
from textual.content import Content
from textual.events import Resize
from textual.widget import Widget
from textual.widgets import Static

from coach.errors import CoachError
from coach.pictures.marks_shown import MarkShown
from coach.pictures.modes import RasterMode
from coach.pictures.view import Scene
from coach.practice.assist import Assist
from coach.reading.entries import method_of
from coach.reading.face import Face, mirrored
from coach.reading.method import Entries, Field, Method
from coach.reading.methods import face_of, methods_for
from coach.reading.model import Reading
from coach.scenes.of_step import MARK_WIDTH, SCORCH, aperture_scene, gaps_scene
from coach.session.session import Session
from coach.steps.measuring import is_cut, tape_of, where_on_tape
from coach.steps.purpose import Purpose
from coach.steps.readback import ReadbackAnswer, carried_words, readback_answers, readback_words
from coach.steps.so_far import so_far
from coach.steps.table import kind_of
from coach.steps.words import MEASURE
from coach.tui.commands.registry import SETTINGS as ANSWERING
from coach.tui.screens.arrangements import SMALLEST, TALL
from coach.tui.screens.base import CoachScreen
from coach.tui.screens.choices import Choices
from coach.tui.screens.measure_layout import BETWEEN, Box, Needs, Plan, planned
from coach.tui.screens.measure_parts import FieldRow, NumberInput
from coach.tui.screens.measure_words import AS_SEEN, CARD_QUESTION, CUT_QUESTION, QUESTION, options_shown
from coach.tui.screens.parts import Cautions, KeysLine
from coach.tui.widgets.bigtype import BigText
from coach.tui.widgets.picture import Picture
from coach.tui.widgets.terminal import pick_mode

PARTS = ("ways", "options", "trouble", "bench", "hint", "seen", "asked", "side")
ROOM_FOR_WORDS = 120
"""Columns from which the options are said in whole words."""


class MeasureView(CoachScreen[bool]):
    """Shows the entries of one measurement."""

    AUTO_FOCUS = ""  # the method in use decides

    def __init__(self, session: Session, purpose: Purpose, assist: Assist | None) -> None:
        super().__init__()
        self.session, self.purpose = session, purpose
        self.tape = tape_of(session.machine, purpose.shot)
        self.offered = methods_for(self.tape)
        self.cut = is_cut(session, purpose.pulse)
        self.entries: Entries = dict(purpose.start)
        self.bench = assist.mark(purpose.pulse) if assist and purpose.pulse else None
        self.trouble = ""
        """What is wrong with the entries, or was with the last key."""
        self.asked: Reading | None = None
        """What is read back, until it is answered."""

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
        with Container(id="form"):
            yield Picture(id="picture")
            for name in PARTS:
                if name == "asked":
                    with VerticalScroll(id="asked", can_focus=False):
                        yield Static(id="asked-words")
                else:
                    yield Static(id=name)
            for method in self.offered:
                for field in method.fields:
                    yield FieldRow(method.key, field, self.entries.get(field.key, ""))
            yield Choices(id="answers")
        yield Cautions(id="cautions")
        yield KeysLine(id="keys")

    def on_resize(self, event: Resize) -> None:
        self.lay_out()

    # how it is laid out

    def lay_out(self) -> None:
        """Give way to what matters most as the terminal gets smaller: cautions, fields, what is wrong, the bench."""
        needs, (width, height) = self._needs(), self.size
        plan = planned(needs, width, height)
        self.query_one("#where").display, self.query_one("#figure").display = plan.where, plan.figure
        self._say_where()
        large = self.query_one("#action", BigText)
        large.max_rows, large.display = plan.action_rows, bool(plan.action_rows)
        self.query_one("#keys").display = plan.keys
        large.refresh(layout=True)
        self.query_one("#cautions", Cautions).say(plan.cautions)
        for name in PARTS:
            static = self.query_one("#asked-words" if name == "asked" else f"#{name}", Static)
            static.update(self._content(name, needs.words[name], plan.boxes.get(name)))
        for row in self.query(FieldRow):
            box = plan.boxes.get(row.field.key)
            around = needs.around and "right" in plan.boxes and plan.boxes["right"][0] > 0
            row.set_class(bool(box and box[3] > 1), "-large")
            row.stand(around=around, sticky=self.face == "sticky", columns=box[2] if box else 0)
        for widget in self.query("#form > *"):
            place(widget, plan.boxes.get((widget.id or "").removeprefix("row-")))
        self._show_answers(plan)

    def _where_words(self) -> Content:
        practice = " · PRACTICE" if self.session.practice else ""
        return Content.assemble((f"▶ Measure {self.purpose.shot.name}", "bold reverse"), practice)

    def _ways_above(self) -> bool:
        """Whether the ways to measure stand in the first row, where the place is said."""
        width, height = self.size
        length = self._where_words().cell_length + 2 + self._methods_line().cell_length
        return width >= SMALLEST[0] and height >= SMALLEST[1] and length <= width - 2

    def _say_where(self) -> None:
        where, ways = self._where_words(), self._methods_line()
        if self._ways_above():
            where = Content.assemble(where, " " * (self.size.width - 2 - where.cell_length - ways.cell_length), ways)
        self.query_one("#where", Static).update(where)

    def _show_answers(self, plan: Plan) -> None:
        if "answers" in plan.boxes:
            answers, ascii_only = self.query_one("#answers", Choices), pick_mode(self.app) is RasterMode.ASCII
            answers.fit_to(plan.boxes["answers"][2], large=plan.large, ascii_only=ascii_only)

    def _needs(self) -> Needs:
        """What there is to show now."""
        words = {
            "ways": self._methods_line().plain if self.asked is None and not self._ways_above() else "",
            "options": self._options().plain if self.asked is None else "",
            "trouble": f"! {self.trouble}" if self.trouble else "",
            "bench": self._bench_words(),
            "hint": self.method.told(self.entries),
            "seen": AS_SEEN if self.face == "sticky" else "",
            "asked": "\n".join(self._asked_words()),
            "side": "\n".join(so_far(self.session, self.wording)) if self.size.height >= TALL else "",
        }
        return Needs(
            self.query_one("#action", BigText).text,
            str(self.query_one("#figure", Static).content),
            tuple(field.key for field in self.method.fields),
            words,
            tuple(answer.label for answer in self._answers()),
            kind_of("measure").own_cautions,
            self.query_one("#keys", KeysLine).extra,
            pick_mode(self.app) is RasterMode.ASCII,
        )

    def _answers(self) -> tuple[ReadbackAnswer, ...]:
        return () if self.asked is None else readback_answers(self.asked, self.wording)

    def _asked_words(self) -> tuple[str, ...]:
        """What is read back besides what the large type and the line below it say."""
        if self.asked is None:
            return ()
        where = where_on_tape(self.asked, self.session.machine, self.purpose.shot)
        words = readback_words(self.asked, self.purpose.shot.name, where, self.wording)
        small = self.size.width < SMALLEST[0] or self.size.height < SMALLEST[1]
        said = words.statements if small and not words.questions else words.statements[1:]
        parts = (" ".join(said), *(f"? {question}" for question in words.questions))
        return tuple(filter(None, reversed(parts) if small else parts))

    def _content(self, name: str, words: str, box: Box | None) -> Content:
        if not words or name not in ("ways", "options"):
            return Content(words)
        return self._methods_line() if name == "ways" else self._options(box)

    def _options(self, box: Box | None = None) -> Content:
        """The options with their keys, one in a row where the box has a row for each."""
        parts: list[str | tuple[str, str]] = []
        narrow, options = self.size.width < ROOM_FOR_WORDS, options_shown(self.entries, self.method, self.wording)
        between = BETWEEN if box is not None and box[3] < len(options) else "\n"
        for number, shown in enumerate(options):
            parts.append("" if number == 0 else between)
            words = shown.word if narrow else shown.words
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
        reading = self.asked or self._reading_if_any()
        for row in self.query(FieldRow):
            row.stand_in = self._stand_in(row.field)
        large = self.query_one("#action", BigText)
        large.text = self.wording.place(reading.u, reading.v, unit=False) if reading else MEASURE
        figure = CARD_QUESTION if self.purpose.shot.wide else QUESTION
        if self.cut:
            figure = CUT_QUESTION
        if reading:
            where = where_on_tape(reading, self.session.machine, self.purpose.shot)
            doubt = self.wording.length(2 * reading.sd)
            figure = f"{self.wording.place(reading.u, reading.v)}, give or take {doubt}: {where}"
            if self.asked is None and self.method.surer and (surer := self.method.surer(self.entries)):
                figure = f"give or take {doubt}, {where}: {surer}"
        self.query_one("#figure", Static).update(Content(figure))
        self.show_picture(reading)
        self.say_keys()
        self.lay_out()

    def say_keys(self) -> None:
        """The keys that do something now."""
        self.query_one("#keys", KeysLine).say(self.commands if self.asked is None else ANSWERING)

    def _stand_in(self, field: Field) -> str:
        """What counts where nothing is typed in that field."""
        if not field.carried or field.needed is None:
            return ""
        gaps = [other for other in self.method.fields if other.needed is None and self.entries.get(other.key)]
        if len(gaps) == len(self.method.fields) - 1:
            return "told by four gaps"
        return carried_words(self.entries, self.wording)

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


def place(widget: Widget, box: Box | None) -> None:
    """Put a widget there, or hide it."""
    widget.display = box is not None
    if box is not None:
        widget.styles.position = "absolute"
        widget.styles.offset = box[:2]
        widget.styles.width, widget.styles.height = box[2:]
