"""Cleaning, optic by optic in the beam's order, the lens last; and what may not be fired at any more."""

from collections.abc import Mapping
from dataclasses import dataclass

from coach.session.session import Session
from coach.session.visit_events import Care
from coach.shown import Wording
from coach.steps.about import About
from coach.steps.cautions import LENS, NOT_FIRING, SOLVENT, SUPPLY
from coach.steps.kind import ChoiceKind, Option, Said, Stage, StepKind
from coach.steps.stages.between import OTHER_PART, UNTESTED
from coach.steps.visit_deeds import cared, comes_out, none_here, renewed
from coach.steps.visit_progress import said_out
from coach.triage.cleaned import Cleaned, Optic

ORDER: tuple[Optic, ...] = ("combiner", "mirror 1", "mirror 2", "mirror 3", "lens")
"""In the beam's order, the lens last: what is loosened above falls on it."""
WIPE = (
    "Bulb against dust. Then a fresh swab with isopropanol (99 %) for each face: one drag, no rubbing, no finger; "
    "dry. Look against the light for haze."
)
OUT = "No pulse, no cut while it is out: say how it looks once it is back in."
RESULTS: Mapping[Cleaned, str] = {
    "clean": "Clean: bright and dry",
    "haze": "Haze stays after two wipes",
    "scratched": "Scratched",
    "burnt": "A burnt spot",
    "cracked": "Cracked",
    "not opened": "Not opened, not cleaned",
}


@dataclass(frozen=True)
class OpticWords:
    """One optic."""

    where: str
    out: str
    """What is said once it has to come out."""


OPTICS: Mapping[Optic, OpticWords] = {
    "combiner": OpticWords(
        "A plate where the pointer's light joins the beam; many have none. Both faces.",
        "Note which face looks to the tube. Once it was out the beam stands elsewhere: marks again, all of them.",
    ),
    "mirror 1": OpticWords(
        "Mirror 1, at the tube's end. The tube's own covers stay shut: reach its face from the beam's side only.",
        "Finger tight, the same face out. It may sit a little otherwise: the coach asks for marks again.",
    ),
    "mirror 2": OpticWords(
        "Mirror 2, at the gantry's end.",
        "Finger tight, the same face out. It may sit a little otherwise: the coach asks for marks again.",
    ),
    "mirror 3": OpticWords(
        "Mirror 3, in the head, above the lens.",
        "Finger tight, the same face out. Where the beam goes through the nozzle is marked again.",
    ),
    "lens": OpticWords(
        "The lens, last of all. Look at it before you wipe it: a crack or a burnt spot is not wiped. No acetone: it "
        "takes plastics along. Both faces.",
        "Nozzle off first. Note which side is up: mostly the curved one, the manual wins. Ring finger tight; then "
        "the focus is gauged anew and the nozzle marked again.",
    ),
}
HALTING: Mapping[Optic, tuple[Cleaned, ...]] = {
    "lens": ("cracked", "burnt"),
    "combiner": ("cracked", "burnt"),
    **dict.fromkeys(("mirror 1", "mirror 2", "mirror 3"), ("cracked",)),
}
"""What no beam may be sent onto: it shatters, and zinc selenide is poison."""


def optic_of(about: About) -> Optic:
    """The optic that a step is about."""
    return next(optic for optic in ORDER if optic == about.item)


def broken(session: Session) -> Optic | None:
    """An optic that no beam may be sent onto, by what was last seen of it; who did not open it saw nothing."""
    seen = {e.optic: e.result for e in session.effective if isinstance(e, Care) and e.result != "not opened"}
    return next((optic for optic in ORDER if seen.get(optic) in HALTING[optic]), None)


def out_of_its_mount(session: Session) -> Optic | None:
    """An optic of which it was said that it comes out, and not yet that it is back: the beam would go on past it."""
    return next((optic for optic in ORDER if said_out(session.effective, optic)), None)


def _says(about: About, session: Session, wording: Wording) -> Said:
    optic = optic_of(about)
    words, out = OPTICS[optic], said_out(session.effective, optic)
    title = optic[0].upper() + optic[1:]
    return Said(
        "Clean",
        f"{title}: out, clean" if out else f"{title}: clean it",
        "",
        (words.where, *((words.out, OUT) if out else ()), WIPE),
    )


def _results(about: About, session: Session) -> tuple[Option, ...]:
    out = said_out(session.effective, optic_of(about))
    return tuple(Option(key, label) for key, label in RESULTS.items() if not (out and key == "not opened"))


def _halt(about: About, session: Session, wording: Wording) -> Said:
    optic = optic_of(about)
    seen = next(
        event.result
        for event in reversed(session.effective)
        if isinstance(event, Care) and event.optic == optic and event.result != "not opened"
    )
    return Said(
        "Stop",
        f"{optic[0].upper()}{optic[1:]} {seen}: key out",
        "",
        (
            f"Nothing is pulsed or cut on a {optic} that is {seen}: it heats, shatters, and its dust may be poison.",
            "Gloves on, wipe splinters up damp, all of it into a bag that closes; ask your waste service. Then a new "
            "one, the right way round.",
        ),
    )


CLEANING = Stage(
    "Cleaning",
    (
        StepKind(
            key="clean-optic",
            says=_says,
            own_cautions=(NOT_FIRING, SUPPLY, SOLVENT, LENS),
            choices=(
                ChoiceKind(key="cared", label="", wants="option", does=cared, makes="care", options=_results),
                ChoiceKind(
                    key="comes-out",
                    label="It has to come out of its mount",
                    does=comes_out,
                    makes="item",
                    offered=lambda about, session: not said_out(session.effective, optic_of(about)),
                ),
                ChoiceKind(
                    key="none-here",
                    label="There is none on this machine",
                    does=none_here,
                    makes="item",
                    offered=lambda about, session: about.item == "combiner",
                ),
            ),
            picture="optics",
            about=("part", "item"),
        ),
        StepKind(
            key="halt-optic",
            says=_halt,
            own_cautions=(LENS, NOT_FIRING, SUPPLY),
            choices=(
                ChoiceKind(key="renewed", label="A new one is in, clean", does=renewed, makes="care"),
                UNTESTED,
                OTHER_PART,
            ),
            tone="stop",
            about=("part", "item"),
            danger_begins=True,
        ),
    ),
)
