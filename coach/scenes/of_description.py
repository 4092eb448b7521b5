"""The drawing that follows each answer: the machine from above, the opening with its tape, a mount."""

from coach.describing import head_answers as head
from coach.describing.description import OWN, Description
from coach.describing.moving import CAN, NO, REACHES
from coach.describing.profile import drive, machine_of, pitch, points, size
from coach.describing.question import Question
from coach.describing.typed import counted, stations
from coach.describing.words import GUESSED, points_words, value_words
from coach.errors import InputError
from coach.machine import Bed, Side, default_stations
from coach.parts import DIRECTIONS, Direction
from coach.pictures.aperture import ApertureScene
from coach.pictures.head_sizes import Curved, HeadSizesScene, Sized
from coach.pictures.mount import MountScene, PointShown
from coach.pictures.opening import OpeningScene
from coach.pictures.plan import Asked, PlanScene
from coach.pictures.view import Scene
from coach.scenes.seen_from import seen_from
from coach.shown import Wording

DRAWN = {"bed.width": 600.0, "bed.depth": 400.0}
"""mm, for a drawing before the travel is known."""
ASKED: dict[str, Asked] = {
    "bed.width": "width",
    "bed.depth": "depth",
    "path.side": "side",
    "zero": "zero",
    "path.mirror1_gap": "gap1",
    "path.mirror2_gap": "gap2",
    "stations": "stations",
    "stations.places": "stations",
    "path.mirror1": "mirror 1",
    "path.mirror2": "mirror 2",
    **CAN,
    **{key: part for key, (part, _) in REACHES.items()},
}
SIZES: tuple[tuple[Asked, str], ...] = tuple(
    (ASKED[key], key) for key in ("bed.width", "bed.depth", "path.mirror1_gap", "path.mirror2_gap")
)
A_QUARTER_CLOCKWISE = 0.25
"""Turns; drawn where it is asked what a clockwise turn does."""
DRIVE_WORDS = {
    "push": "clockwise pushes the plate away from you",
    "pull": "clockwise pulls the plate towards you",
    "unknown": "clockwise: the first turn tells",
}


def scene_of(description: Description, question: Question, wording: Wording) -> Scene:
    """The drawing for a question, as the answers stand."""
    if question.picture == "opening":
        return _opening(description, question, wording)
    if question.picture == "mount":
        return _mount(description, question, wording)
    if question.picture == "head":
        return _head(description, question, wording)
    return _plan(description, question, wording)


def _marked(description: Description, key: str, words: str) -> tuple[str, ...]:
    """The words for a value, longest first, with a sign that it is guessed where it is."""
    return (words,) if key in description.answers else (f"{words}, {GUESSED}", f"{words}?")


def _plan(description: Description, question: Question, wording: Wording) -> PlanScene:
    asked = ASKED.get(question.key, "")
    sizes = {key: size(description, key) or DRAWN.get(key, 0.0) for _, key in SIZES}
    words = tuple(
        (name, (f"{wording.length(sizes[key])}?",) if key in DRAWN and key not in description.answers
         else _marked(description, key, wording.length(sizes[key])))
        for name, key in SIZES
    )  # fmt: skip
    return PlanScene(
        sizes["bed.width"],
        sizes["bed.depth"],
        _side(description),
        sizes["path.mirror1_gap"],
        sizes["path.mirror2_gap"],
        _places(description, sizes["bed.width"], sizes["bed.depth"]) if asked == "stations" else (),
        asked,
        (*words, *_part_said(description, question, wording)),
        _ways(description, question.key),
        description.frame().counted(0.0, 0.0) if asked == "zero" else (0.0, 0.0),
    )


def _part_said(
    description: Description, question: Question, wording: Wording
) -> tuple[tuple[Asked, tuple[str, ...]], ...]:
    """What is written behind the name of the part that is asked about."""
    key = question.key
    if key in ("path.mirror1", "path.mirror2"):
        return ((ASKED[key], _marked(description, key, wording.length(size(description, key)))),)
    if key in CAN or key in REACHES:
        return ((ASKED[key], (value_words(description, question, wording),)),)
    return ()


