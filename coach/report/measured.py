"""The sections about the beam: before and after, every reading, what was turned, expected against seen, doses."""

import re
from collections.abc import Mapping

from coach.advice.lesson_words import lesson_words, retest_words
from coach.advice.lessons import lessons, retest
from coach.belief.belief import Belief
from coach.report.page import Drawing, Section, Table
from coach.report.so_far import clock_words
from coach.scenes.before_after import before_after, beside
from coach.scenes.of_bed import bed_scene, beds_before_and_after
from coach.scenes.of_tapes import tapes
from coach.session.events import Amend, Lock, Mark, Miss, Pulse, Shift, Turn
from coach.session.replay import after, sighting_of
from coach.session.session import Session
from coach.shown import Wording
from coach.steps.doses_said import dose_lines
from coach.steps.entries import OUTCOMES, SHAPES, entries_listed, entry_words
from coach.steps.words import setting_words

TAPE = (34, 17)
"""Columns and rows of one tape …"""
BED = (56, 26)
"""… and of a bed that stands beside another."""
HOW = ("method", "tool", "face")
"""Of what is typed with a reading: how it was measured."""
Reading = Mark | Miss | Pulse | Amend


def before_and_after(session: Session, wording: Wording) -> Section:
    """Every station's first mark at the head against its newest, and where on the bed that is."""
    both = before_after(session)
    if both is None:
        return Section("Before and after")
    shown = Drawing("before-after", "All stations around one opening's centre", beside(session) or both, 84, 27)
    rows = []
    for number, station in enumerate(both.stations, start=1):
        first = "missed" if station.missed_before else _offset(station.before, wording)
        now = "missed" if station.missed_after else _offset(station.after, wording)
        rows.append((f"{number} {station.name}", first, now, _offset(station.expected, wording)))
    heads = ("Station", "Before anything was adjusted", "Newest mark", "Expected, where not marked since")
    table = Table("Marks at the head", heads, tuple(rows))
    return Section("Before and after", (), (shown, *_beds(session)), (table,))


def _beds(session: Session) -> tuple[Drawing, ...]:
    """The bed with its tapes before anything was adjusted and now; one picture where nothing was."""
    both = beds_before_and_after(session)
    if both is None:
        return (Drawing("bed", "The stations on the bed, with their marks", bed_scene(session, None)),)
    before, after = both
    return (
        Drawing("bed-before", "The bed before anything was adjusted", before, BED[0], BED[1], small=True),
        Drawing("bed-after", "The bed with the marks since the last adjustment", after, BED[0], BED[1], small=True),
    )


def apertures(session: Session) -> Section:
    """Every station's tape by itself, side by side at one scale, with the tolerance and its marks' entry numbers."""
    drawn = tuple(
        Drawing(f"tape-{number}", f"{number} {name}", scene, TAPE[0], TAPE[1], small=True)
        for number, (name, scene) in enumerate(tapes(session), start=1)
    )
    says = (
        "Each tape as seen facing it, all at one scale. The newest mark is solid, older ones are hollow; the numbers "
        "are those of the entries under Readings.",
    )
    return Section("Tapes, station by station", says, drawn) if drawn else Section("Tapes, station by station")


def _offset(offset: tuple[float, float] | None, wording: Wording) -> str:
    return wording.place(*offset) if offset is not None else "–"


def readings(session: Session, wording: Wording) -> Section:
    """Every reading as typed and as understood, those taken back or corrected too."""
    rows = []
    marks = {event.id: event for event in session.events if isinstance(event, Mark)}
    for event, state in entries_listed(session.events):
        if isinstance(event, Mark | Miss | Amend) or (isinstance(event, Pulse) and event.outcome != "mark"):
            at = marks.get(event.of) if isinstance(event, Amend) else event
            where = (at.station, f"{at.target}, {wording.head(at.x, at.y)}") if at is not None else ("–", "–")
            rows.append(
                (f"{event.id}", clock_words(session, event.at), *where, *_understood(event, session, wording), state)
            )
    heads = (
        "Entry",
        "Time",
        "Station",
        "Target, head at",
        "As typed",
        "Understood",
        "Give or take",
        "Pulse",
        "State",
    )
    says = () if rows else ("No mark was entered.",)
    return Section("Readings", says, (), (Table("Every reading, in order", heads, tuple(rows)),), appendix=True)


def typed_words(typed: Mapping[str, str]) -> str:
    """What was typed, and how it was measured: "right 1,0, up 2 mm (offsets, callipers)"."""
    how = [typed[key] for key in HOW if key in typed]
    what = {name.replace("_", " "): text for name, text in typed.items() if name not in (*HOW, "unit")}
    bare = ", ".join(f"{name} {text}" for name, text in what.items() if not re.search("[a-z]", text))
    named = (f"{name} {text}" for name, text in what.items() if re.search("[a-z]", text))  # with a unit of its own
    unit = f" {typed['unit']}" if bare and "unit" in typed else ""
    by = f" ({', '.join(how)})" if how else ""
    return f"{', '.join(filter(None, (f'{bare}{unit}', *named)))}{by}".strip() or "–"


def _understood(event: Reading, session: Session, wording: Wording) -> tuple[str, str, str, str]:
    """As typed, understood, its doubt, and the pulse."""
    if isinstance(event, Miss):
        return "–", "missed the target", "–", _pulse(event)
    if isinstance(event, Pulse):
        return "–", OUTCOMES[event.outcome], "–", _pulse(event)
    typed = typed_words(event.typed)
    width = f", {wording.length(event.width)} wide" if event.width is not None else ""
    if isinstance(event, Amend):
        doubt = wording.length(2 * event.sd) if event.sd is not None else "as usual"
        return typed, f"entry {event.of} is {wording.place(event.u, event.v)}{width}", doubt, "–"
    kept = ", kept although questioned" if event.kept else ""
    understood = f"{wording.place(event.u, event.v)}{width}{SHAPES[event.shape]}{kept}"
    return typed, understood, wording.length(2 * sighting_of(event, session.belief.tuning).sd), _pulse(event)


def _pulse(event: Mark | Miss | Pulse) -> str:
    card = "wide card" if event.wide else ""
    return ", ".join(filter(None, (setting_words(event.ms, event.power, event.layers), card))) or "–"


def adjustments(session: Session, wording: Wording) -> Section:
    """What was turned or moved, and what the marks after it showed against what was expected of them."""
    turned = tuple(
        (f"{event.id}", clock_words(session, event.at), entry_words(event, wording))
        for event in session.effective
        if isinstance(event, Turn | Shift | Lock)
    )
    seen, belief = _expected_and_seen(session, wording)
    learned = tuple(lesson_words(lesson) for lesson in lessons(belief))
    tables = (
        Table("What was done, in order", ("Entry", "Time", "Turned or moved"), turned),
        Table("Marks after an adjustment", ("Entry", "Expected and seen"), seen),
    )
    return Section("Turned and moved", learned, (), tables) if turned else Section("Turned and moved")


def _expected_and_seen(session: Session, wording: Wording) -> tuple[tuple[tuple[str, str], ...], Belief]:
    belief = Belief.initial(session.machine, session.created.date())
    rows = []
    for event in session.effective:
        if isinstance(event, Mark | Miss) and belief.adjustments:
            said = retest_words(retest(belief, sighting_of(event, belief.tuning)), wording)
            rows.append((f"{event.id}", said))
        belief = after(belief, event)
    return tuple(rows), belief


def doses(session: Session) -> Section:
    """What dose each station needs beside the one nearest the tube."""
    return Section("Doses", dose_lines(session))
