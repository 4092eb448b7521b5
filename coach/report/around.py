"""The sections around the beam: the machine, answers, checks, cleaning, cuts, head and nozzle, and what is open."""

from collections.abc import Sequence
from math import isinf

from coach.cutting.limits import Limit
from coach.describing.words import head_words, moves_words
from coach.report.in_short import cut_result, finished, next_step
from coach.report.measured import time_words
from coach.report.page import Drawing, Section, Table
from coach.scenes.of_visit import bed_gaps_scene, optics_scene
from coach.scenes.visit_steps import there
from coach.session.cut_checks import cut_runs
from coach.session.events import Gate, Note
from coach.session.head_events import BedMark, NozzleMark, Pointer
from coach.session.part_events import ANEW, Item, Skip
from coach.session.session import Session
from coach.session.visit_events import Care, Check
from coach.shown import Wording
from coach.steps.entries import entry_words
from coach.steps.locks import loose_locks, nuts_of
from coach.steps.stages.cut_words import between
from coach.triage.questions import question

NOT_KNOWN = "not known"
SEEN = 0.1
"""Per cent below which a loss is said to be less than this: figures and doubts of nothing would claim too much."""


def machine(session: Session, wording: Wording) -> Section:
    """The machine as the session knows it."""
    it = session.machine
    size = f"{wording.exact(it.bed.width)} wide, {wording.exact(it.bed.depth)} deep"
    gaps = f"{wording.exact(it.path.mirror1_gap)} and {wording.exact(it.path.mirror2_gap)}"
    rows = (
        ("Name", it.name),
        ("Travel of the head", size),
        ("Mirrors 1 and 2", f"on the {it.path.side}"),
        ("Mirror 1 to 2, gantry at the back; mirror 2 to the head, head beside it", gaps),
        ("Opening at the head, diameter", wording.exact(it.aperture.head)),
        ("Good up to", f"{wording.exact(it.tolerance)} off the middle, at every station"),
        ("Parts that move", moves_words(it.moves, wording) if it.moves else NOT_KNOWN),
        ("Mirror 3, lens, nozzle", head_words(it, wording) or NOT_KNOWN),
        *((f"Station {place.name}", wording.head(place.x, place.y)) for place in it.stations),
    )
    return Section("The machine", (), (), (Table("As it was described", ("What", "Value"), rows),))


def asked(session: Session) -> Section:
    """What was answered before anything was measured."""
    rows = tuple((question(key).asks, "; ".join(said)) for key, said in session.answers().items())
    return Section("What changed", (), (), (Table("Questions and answers", ("Question", "Answer"), rows),))


def checks(session: Session, wording: Wording) -> Section:
    """Every check with its figures and what they mean; the newest of each name counts."""
    meaning = session.checks(wording)
    newest = {event.name: event.id for event in session.effective if isinstance(event, Check)}
    rows = tuple(
        (f"{event.id}", time_words(event.at), entry_words(event, wording), " ".join(meaning[event.name].says) or "–")
        for event in session.effective
        if isinstance(event, Check) and newest[event.name] == event.id
    )
    gaps = "bed" in meaning and bool(meaning["bed"].figures)
    drawn = (Drawing("gaps", "The bed's gaps at its corners", bed_gaps_scene(session)),) if gaps else ()
    table = Table("Checks with covers shut, the newest of each", ("Entry", "Time", "Check", "Means"), rows)
    return Section("Checks", (), drawn, (table,))


def cleaning(session: Session, wording: Wording) -> Section:
    """How the optics were found."""
    rows = tuple(
        (f"{event.id}", time_words(event.at), entry_words(event, wording))
        for event in session.effective
        if isinstance(event, Care)
    )
    drawn = (
        (Drawing("optics", "The optics as they looked last", optics_scene(session, there(session))),) if rows else ()
    )
    return Section("Cleaning", (), drawn, (Table("Optics", ("Entry", "Time", "Found"), rows),))


def cuts(session: Session) -> Section:
    """Every cut check: the speeds, the share of the others that each station gets, and the change."""
    says: list[str] = []
    tables = []
    for number, run in enumerate(cut_runs(session.effective)):
        headline, told = cut_result(session, number)
        says += [f"Cut check {number + 1}: {headline}.", *told]
        left = session.cuts(number).left if told else {}
        rows = tuple(
            (name, *_speeds(limit), between(left[name]) if name in left else "–")
            for name, limit in run.limits.items()
        )
        power = f", {run.power:g} %" if run.power is not None else ""
        heads = ("Station", "Fastest through, mm/s", "Next, not through, mm/s", "Of the mean, geometry taken off")
        tables.append(Table(f"Cut check {number + 1}: {run.sheet.name}{power}", heads, rows))
    return Section("Cut checks", tuple(says), (), tuple(tables))