def _ways(description: Description, key: str) -> tuple[Direction, ...]:
    """In which ways that part would be moved, as far as it is not known to be fixed."""
    if key in REACHES:
        return (REACHES[key][1],) if description.length(key) != 0 else ()
    if key in CAN:
        return DIRECTIONS[CAN[key]] if description.answers.get(key) != NO else ()
    return ()


def _places(description: Description, width: float, depth: float) -> tuple[tuple[float, float], ...]:
    own = description.answers.get("stations.places") if description.answers.get("stations") == OWN else None
    if own is not None:
        some = counted(stations(own), description.frame())
    else:
        try:
            some = machine_of(description).stations
        except InputError:
            some = default_stations(Bed(width=width, depth=depth))
    inside = [s for s in some if 0 <= s.x <= width and 0 <= s.y <= depth]
    return tuple((s.x, s.y) for s in inside)


def _opening(description: Description, question: Question, wording: Wording) -> OpeningScene:
    on = "tape.wide" if question.key == "tape.wide" else "tape.radius"
    noted = ("aperture.head", on, "tolerance")
    head, radius, tolerance = (size(description, key) for key in noted)
    phrases = (
        f"opening {wording.length(head)}",
        f"{'card' if on == 'tape.wide' else 'tape'} to {wording.length(radius)}",
        f"good to {wording.length(tolerance)}",
    )
    one, two, three = (_marked(description, key, words) for key, words in zip(noted, phrases, strict=True))
    scene = ApertureScene(head, radius, min(tolerance, radius))
    return OpeningScene(scene, (one, two, three), noted.index(question.key) if question.key in noted else -1)


def _mount(description: Description, question: Question, wording: Wording) -> MountScene:
    mirror, last = question.mirror, question.key.rpartition(".")[2]
    way = drive(description, mirror)
    places = points(description, mirror)
    turned = next((p.name for p in places if p.kind == "screw"), "") if last == "drive" else ""
    one, two, three = (
        PointShown(p.name, p.x, p.y, p.kind, A_QUARTER_CLOCKWISE if p.name == turned else None) for p in places
    )
    screws = f"screws: {wording.length(pitch(description, mirror), 2)} in one turn"
    captions = {"drive": DRIVE_WORDS[way], "thread": screws, "screw": screws}
    first = captions.get(last, points_words(description, mirror, wording))
    second = f"mirror {mirror}"
    if question.key not in description.answers and last != "drive":
        second += f", {GUESSED}"
    return MountScene((one, two, three), (first, second), seen_from(mirror, _side(description)))


def _side(description: Description) -> Side:
    return "right" if description.answers.get("path.side") == "right" else "left"


SIZED: dict[str, Sized] = {
    head.TURNS: "screws", head.FOCAL: "focal", head.GAP: "gap", head.HOLE: "hole", head.CURVED: "curved",
    head.HANGS: "hangs", head.MOVES: "moves", head.REACH: "moves",
}  # fmt: skip
DRAWN_BELOW = 70.0
"""mm from mirror 3 down to the lens, for a drawing where nobody measured it."""


def _head(description: Description, question: Question, wording: Wording) -> HeadSizesScene:
    answers, key = description.answers, question.key
    curves: dict[str, Curved] = {"up": "up", "down": "down"}
    said = value_words(description, question, wording)
    if key in head.GUESSED and key not in answers:
        said = f"{said}, {GUESSED}"
    fixed = answers.get(head.MOVES) == NO or (key == head.REACH and description.length(key) == 0)
    return HeadSizesScene(
        _side(description),
        size(description, head.FOCAL),
        size(description, head.GAP),
        size(description, head.HOLE),
        description.length(head.HANGS) or DRAWN_BELOW,
        curves.get(answers.get(head.CURVED, ""), ""),
        answers.get(head.TURNS) != NO,
        not fixed,
        SIZED.get(key, ""),
        (f"{question.title}: {said}", said) if key != head.NOW else (),
    )
