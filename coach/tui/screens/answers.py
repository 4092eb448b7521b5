"""What has to come with some choices: a turn, a shift, a mirror."""

from collections.abc import Callable
from functools import partial
from typing import Any, Protocol, assert_never

from textual.app import App

from coach.session.session import Session
from coach.shown import Wording
from coach.steps import dosing, wanted
from coach.steps.asked_figures import enter_figures, form_of, stands
from coach.steps.bumped import BUMPED, LEAD
from coach.steps.keys import ChoiceKey
from coach.steps.locks import loose_locks
from coach.steps.perform import perform
from coach.steps.step import Choice, Step
from coach.steps.visit import part_rows
from coach.steps.visit_words import PART_LEAD
from coach.steps.wanted import NOTE, drafted, keep_drafted
from coach.tui.screens.asking import Ask, Field, Typed
from coach.tui.screens.choices import Entry
from coach.tui.screens.dialogs import Deed, Pick
from coach.units import parse_turns
from coach.visit import VisitPart


class Asking(Protocol):
    """A screen at a step, which makes the entries and goes on."""

    session: Session
    step: Step
    beside: str
    """What a practice machine shows at the step, "" where it shows nothing."""

    @property
    def wording(self) -> Wording:
        """How lengths and turns are said."""

    @property
    def app(self) -> App[Any]:
        """Where boxes are opened."""

    def record(
        self,
        choice: ChoiceKey,
        *,
        mirror: int | None = None,
        part: VisitPart | None = None,
        option: str | None = None,
    ) -> None:
        """Make the entry."""

    def tell_made(self, step: Step, choice: ChoiceKey) -> None:
        """On to the next step, with what comes of that choice in the data folder."""

    def tell_after(self, words: str) -> None:
        """On to the next step."""


def ask_for(screen: Asking, choice: Choice) -> None:
    """Ask for what the choice wants, make the entry, and go on to the next step."""
    match choice.wants:
        case "turns":
            _ask_turns(screen, choice)
        case "shift":
            _ask_shift(screen, choice)
        case "mirror":
            _ask_mirror(screen, choice)
        case "dose":
            _ask_dose(screen, choice)
        case "why":
            _ask_why(screen, choice)
        case "part":
            _ask_part(screen, choice)
        case "option":
            screen.record(choice.key, option=choice.option)
        case "figures":
            _ask_figures(screen, choice)
        case "" | "reading" | "machine" | "bench":
            raise ValueError(f"{choice.key!r} wants nothing that is typed here")
        case _:
            assert_never(choice.wants)


def _ask_turns(screen: Asking, choice: Choice) -> None:
    session, step, task = screen.session, screen.step, screen.step.screw
    assert task is not None
    field = Field("turns", "Turned", drafted(session, choice, screen.wording).get("turns", ""), parse_turns)
    ask = Ask(
        "Turned differently",
        wanted.turns_lead(task, screen.wording),
        (field,),
        lambda typed: wanted.turns_echo(task, typed["turns"], screen.wording),
        lambda typed: wanted.enter_turns(session, step, choice, typed["turns"]),
        doubted=lambda typed: wanted.turned_back(task, typed["turns"]),
        keep=lambda typed: keep_drafted(session, choice, typed, screen.wording),
    )
    screen.app.push_screen(ask, lambda done: screen.tell_after("") if done else None)


def _ask_shift(screen: Asking, choice: Choice) -> None:
    session, step, task = screen.session, screen.step, screen.step.shift
    assert task is not None
    before = drafted(session, choice, screen.wording)
    ask = Ask(
        "Moved differently",
        wanted.shift_lead(task, screen.wording),
        tuple(
            Field(
                direction,
                wanted.direction_label(direction),
                before.get(direction, ""),
                partial(wanted.shift_amount, direction, wording=screen.wording),
            )
            for direction in wanted.useful_directions(task)
        ),
        lambda typed: wanted.shift_echo(session, task, typed, screen.wording),
        lambda typed: wanted.enter_shift(session, step, choice, typed, screen.wording),
        doubted=lambda typed: wanted.moved_back(task, typed, screen.wording),
        keep=lambda typed: keep_drafted(session, choice, typed, screen.wording),
    )
    screen.app.push_screen(ask, lambda done: screen.tell_after("") if done else None)


