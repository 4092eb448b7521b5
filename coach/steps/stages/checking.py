"""Checks with covers shut, one at a time, and what they come to."""

from collections.abc import Mapping

from coach.session.session import Session
from coach.shown import Wording
from coach.steps.about import About
from coach.steps.cautions import ATTENDED, COVERS, LENS, NOT_FIRING, SUPPLY
from coach.steps.form import Figures, Form, FormField, length_field, number_field
from coach.steps.keys import ChoiceKey
from coach.steps.kind import ChoiceKind, Option, Said, Stage, StepKind
from coach.steps.route import stale_now
from coach.steps.stages.between import OTHER_PART, UNTESTED
from coach.steps.stages.check_words import CHECK_WORDS
from coach.steps.stages.verdict import VERDICT
from coach.steps.visit_deeds import check_measured, checked, found_broken
from coach.triage.causes import CHECKS, CheckName
from coach.triage.figures import FIGURES, Figure, checked_figure


def check_of(about: About) -> CheckName:
    """The check that a step is about."""
    return next(name for name in CHECKS if name == about.item)


def _check(about: About, session: Session, wording: Wording) -> Said:
    words, name = CHECK_WORDS[check_of(about)], check_of(about)
    before = session.checks(wording).get(name)
    said = (f"So far: {before.result}. {' '.join(before.says)}".strip(),) if before is not None else ()
    again = stale_now(session).get(name)
    return Said(
        "Checks",
        words.action,
        "",
        (f"Once more. {again}", *words.do) if again else (*words.do, *said),
        labels={"check-figures": words.measured} if words.measured else {},
    )


def _results(about: About, session: Session) -> tuple[Option, ...]:
    words = CHECK_WORDS[check_of(about)]
    return (
        Option("good", f"Good: {words.good}"),
        Option("bad", f"Bad: {words.bad}"),
        Option("not checked", "Not checked"),
    )


def _form(about: About, session: Session, wording: Wording) -> Form:
    name = check_of(about)
    before = session.checks(wording).get(name)
    stood: Mapping[str, float] = before.figures if before is not None else {}
    once = stood.get("usual", session.kept_current if name == "tube" else None)
    usual = {"usual": f"{once:g}"} if once is not None else {}
    return Form(
        title=CHECK_WORDS[name].action,
        lead="Enter what was measured; leave the rest empty.",
        fields=tuple(_field(name, key, each, wording, usual.get(key, "")) for key, each in FIGURES[name].items()),
        says=lambda figures: understood(session, name, figures, wording),
    )


def _field(name: CheckName, key: str, figure: Figure, wording: Wording, starts: str) -> FormField:
    label = figure.about[0].upper() + figure.about[1:]

    def bounded(value: float) -> float:
        return checked_figure(name, key, value)

    if figure.unit == "mm":
        return length_field(key, label, wording, bounded, starts=starts, needed=False)
    return number_field(key, label, figure.unit, bounded, starts=starts, needed=False)


def understood(session: Session, name: CheckName, figures: Figures, wording: Wording) -> str:
    """What these figures mean, before they are entered.  Raises InputError."""
    found = session.judged(name, figures, wording)
    amounts = ", ".join(
        f"{FIGURES[name][key].about} "
        + (wording.exact(float(value)) if FIGURES[name][key].unit == "mm" else f"{value:g} {FIGURES[name][key].unit}")
        for key, value in figures.items()
    )
    return " ".join((f"Understood: {amounts}.", *found.says))


FIGURES_CHOICE = ChoiceKind(
    key="check-figures",
    label="Enter the figures",
    wants="figures",
    does=check_measured,
    makes="check",
    form=_form,
    offered=lambda about, session: bool(FIGURES[check_of(about)]),
)

LENS_BROKEN = ChoiceKind(
    key="lens-broken",
    label="Cracked or burnt: nothing is fired",
    does=found_broken,
    makes="care",
    offered=lambda about, session: about.item == "lens",
)
"""No cut is made through it, by whatever check comes next."""
HALTS: dict[CheckName, str] = {"water": "Water: key out", "tube": "Current: key out"}
"""Why nothing may be fired, large, by the check that found it."""


LIFTED: dict[CheckName, str] = {
    "water": "Nothing is pulsed or cut until new figures say so, with water that flows and no bubbles.",
    "tube": "Turn the setting down before the key goes in; one short cut, lid shut, water flowing, shows the new "
    "current: enter it. Nothing else is pulsed or cut before.",
}
"""What is done about it, and that nothing is fired before."""


def _halt(about: About, session: Session, wording: Wording) -> Said:
    """Nothing may be fired until that check is better."""
    name = check_of(about)
    why = session.checks(wording)[name].stop
    labels: dict[ChoiceKey, str] = {"check-figures": CHECK_WORDS[name].measured}
    return Said("Stop", HALTS[name], "", (why, LIFTED[name]), labels=labels)


CHECKING = Stage(
    "Checks",
    (
        StepKind(
            key="check",
            says=_check,
            own_cautions=(NOT_FIRING, ATTENDED, SUPPLY, LENS),
            choices=(
                FIGURES_CHOICE,
                ChoiceKind(key="checked", label="", wants="option", does=checked, makes="check", options=_results),
                LENS_BROKEN,
            ),
            picture="check",
            about=("part", "item"),
        ),
        *VERDICT,
        StepKind(
            key="halt",
            says=_halt,
            own_cautions=(NOT_FIRING, SUPPLY, COVERS),
            choices=(FIGURES_CHOICE, UNTESTED, OTHER_PART),
            tone="stop",
            about=("part", "item"),
            danger_begins=True,
        ),
    ),
)
