"""Tape over the own opening of mirror 1 or 2: where, how, and what must not be touched there."""

from dataclasses import replace

from coach.advice import words
from coach.session.session import Session
from coach.shown import Wording
from coach.steps.about import About
from coach.steps.cautions import FACES, HANDS, NOT_FIRING, SUPPLY
from coach.steps.kind import ChoiceKind, Said, StepKind
from coach.steps.words import KEY_OUT, card_words, go_words


def _go(about: About, session: Session, wording: Wording) -> Said:
    advice, shot = about.advice, about.shot
    assert advice is not None
    assert shot is not None
    mirror1 = shot.target == "mirror 1"
    tape = f"Fresh tape across {shot.target}'s holder, before the opening: rim pressed in, clear of the face."
    faces = "It faces the tube." if mirror1 else "It faces mirror 1."
    return Said(
        f"Go to {shot.target}'s own tape",
        f"Tape at {shot.target}",
        "key out, isolated first" if mirror1 else wording.axes(shot.x, shot.y)[1],
        (
            f"{'Park' if mirror1 else 'Move'}: {go_words(shot, wording)}.",
            f"Then {KEY_OUT}. {card_words(session.machine, wording) if shot.wide else f'{tape} {faces}'}",
        ),
        words.why(advice.reason, wording),
        labels={"arrived": "There, card up"} if shot.wide else {},
    )


def go_mirror(arrived: ChoiceKind) -> StepKind:
    """The way to a mirror's own tape: near mirror 1 the tube's end is within reach."""
    return StepKind(
        key="go-mirror",
        says=_go,
        own_cautions=(SUPPLY, NOT_FIRING, FACES, HANDS),
        choices=(arrived,),
        picture="path",
        about=("shot", "advice"),
    )


def nothing_mirror(at_the_head: StepKind) -> StepKind:
    """After nothing was seen there: as at the head, with what must not be touched where the tape is."""
    cautions = tuple(dict.fromkeys((SUPPLY, *at_the_head.own_cautions, FACES)))
    return replace(at_the_head, key="nothing-mirror", own_cautions=cautions, picture="path")
