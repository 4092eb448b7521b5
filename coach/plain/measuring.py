"""Where a mark lies: the way to measure, the numbers, and everything read back before it counts."""

from coach.errors import InputError
from coach.plain.talk import Option, Talk, numbered
from coach.practice.assist import BenchMark
from coach.reading.clock import parse_clock
from coach.reading.face import Face
from coach.reading.model import Reading
from coach.session.session import Session
from coach.steps import ways
from coach.steps.measuring import questioned
from coach.steps.purpose import Purpose
from coach.steps.readback import readback_answers, readback_words
from coach.units import Unit, parse_length

CROSSHAIR = "One more way, a cross that is moved over a drawing, is in the full screen only."
WAYS = {
    "gaps": "Gaps, from the imprint's rim to the mark: left, right, top and bottom",
    "offsets": "Offsets, from the opening's centre: how far to the right and how far up",
    "clock": "Clock, from the opening's centre: how far, and at which hour, 12 is up",
}
OPTIONS: dict[str, tuple[str, dict[str, tuple[str, str]]]] = {
    "face": (
        "Which face of the tape is looked at?",
        {
            "outer": ("Outer face", "which the beam hit"),
            "sticky": ("Sticky face", "where left and right are swapped"),
        },
    ),
    "unit": ("In which unit are numbers without one?", {"mm": ("Millimetres", ""), "in": ("Inches", "")}),
    "to": (
        "Where do the gaps end?",
        {"edge": ("Edge of the mark", "the near one"), "centre": ("Centre of the mark", "")},
    ),
    "tool": (
        "Measured with what?",
        {"callipers": ("Callipers", ""), "ruler": ("Ruler", "which counts as less sure")},
    ),
}
"""What is asked about the manner of measuring, and the answers: each in short, and what else is said of it."""
HINTS = {
    "across": "to the left is minus",
    "along": "down is minus",
    "hour": "such as 2:30",
    "mark": "needed beside three gaps",
}
NEEDED_GAPS = 3
NOT_MEASURED = ("none", "-")
OTHER = "other"
"""Said in place of a number: measured in another way."""


class _Otherwise(Exception):
    """Another way, face or unit is wanted."""