def _ask_dose(screen: Asking, choice: Choice) -> None:
    session, step = screen.session, screen.step
    stands = {**dosing.dose_told(step), **drafted(session, choice, screen.wording)}
    ask = Ask(
        "Set otherwise",
        dosing.dose_lead(step),
        tuple(
            Field(name, dosing.LABELS[name], stands.get(name, ""), partial(dosing.check_dose, name))
            for name in dosing.dose_fields(session.machine.pulse)
        ),
        lambda typed: dosing.dose_echo(session, typed),
        lambda typed: dosing.enter_dose(session, step, choice, typed),
        doubted=lambda typed: dosing.doubtful(session, typed),
        keep=lambda typed: keep_drafted(session, choice, typed, screen.wording),
    )
    screen.app.push_screen(ask, lambda done: screen.tell_after("") if done else None)


def _ask_mirror(screen: Asking, choice: Choice) -> None:
    mirrors = {f"mirror{mirror}": mirror for mirror in loose_locks(screen.session)}

    def picked(key: str | None) -> None:
        if key is not None:
            screen.record(choice.key, mirror=mirrors[key])

    entries = [Entry(key, f"Mirror {mirror}") for key, mirror in mirrors.items()]
    screen.app.push_screen(Deed("Lock nuts tightened", (wanted.MIRROR_LEAD,), entries), picked)


def _ask_why(screen: Asking, choice: Choice) -> None:
    session, step = screen.session, screen.step
    field = Field("why", "Because", drafted(session, choice, screen.wording).get("why", ""))
    ask = Ask(
        wanted.WHY_TITLES.get(choice.key, "Left out"),
        wanted.WHY_LEADS[choice.key],
        (field,),
        lambda typed: "",
        lambda typed: perform(session, step, choice.key, why=typed["why"]),
        keep=lambda typed: keep_drafted(session, choice, typed, screen.wording),
    )
    screen.app.push_screen(ask, lambda done: screen.tell_made(step, choice.key) if done else None)


def _ask_figures(screen: Asking, choice: Choice) -> None:
    session, step = screen.session, screen.step
    form = form_of(session, step, choice, screen.wording)
    there = stands(session, choice, form, screen.wording)
    ask = Ask(
        form.title,
        " ".join(filter(None, (screen.beside, form.lead))),
        tuple(Field(each.name, each.label, there[each.name], each.checked, each.needed) for each in form.fields),
        form.echo,
        lambda typed: enter_figures(session, step, choice, form, typed, screen.wording),
        doubted=form.doubtful,
        keep=lambda typed: keep_drafted(session, choice, typed, screen.wording),
    )
    screen.app.push_screen(ask, lambda done: screen.tell_after("") if done else None)


def _ask_part(screen: Asking, choice: Choice) -> None:
    pick_part(screen.app, screen.session, lambda part: screen.record(choice.key, part=part))


def pick_part(app: App[Any], session: Session, then: Callable[[VisitPart], None]) -> None:
    """Which part of the visit to go to, and what to do with the answer."""
    parts = {f"part{number}": row for number, row in enumerate(part_rows(session))}
    entries = [Entry(key, words) for key, (_, words) in parts.items()]
    app.push_screen(Pick("Which part?", (PART_LEAD,), entries), lambda key: then(parts[key][0]) if key else None)


def pick_bumped(app: App[Any], then: Callable[[str], None]) -> None:
    """What was out, or was bumped, and what to do with the answer."""
    rows = {f"bumped{number}": each for number, each in enumerate(BUMPED)}
    entries = [Entry(key, each.label) for key, each in rows.items()]
    box = Deed("Bumped, or out?", (LEAD,), entries)
    app.push_screen(box, lambda key: then(rows[key].part) if key else None)


def ask_note(app: App[Any], session: Session, then: Callable[[], None]) -> None:
    """Ask for a note and keep it in the session.  Half a note is kept beside whatever else is half typed."""

    def keep(typed: Typed) -> None:
        others = {key: text for key, text in session.draft.items() if key != NOTE}
        session.keep_draft({**others, NOTE: typed[NOTE]} if typed[NOTE] else others)

    def accept(typed: Typed) -> None:
        session.note(typed[NOTE])
        if NOTE in session.draft:
            keep({NOTE: ""})

    field = Field(NOTE, "Note", session.draft.get(NOTE, ""))
    ask = Ask("Note", wanted.NOTE_LEAD, (field,), lambda typed: "", accept, keep=keep)
    app.push_screen(ask, lambda done: then() if done else None)
