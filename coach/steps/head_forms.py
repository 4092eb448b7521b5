"""What is typed of a mark below mirror 3, and what it is asked about before it counts."""

from collections.abc import Mapping
from math import hypot

from coach.head.belief import check_heights
from coach.head.expectation import expected, unlikely
from coach.head.marks import HeadMark
from coach.session.head_entries import checked_lowered, near_nozzle
from coach.session.head_events import HeadShot
from coach.session.session import Session
from coach.shown import Wording, amount_typed
from coach.steps.about import About, BelowShot
from coach.steps.form import Figures, Form, FormField, length_field
from coach.steps.head_deeds import millimetres
from coach.steps.words import moved_words

FROM_WHERE: Mapping[HeadShot, str] = {
    "bed": "counted from the square's foot",
    "nozzle": "counted from the imprint's middle",
    "pointer": "counted from the mark",
}
TELLS = 12.0
"""mm: an expectation that is vaguer than this tells nobody anything."""
FROM_ABOVE = "As seen from above, from the front: to the left and to the front are negative."


def card_form(about: About, session: Session, wording: Wording) -> Form:
    """The mark on the card, and how far the bed really went down."""
    shot = about.below
    assert shot is not None

    def found(figures: Figures) -> HeadMark:
        right, back, lowered = (millimetres(figures, name) for name in ("right", "back", "lowered"))
        tuning = session.head_belief.tuning.head
        return HeadMark("bed", right, back, hypot(tuning.card_sd, tuning.bed_play), lowered, shot.lens)

    def says(figures: Figures) -> str:
        mark, belief = found(figures), session.head_belief
        check_heights(belief, mark.lowered, belief.tuning.head.card_sd, lens=shot.lens)
        return f"Understood: {place_words(figures, wording)}, {height_words(mark.lowered, wording)}."

    return Form(
        title="Mark on the card",
        lead=f"From the place that the square shows at this height. {FROM_ABOVE}",
        fields=(*place_fields(wording), lowered_field(shot.lowered, wording)),
        says=says,
        doubt=lambda figures: doubt_words(session, found(figures), wording),
    )


def nozzle_form(about: About, session: Session, wording: Wording) -> Form:
    """The mark under the nozzle, from the middle of the rim's imprint."""

    def found(figures: Figures) -> HeadMark:
        tuning = session.head_belief.tuning.head
        right, back = (near_nozzle(name, millimetres(figures, name)) for name in ("right", "back"))
        return HeadMark("nozzle", right, back, tuning.nozzle_sd)

    def says(figures: Figures) -> str:
        found(figures)
        return f"Understood: {place_words(figures, wording)} of the imprint's middle."

    return Form(
        title="Mark under the nozzle",
        lead=f"From the middle of the rim's imprint. {FROM_ABOVE}",
        fields=place_fields(wording),
        says=says,
        doubt=lambda figures: doubt_words(session, found(figures), wording),
    )


def spot_form(about: About, session: Session, wording: Wording) -> Form:
    """The pointer's spot, from the mark."""
    shot = about.below
    assert shot is not None
    return Form(
        title="Pointer's spot",
        lead=f"Where the spot lies, from the mark. {FROM_ABOVE}",
        fields=(*place_fields(wording), lowered_field(shot.lowered, wording)),
        says=lambda figures: (
            f"Understood: the spot lies {place_words(figures, wording)} of the mark, "
            f"{height_words(millimetres(figures, 'lowered'), wording)}."
        ),
    )


def place_fields(wording: Wording) -> tuple[FormField, FormField]:
    """To the right and to the back."""
    return (
        length_field("right", "To the right (left is negative)", wording),
        length_field("back", "To the back (front is negative)", wording),
    )


def lowered_field(lowered: float, wording: Wording) -> FormField:
    """How far below its usual height the bed stood; what was told stands there."""
    starts = amount_typed(lowered, wording.unit)
    return length_field("lowered", "Bed below its usual height", wording, checked_lowered, starts=starts)


def place_words(figures: Figures, wording: Wording, places: int = 2) -> str:
    """ "1.20 mm to the right and 0.40 mm to the front"; "0.00 mm" where it is neither."""
    right, back = (round(millimetres(figures, name), places) for name in ("right", "back"))
    said = [moved_words("right", right, wording, places)] if right else []
    said += [moved_words("back", back, wording, places)] if back else []
    return " and ".join(said) or wording.length(0.0, places)


def height_words(lowered: float, wording: Wording) -> str:
    """ "the bed 170 mm below its usual height"."""
    return (
        f"the bed {wording.length(lowered, 0)} below its usual height" if lowered else "the bed at its usual height"
    )


def expected_words(session: Session, shot: BelowShot, wording: Wording) -> str:
    """Where the mark is expected; "" where nobody can tell."""
    if shot.target == "pointer":
        return ""
    belief = session.head_belief
    (x, y), cov = expected(belief, HeadMark(shot.target, 0.0, 0.0, 1.0, shot.lowered, shot.lens))
    sd = max(float(cov[0, 0]), float(cov[1, 1])) ** 0.5
    if 2 * sd > TELLS:
        return ""
    return f"Expected {_around(float(x), float(y), 2 * sd, wording)}, {FROM_WHERE[shot.target]}."


def _around(x: float, y: float, doubt: float, wording: Wording) -> str:
    there = place_words({"right": x, "back": y}, wording, 1)
    return f"{there}, give or take {wording.length(doubt)}"


def doubt_words(session: Session, mark: HeadMark, wording: Wording) -> str:
    """What is asked about a mark that lies far from where it is expected; "" where it may be so."""
    belief = session.head_belief
    if not unlikely(belief, mark):
        return ""
    (x, y), cov = expected(belief, mark)
    sd = hypot(mark.sd, max(float(cov[0, 0]), float(cov[1, 1])) ** 0.5)
    return f"Expected was {_around(float(x), float(y), 2 * sd, wording)}. Was it really so?"
