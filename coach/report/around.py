"""The sections around the beam: answers, checks, cleaning, the visit's parts, cautions, notes, and the machine."""

from coach.describing.words import guessed_said, head_words, moves_words
from coach.machine import Machine
from coach.report.page import Drawing, Section, Table
from coach.report.so_far import clock_words
from coach.scenes.of_visit import bed_gaps_scene, optics_scene
from coach.scenes.visit_steps import there
from coach.session.events import Gate, Note
from coach.session.session import Session
from coach.session.visit_events import Baseline, Care, Check
from coach.shown import Wording
from coach.steps.entries import entry_words
from coach.steps.route import stale_now
from coach.steps.visit import part_rows
from coach.triage.findings import Finding
from coach.triage.questions import question

NOT_KNOWN = "not known"
EARLIER = "checked again since"


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
        ("Where the controller's X and Y begin", it.zero),
        ("Parts that move", moves_words(it.moves, wording) if it.moves else NOT_KNOWN),
        ("Mirror 3, lens, nozzle", head_words(it, wording) or NOT_KNOWN),
        *((f"Station {place.name}", wording.head(place.x, place.y)) for place in it.stations),
        *((("Guessed, not measured", guessed_said(it.guessed)),) if it.guessed else ()),
        *((f"Kept from before, entry {e.id}", entry_words(e, wording)) for e in session.effective
          if isinstance(e, Baseline)),
    )  # fmt: skip
    described = Table("As it was described", ("What", "Value"), rows)
    return Section("The machine", (), (), (described, _mounts(it, wording)))


def _mounts(it: Machine, wording: Wording) -> Table:
    rows = tuple(
        (
            f"Mirror {mount.mirror}",
            mount.thread or f"{wording.length(mount.pitch, 2)} a turn",
            {"push": "pushes the plate away", "pull": "pulls the plate in"}.get(mount.drive, NOT_KNOWN),
            ", ".join(f"{point.name} ({point.kind})" for point in mount.points),
            f"by marks, {mount.learned.on}" if mount.learned is not None else "as described",
        )
        for mount in it.mounts
    )
    heads = ("Mount", "Thread", "Clockwise, facing the screw heads", "Points", "What its screws do is known")
    return Table("Its mounts", heads, rows)


def asked(session: Session) -> Section:
    """What was answered before anything was measured."""
    rows = tuple((question(key).asks, "; ".join(said)) for key, said in session.answers().items())
    return Section("What changed", (), (), (Table("Questions and answers", ("Question", "Answer"), rows),))


def checks(session: Session, wording: Wording) -> Section:
    """Every check with its figures, and what the newest of each name means."""
    meaning = session.checks(wording)
    made = [event for event in session.effective if isinstance(event, Check)]
    newest = {event.name: event.id for event in made}
    again = stale_now(session)
    rows = tuple(
        (
            f"{event.id}",
            clock_words(session, event.at),
            entry_words(event, wording),
            _means(meaning[event.name], again.get(event.name)) if newest[event.name] == event.id else EARLIER,
        )
        for event in made
    )
    gaps = "bed" in meaning and bool(meaning["bed"].figures)
    drawn = (Drawing("gaps", "The bed's gaps as measured last", bed_gaps_scene(session), 66, 20),) if gaps else ()
    table = Table("Checks with covers shut, in order", ("Entry", "Time", "Check", "Means"), rows)
    return Section("Checks", (), drawn, (table,))


def _means(found: Finding, again: str | None) -> str:
    """What a check's figures say, and why it is to be made once more."""
    return " ".join((*found.says, *([f"To be made once more. {again}"] if again else []))) or "–"


def cleaning(session: Session, wording: Wording) -> Section:
    """How the optics were found."""
    rows = tuple(
        (f"{event.id}", clock_words(session, event.at), entry_words(event, wording))
        for event in session.effective
        if isinstance(event, Care)
    )
    drawn = (
        (Drawing("optics", "The optics as they looked last", optics_scene(session, there(session))),) if rows else ()
    )
    return Section("Cleaning", (), drawn, (Table("Optics", ("Entry", "Time", "Found"), rows),))


def parts(session: Session) -> Section:
    """What became of each part of a visit."""
    rows = tuple((name, words.partition(": ")[2]) for name, words in part_rows(session)) if session.is_visit else ()
    return Section("Parts of the visit", (), (), (Table("In their order", ("Part", "What became of it"), rows),))


def confirmed(session: Session, wording: Wording) -> Section:
    """The cautions that were confirmed, and when."""
    gates = [event for event in session.effective if isinstance(event, Gate)]
    rows = tuple((clock_words(session, event.at), entry_words(event, wording)) for event in gates)
    says = () if rows else ("No caution was confirmed in this session.",)
    return Section("Cautions confirmed", says, (), (Table("In order", ("Time", "What"), rows),))


def notes(session: Session) -> Section:
    """What the person wrote down."""
    written = [event for event in session.effective if isinstance(event, Note)]
    return Section("Notes", tuple(f"{clock_words(session, event.at)}: {event.text}" for event in written))
