"""The questions about a machine, in the order in which one walks around it with a ruler."""

from collections.abc import Iterator

from coach.describing import head_answers, typed
from coach.describing.description import BEFORE, MIRRORS, OTHER, OWN, SAME, USUAL_STATIONS, Description
from coach.describing.head_questions import DESCRIBE_NOW, LENS, MIRROR3, SEEN, UPPER
from coach.describing.moving import YES, key_of
from coach.describing.moving_questions import MOVES
from coach.describing.pulsing import matters
from coach.describing.pulsing_questions import PULSES
from coach.describing.question import Kind, Option, Question
from coach.describing.usual import CORNERED, CORNERS, UNKNOWN
from coach.frame import ZEROS

THREADS = ("M3", "M4", "M5", "M6", "M4x0.5", "8-32", "1/4-80")
"""Offered by a key each; any other can be typed."""
GUESS_IT = "Not measured? Say so: it is guessed, marked as guessed, and costs a mark or two more."

GENERAL = (
    Question("name", "name", "What is its name?", ("A few words to know the machine by.",), "words"),
    Question(
        "bed.width",
        "travel, left to right",
        "Travel: how wide?",
        (
            "How far the head travels from left to right. Not the bed's outside: the head's own way.",
            'Drive it from X 0 to the other end and read X, or look under "working area" in the manual.',
        ),
    ),
    Question(
        "bed.depth",
        "travel, front to back",
        "Travel: how deep?",
        ("How far the gantry travels from the front to the back.", "Drive it from Y 0 to the other end and read Y."),
    ),
    Question(
        "path.side",
        "mirrors 1 and 2",
        "Mirrors: which side?",
        ("Stand at the front. Mirror 1 is fixed in a back corner, mirror 2 rides on the gantry below it.",),
        "choice",
        (Option("left", "On the left"), Option("right", "On the right")),
    ),
    Question(
        "zero",
        "controller's 0/0",
        "Where is X 0, Y 0?",
        (
            "Drive the head until the controller reads X 0 and Y 0, or only look: in which corner is it?",
            "All X and Y are then said in the controller's own numbers. Where it shows a minus, leave the minus out.",
        ),
        "choice",
        tuple(Option(zero, zero.replace("-", " ").capitalize()) for zero in ZEROS),
    ),
    Question(
        "path.mirror1_gap",
        "mirror 1 to 2",
        "Mirror 1 to mirror 2",
        ("Gantry at the very back: how far from mirror 1's middle to mirror 2's middle?", GUESS_IT),
    ),
    Question(
        "path.mirror2_gap",
        "mirror 2 to head",
        "Mirror 2 to the head",
        ("Head at mirror 2's end of its travel: how far from mirror 2's middle to the head's opening?", GUESS_IT),
    ),
    *(
        Question(
            f"path.mirror{mirror}",
            f"mirror {mirror} across",
            f"Mirror {mirror}: how wide?",
            (f"How wide is mirror {mirror} across, where it is not covered by its holder?", GUESS_IT),
        )
        for mirror in (1, 2)
    ),
    Question(
        "aperture.head",
        "opening",
        "Opening: how wide?",
        ("The round opening where the beam enters the head, which the tape covers: how wide across?", GUESS_IT),
        picture="opening",
    ),
    Question(
        "tape.radius",
        "tape",
        "Tape: how far out?",
        ("How far from the opening's middle can a mark still be read on your tape?", GUESS_IT),
        picture="opening",
    ),
    Question(
        "tape.wide",
        "wide card",
        "Wide card: how far?",
        (
            "A beam that may be far off is caught on a card before the opening: how far from its middle to its edge?",
            "Plain paper or board, never PVC or foil; nothing that burns behind it. None at hand? Say so: one of "
            "30 mm radius is then to be cut.",
        ),
        picture="opening",
    ),
    Question(
        "tolerance",
        "tolerance",
        "How near is good?",
        ("How far off the middle may a mark lie and still be good? Most are content with 1 mm.",),
        picture="opening",
    ),
)

STATIONS = Question(
    "stations",
    "stations",
    "Where to mark?",
    ("The usual places are the four corners, 20 mm inside the travel, and the middle.",),
    "choice",
    (Option(USUAL_STATIONS, "The usual places"), Option(OWN, "Places of my own")),
)
PLACES = Question(
    "stations.places",
    "places",
    "Which places?",
    (
        "At least three, not on one line: a name, then X and Y as the controller shows them; a semicolon between.",
        typed.STATIONS_EXAMPLE,
    ),
    "words",
)
AS_BEFORE = Option(BEFORE, "As it was before")
SHAPES = (
    Option("l", "L: a fixed pivot in the corner, two screws"),
    Option("l3", "L of three screws"),
    Option("centre", "Pivot in the middle, two screws"),
    Option("up", "Three screws, one on top"),
    Option("down", "Three screws, one below"),
    Option(OWN, "Another: type each point"),
)
DRIVES = (
    Option("push", "Push: the plate goes away from me"),
    Option("pull", "Pull: the plate comes towards me"),
    Option(UNKNOWN, "I do not know: the first turn tells"),
)


