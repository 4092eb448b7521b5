"""The form that describes a machine: what stands on it, and what gives way in a small terminal."""

import textwrap

from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.events import Resize
from textual.widgets import Static

from coach.describing.drafts import Draft
from coach.describing.question import Question
from coach.describing.questions import options, questions
from coach.describing.words import forgotten_words, guessed_words, is_guessed, said, value_words
from coach.errors import InputError
from coach.pictures.modes import RasterMode
from coach.reading.method import NUMBER
from coach.scenes.of_description import scene_of
from coach.steps.cautions import ALWAYS, Caution, while_describing
from coach.tui.screens.arrangements import LISTED, SMALLEST, TALL
from coach.tui.screens.band import band_rows, briefest
from coach.tui.screens.base import CoachScreen
from coach.tui.screens.choices import Choices, Entry
from coach.tui.screens.entering import Entered
from coach.tui.screens.fitting import choice_rows
from coach.tui.screens.measure_parts import NumberInput
from coach.tui.screens.parts import Cautions, KeysLine
from coach.tui.widgets.bigtype import BigText
from coach.tui.widgets.picture import Picture
from coach.tui.widgets.terminal import pick_mode

SAVE = "save"
LENGTHS = NUMBER + "½¼¾⅛⅜⅝⅞'" + "imnchesIMNCHES"
"""What a length may be typed with: its unit too."""
LONG = 6
"""Rows of a list from which it may give two to the words above it."""
GAPS = 30
"""Rows from which things stand apart."""
TYPE_HERE = "type here"
MOST_LEFT = 76
"""Columns for words beside the picture."""


