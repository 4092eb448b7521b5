"""The head, its nozzle and the pointer: marks below mirror 3, what they tell, and where the spot lies."""

from collections.abc import Iterator, Sequence
from math import hypot

from coach.head.belief import HeadBelief
from coach.head.expectation import expected
from coach.pictures.flat import on_the_flat
from coach.report.page import Drawing, Section, Table
from coach.report.so_far import clock_words
from coach.scenes.of_below import card_marked, head_as_believed, nozzle_scene, pointer_scene
from coach.session.events import Event, Shift, Turn
from coach.session.head_events import BedMark, NozzleMark, Pointer
from coach.session.head_replay import HeadReplay, mark_of
from coach.session.session import Session
from coach.shown import Wording
from coach.steps.entries import entry_words

SEEN = 0.1
"""Per cent below which a loss is said to be less than this: figures and doubts of nothing would claim too much."""
COLUMNS, ROWS = 52, 22
VAGUE = 20.0
"""mm of doubt from which on nothing is expected: the head's first marks tell of it only then."""
BelowMark = BedMark | NozzleMark


def head(session: Session, wording: Wording) -> Section:
    """Marks below mirror 3, and what is believed of lean and nozzle."""
    marks = [event for event in session.effective if isinstance(event, BelowMark)]
    rows = tuple(_row(session, event, wording) for event in marks)
    says = _lean_and_nozzle(session, marks)
    tables = (
        Table("Marks below mirror 3, seen from above", ("Entry", "Time", "As typed", "Understood"), rows),
        Table("Marks after the head was adjusted", ("Entry", "Expected and seen"), tuple(_retests(session, wording))),
    )
    return Section("Head and nozzle", says, tuple(_drawings(session, marks)), tables)


def _row(session: Session, event: BelowMark | Pointer, wording: Wording) -> tuple[str, str, str, str]:
    typed = ", ".join(f"{name} {text}" for name, text in event.typed.items()) or "–"
    return f"{event.id}", clock_words(session, event.at), typed, entry_words(event, wording)


def _drawings(session: Session, marks: Sequence[BelowMark]) -> Iterator[Drawing]:
    """The head as believed, the card with the lens in and out, the nozzle; each once there is a mark for it."""
    if marks:
        yield Drawing("head", "The head from two sides, as believed now", head_as_believed(session), 84, 30)
    for lens, words in ((False, "out"), (True, "in")):
        if session.head_belief.on_card(lens=lens):
            scene = card_marked(session, lens=lens)
            yield Drawing(f"card-{words}", f"The card on the bed, lens {words}", scene, COLUMNS, ROWS, small=True)
    if any(isinstance(event, NozzleMark) for event in marks):
        yield Drawing("nozzle", "The tape under the nozzle", nozzle_scene(session), COLUMNS, ROWS, small=True)


def _lean_and_nozzle(session: Session, marks: Sequence[BelowMark]) -> tuple[str, ...]:
    """What is believed of both, each once there are marks that tell it: two on the bed, one at the nozzle."""
    on_bed = sum(isinstance(event, BedMark) for event in marks)
    through = any(isinstance(event, NozzleMark) and event.right is not None for event in marks)
    if on_bed < 2 and not through:
        return ()
    now = session.head_advice().now
    (right, back), (sd_right, sd_back) = now.lean, now.lean_sd
    lean = (
        f"As believed the beam leans {abs(right):.1f}° to the {'right' if right >= 0 else 'left'} (give or take "
        f"{2 * sd_right:.1f}°) and {abs(back):.1f}° to the {'back' if back >= 0 else 'front'} (give or take "
        f"{2 * sd_back:.1f}°): the lower, the farther there."
    )
    share, doubt = 100 * now.clipped, 200 * now.clipped_sd
    said = f"{share:.1f} % (give or take {doubt:.1f} %)" if share + doubt >= SEEN else f"less than {SEEN} %"
    cut = f"As believed the nozzle cuts off {said} of the beam."
    return (*((lean,) if on_bed >= 2 else ()), *((cut,) if through else ()))


def _retests(session: Session, wording: Wording) -> Iterator[tuple[str, str]]:
    """Each mark below mirror 3 after the head was adjusted, beside what was expected of it."""
    adjusted, events = False, session.effective
    replayed = HeadReplay.initial(session.machine, session.created.date())
    for number, event in enumerate(events):
        adjusted = adjusted or _adjusts(event)
        if adjusted and isinstance(event, BelowMark) and not (isinstance(event, NozzleMark) and event.right is None):
            replayed = replayed.after(events[:number])
            yield f"{event.id}", _expected_and_seen(replayed.belief, event, wording)


def _adjusts(event: Event) -> bool:
    match event:
        case Turn(mirror=3) if any(event.screws.values()):
            return True
        case Shift(part="lens") if event.right or event.back or event.up:
            return True
        case _:
            return False


def _expected_and_seen(before: HeadBelief, event: BelowMark, wording: Wording) -> str:
    mark = mark_of(event, before.tuning.head)
    mean, cov = expected(before, mark)
    right, back = float(mean[0]), float(mean[1])
    doubt = 2 * max(float(cov[0, 0]), float(cov[1, 1])) ** 0.5
    seen_right, seen_back = (float(each) for each in mark.place)
    off = hypot(seen_right - right, seen_back - back)
    where = "on the card" if isinstance(event, BedMark) else "at the nozzle"
    if doubt > VAGUE:
        return f"{where}: nothing could be expected, seen {on_the_flat((seen_right, seen_back), wording)}."
    return (
        f"{where}: expected {on_the_flat((right, back), wording)} (give or take {wording.length(doubt)}), seen "
        f"{on_the_flat((seen_right, seen_back), wording)}: {wording.length(off)} apart."
    )


def pointer(session: Session, wording: Wording) -> Section:
    """Where the pointer's spot lay beside the mark, height by height."""
    told = [event for event in session.effective if isinstance(event, Pointer)]
    if not told:
        return Section("Pointer")
    table = Table(
        "The pointer beside the mark, seen from above",
        ("Entry", "Time", "As typed", "Understood"),
        tuple(_row(session, event, wording) for event in told),
    )
    newest = max(told, key=lambda event: event.id)
    good = wording.exact(session.head_belief.tuning.head.pointer)
    off = wording.length(hypot(newest.right, newest.back))
    says = (f"At the newest look it lay {off} beside the mark (good: {good}).",)
    drawn = Drawing("pointer", "The pointer's spot since its screws were last turned", pointer_scene(session, None))
    return Section("Pointer", says, (drawn,), (table,))