class Measuring:
    """One mark that is measured."""

    def __init__(self, talk: Talk, session: Session, purpose: Purpose, bench: BenchMark | None) -> None:
        self._talk, self._session, self._purpose, self._bench = talk, session, purpose, bench
        drafted = session.draft.get("for") == purpose.key  # it means what it meant when it was typed
        self._entries = dict(purpose.start) if drafted else {"unit": talk.wording.unit, **purpose.start}
        self._offered = [way for way in ways.ways_for(purpose.shot) if way.key in WAYS]

    def measure(self) -> None:
        """Ask until the person keeps a reading, then make the entry.  Raises CoachError, Back and Ended."""
        self._manner()
        asked = True
        while True:
            if asked:
                self._numbers()
            try:
                reading = ways.reading_of(self._entries, self._way, self._session.machine, self._purpose.shot)
                reading = questioned(self._session, self._purpose.shot, reading)
            except InputError as error:
                self._talk.say(str(error))
                asked = True
                continue
            answer = self._read_back(reading)
            if answer == "keep":
                self._purpose.save(reading)
                return
            asked = answer == "again"
            if not asked:
                self._take_as_suggested(answer)

    @property
    def _way(self) -> ways.Way:
        return next((way for way in self._offered if way.key == self._entries.get("way")), self._offered[0])

    def _keep(self, **changes: str) -> None:
        """What is typed is on disk at once."""
        self._entries.update(changes)
        self._session.keep_draft({**self._entries, "for": self._purpose.key})

    # how it is measured

    def _manner(self) -> None:
        if self._entries.get("way") in {way.key for way in self._offered}:
            self._talk.say(f"Measured as before: {self._manner_words()}.")
            same = (("same", "Same as before"), ("other", "Other way, face or unit"))
            if self._talk.choose("Which one?", numbered(same), 1) == "same":
                return
        self._ask_manner()

    def _ask_manner(self) -> None:
        self._talk.say(CROSSHAIR)
        way = self._one_of("How is it measured?", {way.key: WAYS[way.key] for way in self._offered}, self._way.key)
        self._keep(way=way)
        for name in self._options():
            question, answers = OPTIONS[name]
            labels = {key: ", ".join(filter(None, words)) for key, words in answers.items()}
            self._keep(**{name: self._one_of(question, labels, ways.option(self._entries, name))})

    def _options(self) -> tuple[str, ...]:
        last = {"gaps": ("to",), "offsets": ("tool",)}.get(self._way.key, ())
        return ("face", "unit", *last)

    def _manner_words(self) -> str:
        chosen = [OPTIONS[name][1][ways.option(self._entries, name)][0] for name in self._options()]
        return ", ".join([self._way.label, *chosen]).lower()

    def _one_of(self, question: str, labels: dict[str, str], usual: str) -> str:
        options = numbered(tuple(labels.items()))
        return self._talk.choose(question, options, next(o.number for o in options if o.key == usual))

    # the numbers

    def _numbers(self) -> None:
        """Ask for all of them, in another way if that is wanted."""
        while True:
            try:
                self._values()
            except _Otherwise:
                self._ask_manner()
            else:
                return

    def _values(self) -> None:
        if self._bench is not None:
            self._talk.say(f"Bench: {self._bench.on(self._face, self._talk.wording)}.")
        order = "; ".join(field.label.split(",")[0].lower() for field in self._way.fields if field.key != "mark")
        self._talk.say(
            f"One by one, or all in one answer with semicolons between: {order}.",
            f"The answer {OTHER} changes the way, the face or the unit.",
        )
        together = False
        for field in self._way.fields:
            if field.key == "mark":
                wanted = self._width_needed() and not (together and self._entries.get("mark"))
            else:
                wanted = not together
            if wanted:
                together = self._ask_value(field) or together

    @property
    def _face(self) -> Face:
        return "sticky" if ways.option(self._entries, "face") == "sticky" else "outer"

    def _width_needed(self) -> bool:
        gaps = [self._entries.get(side, "").strip() for side in ("left", "right", "top", "bottom")]
        return ways.option(self._entries, "to") == "edge" and sum(map(bool, gaps)) == NEEDED_GAPS

    def _ask_value(self, field: ways.WayField) -> bool:
        """Ask for one number until it can be used; True when all were answered in one."""
        before = self._entries.get(field.key, "")
        while True:
            answer = self._talk.ask(self._question(field, before), before)
            if answer.lower() == OTHER:
                raise _Otherwise
            try:
                if ";" in answer and field is self._way.fields[0]:
                    self._keep(**self._all_in_one(answer))
                    return True
                self._keep(**{field.key: self._checked(field, answer)})
                return False
            except InputError as error:
                self._talk.say(str(error))

    def _question(self, field: ways.WayField, before: str) -> str:
        hint = f", {HINTS[field.key]}" if field.key in HINTS else ""
        unit = "" if field is ways.HOUR else f" in {'inches' if self._unit == 'in' else 'mm'}"
        enter = (
            f" Enter alone keeps {before}." if before else " Enter alone: not measured." if _may_lack(field) else ""
        )
        return f"{field.label}{unit}{hint}?{enter}"

    @property
    def _unit(self) -> Unit:
        return "in" if ways.option(self._entries, "unit") == "in" else "mm"

    def _all_in_one(self, answer: str) -> ways.Entries:
        parts, fields = [part.strip() for part in answer.split(";")], self._way.fields
        if len(parts) > len(fields):
            raise InputError(
                f"These are {len(parts)} values",
                expected=f"at most {len(fields)}: {'; '.join(field.label.lower() for field in fields)}",
            )
        parts += [""] * (len(fields) - len(parts))
        given = zip(fields, parts, strict=True)
        return {f.key: self._checked(f, part) if part or f.key != "mark" else "" for f, part in given}

    def _checked(self, field: ways.WayField, answer: str) -> str:
        """The text of one value, if it can be used by itself; "" where it was not measured.  Raises InputError."""
        text = "" if answer.lower() in NOT_MEASURED else answer
        if not text and _may_lack(field):
            return ""
        if field is ways.HOUR:
            parse_clock(text)
        elif parse_length(text, self._unit, field.label).mm < 0 and field.positive:
            raise InputError(f"{field.label} is less than nothing", expected="a length of 0 or more", example="4.2")
        return text

    # reading back

    def _read_back(self, reading: Reading) -> str:
        """ "keep", "again", or the key of a question whose suggestion is taken."""
        shot = self._purpose.shot
        inside = ways.inside_words(reading, self._session.machine, shot)
        for text in readback_words(reading, shot.name, inside):
            self._talk.say(f"Question: {text[2:]}" if text.startswith("? ") else text)
        answers = readback_answers(reading)
        options = [Option(answer.key, answer.label, answer.number) for answer in answers]
        return self._talk.choose("Is this right?", options, answers[0].number)

    def _take_as_suggested(self, question: str) -> None:
        if question == "far":
            self._keep(face="outer" if self._face == "sticky" else "sticky")
        else:
            self._keep(to="centre")


def _may_lack(field: ways.WayField) -> bool:
    """Whether the reading may do without that number: three gaps of four are enough, with the mark's width."""
    return field in ways.GAPS.fields and field.key != "mark"


def measure(talk: Talk, session: Session, purpose: Purpose, bench: BenchMark | None) -> None:
    """Measure one mark and make its entry.  Raises CoachError, Back and Ended; what was typed is kept as a draft."""
    drafted = [
        f"{field.label.split(',')[0]} {purpose.start[field.key]}"
        for field in _fields(purpose)
        if purpose.start.get(field.key)
    ]
    if drafted and session.draft.get("for") == purpose.key:
        talk.say(f"Typed before for this mark: {', '.join(drafted)}.")
    Measuring(talk, session, purpose, bench).measure()


def _fields(purpose: Purpose) -> tuple[ways.WayField, ...]:
    return next((way.fields for way in ways.WAYS if way.key == purpose.start.get("way")), ())