class DescribeView(CoachScreen[object]):
    """Shows one question, or all values."""

    AUTO_FOCUS = ""

    def __init__(self, draft: Draft) -> None:
        super().__init__()
        self.draft = draft
        self.trouble = ""
        self.large_choices = False
        """What was wrong with the last answer, or what was just done."""
        self.seen = draft.description
        """The description with what is typed or highlighted, as the picture shows it."""

    def compose(self) -> ComposeResult:
        yield Static(id="where")
        yield BigText(id="action", max_rows=3)
        with Horizontal(id="middle"):
            with Vertical(id="left"):
                yield Static(id="text")
                yield NumberInput("", LENGTHS, id="number", classes="entry", placeholder=TYPE_HERE)
                yield Entered("", id="words", classes="entry", max_length=400, placeholder=TYPE_HERE)
                yield Static(id="echo")
                yield Choices(id="choices")
            yield Picture(id="picture")
        yield Cautions(id="cautions")
        yield KeysLine(id="keys")

    def on_resize(self, event: Resize) -> None:
        self.lay_out()

    # what is shown

    @property
    def asked(self) -> tuple[Question, ...]:
        """The questions that matter now."""
        return questions(self.draft.description)

    @property
    def question(self) -> Question | None:
        """The question that is asked; None where all values are listed."""
        return next((question for question in self.asked if question.key == self.draft.at), None)

    @property
    def entry(self) -> Entered | None:
        """The field that is typed into, if one is."""
        question = self.question
        if question is None or question.kind == "choice":
            return None
        return self.query_one("#number" if question.kind == "length" else "#words", Entered)

    def rows(self) -> tuple[Entry, ...]:
        """What can be chosen."""
        question, description = self.question, self.draft.description
        if question is not None:
            return tuple(Entry(option.key, option.label) for option in options(question, description))
        listed = (Entry(q.key, f"{q.title}: {said(description, q, self.wording)}") for q in self.asked)
        return (Entry(SAVE, self.keep_words()), *listed)

    def keep_words(self) -> str:
        """What the first row of the list does."""
        return "Keep these changes" if self.draft.machine else "Keep this machine"

    def what(self) -> str:
        """What this is, for the uppermost line."""
        return f"Change {self.draft.name}" if self.draft.machine else "Describe a machine"

    def cautions(self) -> tuple[Caution, ...]:
        """What to beware of at this question."""
        return while_describing(self.question.at if self.question is not None else "")

    def headline(self) -> str:
        """For the large type."""
        question = self.question
        if question is not None:
            return question.ask
        return "IS ALL OF THIS RIGHT?"

    def paragraphs(self) -> tuple[str, ...]:
        """How to find the answer out."""
        question = self.question
        if question is not None:
            return question.how
        dropped = forgotten_words(self.draft.description)
        choose = f"{guessed_words(self.draft.description)}. Choose a value to change it, or keep the machine."
        return (dropped, choose) if dropped else (choose,)

    def where_line(self) -> Content:
        """What this is, and which question of how many."""
        question = self.question
        place = "all values"
        if question is not None:
            place = f"question {self.asked.index(question) + 1} of {len(self.asked)}"
        unit = "inches" if self.wording.unit == "in" else "mm"
        return Content.assemble((f"▶ {self.what()}", "bold reverse"), f" {place} · {unit}")

    def echo_words(self) -> str:
        """What is wrong; else what is understood; else how it stands."""
        question, field = self.question, self.entry
        if self.trouble or question is None:
            return self.trouble
        if field is None:
            stands = said(self.draft.description, question, self.wording)
            return "" if question.key in self.draft.description.answers or question.required else f"Now: {stands}."
        if not field.value.strip():
            return (
                ""
                if question.required or not is_guessed(self.seen, question)
                else f"Now: {said(self.seen, question, self.wording)}."
            )
        try:
            seen = self.draft.description.answered(question.key, field.value, self.wording.unit)
        except InputError as error:
            return f"! {error}"
        return f"Understood: {value_words(seen, question, self.wording)}. Enter takes it."

    # how it is laid out

    def lay_out(self) -> None:
        """Fit everything into the terminal as it is: entry and choices first, then what is wrong, then the rest."""
        if not self.is_mounted or not self.query("#keys"):
            return
        width, height = self.size.width, self.size.height
        roomy = width >= SMALLEST[0] and height >= SMALLEST[1]
        where = self.query_one("#where", Static)
        where.display = roomy
        where.update(self.where_line())
        large = self.query_one("#action", BigText)
        large.max_rows = 5 if height >= 30 else 3 if roomy else 1
        large.text = self.headline()
        cautions = self._caution_rows(width, height)
        self.query_one("#cautions", Cautions).say(cautions)
        left = self._columns()
        self.query_one("#picture").display = roomy
        taken = large.get_content_height(self.size, self.size, width - 2)
        left_part = self.query_one("#left")
        left_part.styles.width = left if roomy else "1fr"
        gaps = roomy and height >= GAPS
        self.query_one("#middle").styles.margin = (int(gaps), 0, 0, 0)
        rows = height - len(cautions) - taken - 1 - roomy - gaps
        self.large_choices = height >= TALL and self._fits_large(rows, left)
        ascii_only = pick_mode(self.app) is RasterMode.ASCII
        scrolled = 2 if self.question is None else 0
        self.query_one("#choices", Choices).fit_to(left - scrolled, large=self.large_choices, ascii_only=ascii_only)
        self._share_out(rows, left, gaps)
        large.refresh(layout=True)
        self.query_one("#keys", KeysLine).say(self.commands)
        self.show_picture()

    def _caution_rows(self, width: int, height: int) -> tuple[str, ...]:
        own = tuple(caution for caution in self.cautions() if caution not in ALWAYS)
        if width < SMALLEST[0] or height < SMALLEST[1]:
            return briefest(own[:1], width - 2) if height >= 10 else ()
        return band_rows(own if height >= LISTED else own[:1], width - 2, listed=height >= LISTED, whole=False)

    def _fits_large(self, rows: int, width: int) -> bool:
        """Whether all that can be chosen has room in large letters, besides all that is said."""
        if self.question is None:
            return False
        said = [row for text in (*self.paragraphs(), self.echo_words()) for row in _wrapped(text, width)]
        return len(said) + self._choice_rows(width, large=True) + 3 <= rows

    def _choice_rows(self, width: int, *, large: bool) -> int:
        ascii_only = pick_mode(self.app) is RasterMode.ASCII
        return sum(len(choice_rows(1, entry.label, width, large, ascii_only)) for entry in self.rows())

    def _share_out(self, rows: int, width: int, gaps: bool) -> None:
        """Show what so many rows have room for, the most important first."""
        choices, echo, text = (self.query_one(name) for name in ("#choices", "#echo", "#text"))
        typed = self.entry is not None
        for name in ("#number", "#words"):
            self.query_one(name).display = self.entry is self.query_one(name)
        said_rows = _wrapped(self.echo_words(), width)
        self.query_one("#echo", Static).update(Content("\n".join(said_rows)))
        listed = self._choice_rows(width, large=self.large_choices)
        rows -= typed
        echo.display = bool(said_rows) and len(said_rows) <= rows
        rows -= len(said_rows) if echo.display else 0
        choices.display = not typed
        least = min(listed, max(rows, 1)) if not typed else 0
        scrolled = not typed and listed > rows >= LONG  # a list that is scrolled anyway can spare some rows
        how = self._as_much_as(rows - LONG + 2 if scrolled else rows - least, width)
        self.query_one("#text", Static).update(Content("\n".join(how)))
        text.display = bool(how)
        rows -= len(how)
        least = min(least, max(rows, 1)) if not typed else 0
        choices.styles.max_height = max(rows, 1)
        rows -= least
        gap = 1 if gaps and rows >= 3 else 0
        text.styles.margin = (gap, 0, gap, 0)
        echo.styles.margin = (gap, 0, 0, 0) if typed else (0, 0, gap, 0)

    def _as_much_as(self, rows: int, width: int) -> list[str]:
        """The paragraphs, the last ones left out as far as so many rows have no room for them."""
        texts = self.paragraphs()
        for count in range(len(texts), 0, -1):
            wrapped = [row for text in texts[:count] for row in _wrapped(text, width)]
            if len(wrapped) <= rows:
                return wrapped
        return []

    def offer_rows(self, highlight: int | None = None) -> None:
        """Set the choices anew."""
        scrolled = 2 if self.question is None else 0
        ascii_only = pick_mode(self.app) is RasterMode.ASCII
        self.query_one("#choices", Choices).offer(
            self.rows(), self._columns() - scrolled, highlight, large=self.large_choices, ascii_only=ascii_only
        )

    def _columns(self) -> int:
        width = self.size.width
        roomy = width >= SMALLEST[0] and self.size.height >= SMALLEST[1]
        return min(max(40, round(0.5 * (width - 2))), MOST_LEFT) if roomy else width - 2

    def show_picture(self) -> None:
        """Draw what is asked about, as it would be with what is typed or highlighted."""
        question = self.question or self.highlighted_question()
        self.query_one("#picture", Picture).scene = scene_of(self.seen, question or self.asked[0], self.wording)

    def highlighted_question(self) -> Question | None:
        """In the list of all values: the question whose value is highlighted."""
        choices = self.query_one("#choices", Choices)
        if choices.highlighted is None or choices.highlighted >= len(choices.entries):
            return None
        key = choices.entries[choices.highlighted].key
        return next((question for question in self.asked if question.key == key), None)


def _wrapped(text: str, width: int) -> list[str]:
    return textwrap.wrap(text, max(width - 1, 8), break_on_hyphens=False) if text else []