def _mount_questions(mirror: int) -> tuple[Question, ...]:
    start, where, name = f"mounts.{mirror}.", f"Mirror {mirror}: ", f"mirror {mirror}, "
    same = (Option(SAME, "Just like mirror 1's mount"),)
    shapes = {1: SHAPES, 2: (*same, *SHAPES), 3: (*SHAPES, *same)}[mirror]
    facing = SEEN if mirror == 3 else "Stand behind the mirror, facing the heads of its screws."
    upper = (UPPER,) if mirror == 3 else ()
    corners = tuple(Option(corner, corner.capitalize()) for corner in CORNERS)
    threads = (*(Option(thread, thread) for thread in THREADS), Option(OTHER, "Another: type thread or pitch"))

    def ask(key: str, title: str, words: str, how: tuple[str, ...], kind: Kind = "length",
            options: tuple[Option, ...] = ()) -> Question:  # fmt: skip
        return Question(start + key, name + title, where + words, how, kind, options, "mount", mirror)

    return (
        ask("shape", "mount", "mount?", (facing, *upper, "Which three points carry the plate?"), "choice", shapes),
        ask("own", "points", "points?",
            (facing, *upper, "Each point: a name, pivot or screw, then how far to the right of the mirror's middle "
             "and how far above it; a semicolon between.", typed.POINTS_EXAMPLE), "words", ()),
        ask("corner", "corner", "where is A?",
            (facing, *upper, "In which corner is point A, where the L has its bend?"), "choice", corners),
        ask("arm", "A to B", "A to B?", (facing, "How far from point A to point B, middle to middle?"),
            "length", ()),
        ask("thread", "thread", "thread?", ("The adjusting screws' thread.", GUESS_IT), "choice", threads),
        ask("screw", "screws", "pitch?",
            ("A thread such as M5x0.5 or 10-32, or how far a screw moves in one turn.",), "words", ()),
        ask("drive", "clockwise", "clockwise?",
            (facing, "Turned clockwise, does a screw push its point of the plate away from you, or pull it?"),
            "choice", DRIVES),
    )  # fmt: skip


MOUNTS = {mirror: _mount_questions(mirror) for mirror in MIRRORS}


def questions(description: Description) -> tuple[Question, ...]:
    """The questions that matter for what was answered so far, in order."""
    return tuple(question for question, matters_now in _each(description) if matters_now)


def _each(description: Description) -> Iterator[tuple[Question, bool]]:
    """Every question there is, in order, and whether it matters for what was answered so far."""
    alone = description.head_alone
    head = alone or head_answers.asked_now(description.answers)
    yield from ((question, fits and not alone) for question, fits in _of_path(description))
    yield from ((question, fits and head) for question, fits in _of_head(description))


def _of_path(description: Description) -> Iterator[tuple[Question, bool]]:
    answers = description.answers
    yield from ((question, True) for question in GENERAL)
    for mirror in (1, 2):
        yield from _of_mount(description, mirror)
    for part, (whether, *how) in MOVES.items():
        yield whether, True
        yield from ((question, answers.get(key_of(part)) == YES) for question in how)
    yield from ((question, matters(key, answers)) for key, question in PULSES.items())
    yield STATIONS, True
    yield PLACES, answers.get("stations") == OWN
    yield DESCRIBE_NOW, True


def _of_head(description: Description) -> Iterator[tuple[Question, bool]]:
    answers = description.answers
    turns, moves = head_answers.turns(answers) == YES, answers.get(head_answers.MOVES) == YES
    yield MIRROR3, True
    yield from ((question, fits and turns) for question, fits in _of_mount(description, 3))
    yield from ((question, key != head_answers.REACH or moves) for key, question in LENS.items())


def _of_mount(description: Description, mirror: int) -> Iterator[tuple[Question, bool]]:
    answers, start = description.answers, f"mounts.{mirror}."
    shape, thread = answers.get(start + "shape"), answers.get(start + "thread")
    fits = {
        "own": shape == OWN,
        "corner": shape in CORNERED,
        "arm": shape not in (None, OWN, BEFORE),
        "screw": thread == OTHER,
    }
    for question in MOUNTS[mirror]:
        what = question.key.removeprefix(start)
        yield question, what == "shape" or (shape != SAME and fits.get(what, True))


EVERY = tuple(question for question, _ in _each(Description()))
"""All there are, whatever was answered, in order."""


def options(question: Question, description: Description) -> tuple[Option, ...]:
    """The answers offered; what was there before is offered where nothing else describes it."""
    before = description.answers.get(question.key) == BEFORE
    return (*question.options, AS_BEFORE) if before else question.options
