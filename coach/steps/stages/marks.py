"""A mark at a station: go there, pulse, measure."""

from dataclasses import replace

from coach.advice import words
from coach.advice.advice import Advice, Shot
from coach.advice.reasons import NothingSeenWide
from coach.advice.silence import dosed
from coach.machine import Machine
from coach.session.events import Arrive, Disturbed, Lock, Mended, Opened, Pulse, Shift, Turn
from coach.session.part_events import Begin
from coach.session.session import Session
from coach.shown import Wording
from coach.steps import deeds
from coach.steps.about import About
from coach.steps.cautions import AIR, BEAM, EYEWEAR, HANDS, NOT_FIRING, SPLIT, SUPPLY, WAIT
from coach.steps.keys import ChoiceKey
from coach.steps.kind import ChoiceKind, Said, Stage, StepKind
from coach.steps.measuring import is_cut
from coach.steps.stages.at_mirrors import go_mirror, nothing_mirror
from coach.steps.words import (
    KEY_IN,
    KEY_OUT,
    MEASURE,
    OUT_AGAIN,
    card_words,
    dose_words,
    go_words,
    setting_words,
    where_from,
    where_words,
)

MOVED_SINCE = Turn | Shift | Lock | Disturbed | Mended | Opened | Begin
"""Entries after which nobody knows where the head stands: it may have been driven out of the way."""


def stands_at(session: Session, shot: Shot) -> bool:
    """Whether the head already stands where that mark is made: the last thing done was a mark just there."""
    last = next((e for e in reversed(session.effective) if isinstance(e, Arrive | MOVED_SINCE)), None)
    there = isinstance(last, Arrive) and last.target == shot.target == "head"
    return there and isinstance(last, Arrive) and (last.x, last.y) == (shot.x, shot.y)


ARRIVED = ChoiceKind(key="arrived", label="There, fresh tape", does=deeds.arrive, makes="arrive")
OUTCOMES = (
    ChoiceKind(key="mark", label="A round mark", does=deeds.pulsed("mark"), makes="pulse"),
    ChoiceKind(key="nothing", label="No mark at all", does=deeds.pulsed("nothing"), makes="pulse"),
    ChoiceKind(key="flare", label="Flame or flare", does=deeds.pulsed("flare"), makes="pulse"),
    ChoiceKind(key="not-whole", label="A cut-off mark", does=deeds.pulsed("mark", "cut"), makes="pulse"),
    ChoiceKind(key="double", label="Two marks", does=deeds.pulsed("double"), makes="pulse"),
    ChoiceKind(key="mount", label="Scorch beside it", does=deeds.pulsed("mount"), makes="pulse"),
)
"""What is said most stands first."""
SET_OTHERWISE = ChoiceKind(
    key="set-otherwise",
    label="Set otherwise",
    wants="dose",
    does=deeds.set_otherwise,
    makes="arrive",
)
ONCE_MORE = ChoiceKind(key="arrived", label="No scorch anywhere: once more", does=deeds.arrive, makes="arrive")
SEEN_TO = ChoiceKind(
    key="arrived",
    label="Seen to, fresh tape on",
    does=deeds.arrive,
    makes="arrive",
    offered=lambda about, session: last_outcome(session) == "double",
)
OFF_THE_TAPE = ChoiceKind(
    key="missed",
    label="Scorched beside it: it missed",
    does=deeds.miss,
    makes="miss",
    read_back="The pulse at {station} missed its target: what it scorched lies beside it.",
)
BESIDE = ChoiceKind(
    key="missed",
    label="Looked: no smouldering; it missed",
    does=deeds.miss,
    makes="miss",
    read_back=OFF_THE_TAPE.read_back,
    offered=lambda about, session: last_outcome(session) == "mount",
)
MEASURED = ChoiceKind(key="measured", label="Measure the mark", wants="reading", does=deeds.measured, makes="mark")
NO_MARK_AFTER_ALL = ChoiceKind(
    key="missed",
    label="No mark after all",
    does=deeds.miss,
    makes="miss",
    read_back="There was no mark at {station} after all: the pulse missed the tape.",
)


def _go(about: About, session: Session, wording: Wording) -> Said:
    advice, shot = _advised(about)
    card, stays = card_words(session.machine, wording), stands_at(session, shot)
    large = f"{'Stay at' if stays else 'Go to'} {shot.name}"
    return Said(
        large,
        large,
        ("fresh card" if shot.wide else "fresh tape") if stays else "  ".join(wording.axes(shot.x, shot.y)),
        (
            f"The head stays at {shot.name}, {wording.head(shot.x, shot.y)}."
            if stays
            else f"Move: {go_words(shot, wording)}.",
            f"Then {KEY_OUT}. {card}"
            if shot.wide
            else f"Then {KEY_OUT}: fresh tape on the head's opening, rim pressed in.{_out_of_reach(shot, session)}",
        ),
        words.why(advice.reason, wording),
        labels={"arrived": "There, card up"} if shot.wide else {},
    )


def _out_of_reach(shot: Shot, session: Session) -> str:
    """How a head at the back is taped by someone who stands at the front (common practice)."""
    at_the_back = shot.target == "head" and shot.y > session.machine.bed.depth / 2
    return " Out of reach there? Tape it at the front, then drive it to its place." if at_the_back else ""


def _pulse(about: About, session: Session, wording: Wording) -> Said:
    shot = _at(about)
    told = dosed(session.belief, replace(shot, layers=None))
    setting = (
        set_words(told, session.machine)
        if shot == told
        else f"Set by you: {setting_words(shot.ms, shot.power, shot.layers)}."
    )
    return Said(
        f"Pulse at {shot.name}",
        "One short pulse",
        shot.name,
        (f"{KEY_IN} {setting} {OUT_AGAIN}",),
        _expected(shot, wording),
    )