def _speeds(limit: Limit) -> tuple[str, str]:
    """The fastest line that fell through, and the next, which did not."""
    return f"{limit.low:g}" if limit.low else "none", "none" if isinf(limit.high) else f"{limit.high:g}"


def head(session: Session, wording: Wording) -> Section:
    """Marks below mirror 3, and what is believed of lean and nozzle."""
    marks = [event for event in session.effective if isinstance(event, BedMark | NozzleMark | Pointer)]
    rows = tuple((f"{event.id}", time_words(event.at), _typed(event), entry_words(event, wording)) for event in marks)
    says = _lean_and_nozzle(session, marks)
    table = Table("Marks below mirror 3, seen from above", ("Entry", "Time", "As typed", "Understood"), rows)
    return Section("Head and nozzle", says, (), (table,))


def _lean_and_nozzle(session: Session, marks: Sequence[BedMark | NozzleMark | Pointer]) -> tuple[str, ...]:
    """What is believed of both, each once there are marks that tell it: two on the bed, one at the nozzle."""
    on_bed = sum(isinstance(event, BedMark) for event in marks)
    through = any(isinstance(event, NozzleMark) and event.right is not None for event in marks)
    if on_bed < 2 and not through:
        return ()
    now = session.head_advice().now
    (right, back), (sd_right, sd_back) = now.lean, now.lean_sd
    lean = (
        f"As believed the beam leans {right:+.1f}° to the right (give or take {2 * sd_right:.1f}°) and "
        f"{back:+.1f}° to the back (give or take {2 * sd_back:.1f}°): the lower, the farther there."
    )
    share, doubt = 100 * now.clipped, 200 * now.clipped_sd
    said = f"{share:.1f} % (give or take {doubt:.1f} %)" if share + doubt >= SEEN else f"less than {SEEN} %"
    cut = f"As believed the nozzle cuts off {said} of the beam."
    return (*((lean,) if on_bed >= 2 else ()), *((cut,) if through else ()))


def _typed(event: BedMark | NozzleMark | Pointer) -> str:
    return ", ".join(f"{name} {text}" for name, text in event.typed.items()) or "–"


def confirmed(session: Session, wording: Wording) -> Section:
    """The cautions that were confirmed, and when."""
    gates = [event for event in session.effective if isinstance(event, Gate)]
    rows = tuple((time_words(event.at), entry_words(event, wording)) for event in gates)
    says = () if rows else ("No caution was confirmed in this session.",)
    return Section("Cautions confirmed", says, (), (Table("In order", ("Time", "What"), rows),))


def notes(session: Session) -> Section:
    """What the person wrote down."""
    written = [event for event in session.effective if isinstance(event, Note)]
    return Section("Notes", tuple(f"{time_words(event.at)}: {event.text}" for event in written))


def still_open(session: Session, wording: Wording) -> tuple[str, ...]:
    """What was left, what contradicts itself, and what comes next: one sentence each."""
    skipped = {event.part: event.why for event in session.effective if isinstance(event, Skip)}
    unchecked = [name for name, each in session.checks().items() if each.result == "not checked"]
    slack = loose_locks(session)
    return tuple(
        filter(
            None,
            (
                next_step(session, wording),
                f"Not said to be tight: {nuts_of(slack)}." if slack else "",
                *(f"{_capital(words)}." for words in _left(session, wording)),
                f"Not checked: {', '.join(unchecked)}." if unchecked else "",
                *(f"Left out: {part} ({why})." for part, why in skipped.items()),
                *(doubt.asks for doubt in session.doubts()),
            ),
        )
    ) or (("Nothing was left open.",) if finished(session) else ())


def _left(session: Session, wording: Wording) -> list[str]:
    """The things on the closing list that stay open, as they were answered last."""
    newest = {e.name: e for e in session.effective if isinstance(e, Item) and e.part == "close up" and e.name != ANEW}
    return [entry_words(event, wording) for event in newest.values() if not event.done]


def _capital(words: str) -> str:
    return f"{words[:1].upper()}{words[1:]}"
