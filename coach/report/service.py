"""Questions worth asking the service, each with the entries that it rests on; none where nothing gives reason to."""

from collections.abc import Iterable, Iterator

from coach.advice.words import staying
from coach.report.doubts import contradictions
from coach.report.good_now import cut_result, weak_as_it_stands
from coach.report.page import Section, Table
from coach.report.so_far import listed
from coach.session.cut_checks import cut_runs
from coach.session.events import Best, Mark, Mended, Pulse, Refused, Shape
from coach.session.part_events import Item
from coach.session.session import Session
from coach.session.visit_events import Check
from coach.shown import Wording
from coach.steps.entries import SHAPES, entry_words
from coach.steps.suspects_said import NAMED
from coach.triage.causes import ABOUT
from coach.triage.cleaned import DULL
from coach.triage.findings import CAUSE_OF

HEADING = "Questions for the service"
Question = tuple[str, str]
"""What is asked, and because of what."""
FAULTS = {
    "yaw": "Is the gantry square to its rails, and do both its sides keep step?",
    "loose": "Which mount or part has play, and can it be replaced?",
    "station": "Is the rail or the belt worn or dented at that station?",
    "coarse": "Are there finer screws, or a better mount, for this mirror?",
    "edge": "Is there a larger mirror or mount, or can the part before it be moved?",
    "no screws": "How is this mirror meant to be adjusted?",
    "no levers": "How is the head meant to be adjusted?",
    "head coarse": "Are there finer screws for mirror 3 or for the lens?",
    "nozzle": "Is this nozzle the right one, and is it bored in its middle?",
    "lens": "Does the lens sit as it should, and is it the right one for this head?",
    "off the tape": "Where does the beam leave its path?",
    "not firing": "Why does the tube not fire?",
}
"""Of every cause at which the coach stops."""
ASKED_OF: dict[Shape, str] = {
    "crescent": "What clips the beam on its way?",
    "cut": "What clips the beam on its way?",
    "double": "Is an optic cracked, or the beam split?",
}
"""Of marks that are not round."""


def service(session: Session, wording: Wording) -> Section:
    """The questions, the most telling first."""
    rows = tuple(dict.fromkeys(_questions(session, wording)))
    return Section(HEADING, (), (), (Table("Each with what it rests on", ("Question", "Because"), rows),))


def _questions(session: Session, wording: Wording) -> Iterator[Question]:
    yield from _of_tube_and_supply(session, wording)
    yield from _of_what_stays_weak(session, wording)
    yield from _of_optics(session)
    yield from _of_stops(session, wording)
    yield from _of_marks(session)
    yield from _of_fixed_parts(session, wording)
    yield from _of_contradictions(session)
    yield from _of_safety(session, wording)


def _of_tube_and_supply(session: Session, wording: Wording) -> Iterator[Question]:
    """Where the verdict is theirs, or the figures of tube, supply or water were bad."""
    for name, found in session.checks(wording).items():
        cause = CAUSE_OF[name]
        newest = next(e for e in reversed(session.effective) if isinstance(e, Check) and e.name == name)
        because = " ".join((f"{entry_words(newest, wording)}.", *found.says))
        if found.result == "bad" and ABOUT[cause].service:
            yield f"Can {NAMED[cause]} be measured, and does it still give what it should?", because
        elif found.result == "bad" and name == "water":
            yield "Are pump, chiller and flow as they should be, and was the tube harmed?", because
    verdict = session.verdict(wording)
    if verdict.service and verdict.ends == "not alignment":
        suspect = next(each for each in session.suspects() if each.name == verdict.cause)
        yield (
            f"Is it {NAMED[suspect.name]}, and what does a new one cost?",
            " ".join(suspect.speaks_for) or verdict.says,
        )


def _of_what_stays_weak(session: Session, wording: Wording) -> Iterator[Question]:
    if not weak_as_it_stands(session):
        return
    said = cut_result(session, len(cut_runs(session.effective)) - 1)[0]
    cleared = [NAMED[each.name] for each in session.suspects() if each.state == "cleared"]
    good = f" Found good by their own tests: {listed(cleared)}." if cleared else ""
    tube = next((e for e in reversed(session.effective) if isinstance(e, Check) and e.name == "tube"), None)
    figures = f" {entry_words(tube, wording)}." if tube is not None and tube.figures else ""
    yield (
        "How much power leaves the tube, and how much reaches the head, cold and after five minutes?",
        (f"{said}.{good}{figures}"),
    )
    if session.answers().get("fades") == ("yes",):
        yield (
            "Does the power fade as tube or supply get warm?",
            "It was said to be good when cold and to fade in minutes.",
        )


def _of_optics(session: Session) -> Iterator[Question]:
    for optic, result in session.cared().items():
        if result in DULL:
            yield f"Which {optic} fits as a replacement, and what made it so?", f"{optic.capitalize()}: {result}."
        elif result == "not opened":
            yield f"Can {optic} be opened and looked at?", f"{optic.capitalize()} was not opened."


def _of_stops(session: Session, wording: Wording) -> Iterator[Question]:
    for event in session.effective:
        if isinstance(event, Best | Mended):
            how = "was taken as it is" if isinstance(event, Best) else "was seen to and gone on with"
            yield FAULTS[event.cause], f"Entry {event.id}: a stop, {staying((event.cause,))}, {how}."
    advice = session.advice()
    if advice.kind == "stop" and advice.cause and any(isinstance(e, Mark) for e in session.effective):
        yield FAULTS[advice.cause], f"As it stands: {staying((advice.cause,))}."


def _of_marks(session: Session) -> Iterator[Question]:
    """Marks that are not round, and scorches where none should be."""
    fired = [event for event in session.effective if isinstance(event, Mark | Pulse)]
    for shape, asked in ASKED_OF.items():
        odd = _stations(e for e in fired if e.shape == shape or (isinstance(e, Pulse) and e.outcome == shape))
        if odd:
            yield asked, f"Marks at {listed(odd)} were{SHAPES[shape].removeprefix(',')}."
    beside = _stations(e for e in fired if isinstance(e, Pulse) and e.outcome == "mount")
    if beside:
        yield "What does the beam hit beside its path?", f"A scorch beside the target at {listed(beside)}."
    more = [name for name, dose in session.doses().items() if dose.excess[0] > 1]
    if more:
        yield (
            "Is the beam clipped, or an optic dirty, on the way to these stations?",
            (f"Marks at {listed(more)} need more dose than the beam's growth explains."),
        )


def _stations(fired: Iterable[Mark | Pulse]) -> list[str]:
    return list(dict.fromkeys(event.station for event in fired))


def _of_fixed_parts(session: Session, wording: Wording) -> Iterator[Question]:
    for event in session.effective:
        if isinstance(event, Refused):
            yield f"Can the {event.part} be moved on this machine, and how?", f"{entry_words(event, wording)}."


def _of_contradictions(session: Session) -> Iterator[Question]:
    for doubt in contradictions(session):
        yield f"What explains that {listed(doubt.about)} do not agree?", doubt.asks


def _of_safety(session: Session, wording: Wording) -> Iterator[Question]:
    """Covers and interlocks that stay open at the end."""
    newest = {e.name: e for e in session.effective if isinstance(e, Item) and e.part == "close up"}
    for name, event in newest.items():
        if not event.done and name in ("covers", "interlock"):
            yield f"When can the {name} be put right? Until then it must not fire", f"{entry_words(event, wording)}."