LOWEST = "The lowest power that marks, often 10 to 15 %"
"""Where no dose is known yet (common practice)."""


def set_words(shot: Shot, machine: Machine) -> str:
    """What to set for a pulse, as far as that is known; nobody can time a finger."""
    if shot.ms is not None:
        return f"Set {dose_words(shot.ms, shot.power)}{'' if shot.power else ' and the lowest power that marks'}."
    if machine.pulse.timed is False:
        power = f"Set {shot.power:g} %" if shot.power else LOWEST
        return f"{power}; press as briefly as you can."
    return f"Set {shot.power:g} %." if shot.power else f"{LOWEST}."


def _nothing(about: About, session: Session, wording: Wording) -> Said:
    advice, shot = _advised(about)
    dose = dose_words(shot.ms, shot.power, ": ")
    card = isinstance(advice.reason, NothingSeenWide)
    look = "Key out first. Look beside the target, on its mount and behind it: smouldering? A scorch means it missed."
    return Said(
        f"No mark at {shot.name}",
        "Key out, then look",
        shot.name,
        (
            look,
            *([card_words(session.machine, wording)] if card else []),
            f"No scorch: say so. The next pulse is one step stronger{dose}.",
        ),
        words.why(advice.reason, wording),
        labels={"arrived": "No scorch anywhere, card up"} if card else {},
    )


ELSEWHERE = {
    "double": (
        "Two marks: key out",
        "Part of the beam goes another way: off the edge of a mirror or its mount, a cracked or dirty mirror, or the "
        "rim of an opening. Neither mark is sure to be the beam's.",
        "Machine off, key out: look at mirrors 1 and 2, their faces and edges, then at the openings.",
    ),
    "mount": (
        "Off target: key out",
        "The beam passes beside the target and burns what stands there: no more pulses here.",
        "Machine off, key out: look for smouldering, and note on which side the scorch is.",
    ),
}
"""What a pulse left that is no mark, in the large type; why that is a stop; what to do."""


def last_outcome(session: Session) -> str:
    """What the newest pulse left."""
    return next((event.outcome for event in reversed(session.effective) if isinstance(event, Pulse)), "")


def _elsewhere(about: About, session: Session, wording: Wording) -> Said:
    shot = _at(about)
    large, why, do = ELSEWHERE[last_outcome(session)]
    labels: dict[ChoiceKey, str] = {"arrived": "Seen to, fresh card up"} if shot.wide else {}
    return Said(f"Not one mark on its target at {shot.name}", large, shot.name, (do,), why, labels=labels)


def cut_words(session: Session, shot: Shot) -> tuple[str, ...]:
    """What is measured of a mark that is cut off, and what that speaks of."""
    newest = next((event.id for event in reversed(session.effective) if isinstance(event, Pulse)), 0)
    if not is_cut(session, newest):
        return ()
    speaks = " It speaks of mirrors 1 and 2: the beam is cut on its way." if shot.target == "head" else ""
    return (
        "Cut off: measure to the middle of the round that it would be part of; told by eye, it counts as doubtful."
        + speaks,
    )


TUBE_END = "The tube's end is within reach: keep off it, it is lethal also when off."


def _measure(about: About, session: Session, wording: Wording) -> Said:
    shot = _at(about)
    return Said(
        f"Measure at {shot.name}",
        MEASURE,
        shot.name,
        (
            f"{KEY_OUT.capitalize()}, then hands in. At {shot.name} ({where_words(shot, wording)}): "
            + (
                "write UP on the card, then take it down." if shot.wide else "leave the tape in place or peel it off."
            ),
            f"Measure {where_from(shot)}.",
            *cut_words(session, shot),
            *([TUBE_END] if shot.target == "mirror 1" else []),
        ),
        _expected(shot, wording),
    )


def _at(about: About) -> Shot:
    assert about.shot is not None
    return about.shot


def _advised(about: About) -> tuple[Advice, Shot]:
    assert about.advice is not None
    return about.advice, _at(about)


def _expected(shot: Shot, wording: Wording) -> str:
    return f"Expected {words.expected(shot, wording)}."


NOTHING = StepKind(
    key="nothing",
    says=_nothing,
    own_cautions=(NOT_FIRING, SPLIT, EYEWEAR, AIR),
    choices=(ONCE_MORE, OFF_THE_TAPE),
    picture="bed",
    about=("shot", "advice"),
)

MARKS = Stage(
    "Marks",
    (
        StepKind(
            key="go",
            says=_go,
            own_cautions=(HANDS, NOT_FIRING),
            choices=(ARRIVED,),
            picture="bed",
            about=("shot", "advice"),
        ),
        go_mirror(ARRIVED),
        StepKind(
            key="pulse",
            says=_pulse,
            own_cautions=(BEAM, EYEWEAR, AIR),
            choices=(*OUTCOMES, SET_OTHERWISE),
            picture="bed",
            danger_begins=True,
            about=("shot",),
            fires=True,
        ),
        NOTHING,
        nothing_mirror(NOTHING),
        StepKind(
            key="elsewhere",
            says=_elsewhere,
            own_cautions=(SPLIT, NOT_FIRING, SUPPLY, WAIT),
            tone="stop",
            choices=(SEEN_TO, BESIDE),
            picture="path",
            about=("shot",),
        ),
        StepKind(
            key="measure",
            says=_measure,
            own_cautions=(NOT_FIRING, WAIT, HANDS),
            choices=(MEASURED, NO_MARK_AFTER_ALL),
            picture="tape",
            about=("shot",),
        ),
    ),
)
