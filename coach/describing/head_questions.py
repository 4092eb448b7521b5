"""The questions about the head: mirror 3's screws, the lens, and the nozzle under it."""

from coach.describing.head_answers import CURVED, FOCAL, GAP, HANGS, HOLE, MOVES, NOW, REACH, TURNS
from coach.describing.moving import NO, YES
from coach.describing.question import Option, Question
from coach.describing.usual import UNKNOWN

SEEN = "Stand beside the head, on the side away from mirror 2, facing the heads of mirror 3's screws."
"""From where a mount of mirror 3 is looked at; what is right and up on its plate follows from it."""
UPPER = "Up is where the slanting plate's upper edge is."
NOT_KNOWN = "Not known? Say so."
GUESS_IT = "Not measured? Say so: it is guessed, and marked as guessed."

DESCRIBE_NOW = Question(
    NOW, "mirror 3 and lens", "Mirror 3 and lens?",
    ("Describe the head too? Only its own part of the visit needs it: how the beam goes through lens and nozzle.",),
    "choice",
    (Option(NO, "Not now: when that part comes"), Option(YES, "Now: a few questions more")), "head",
)  # fmt: skip
MIRROR3 = Question(
    TURNS, "mirror 3, screws", "Mirror 3: screws?",
    (SEEN, "Are there screws that tilt the mirror, with heads that a key can reach?"),
    "choice",
    (Option(NO, "No: glued, or fixed in the head"), Option(YES, "Yes: how they sit is asked next"),
     Option(UNKNOWN, "I do not know")),
    "head",
)  # fmt: skip
LENS = {
    FOCAL: Question(
        FOCAL, "lens, focal length", "Lens: focal length?",
        ("It stands in the manual, on the order or on the lens's packet; often 50.8 mm, which is 2 in.",
         "Leave the lens where it is. " + GUESS_IT),
        picture="head",
    ),
    GAP: Question(
        GAP, "nozzle to focus", "Nozzle to focus?",
        ("The height of the gauge or step that you set the focus with: from the nozzle's tip down to the sheet.",
         GUESS_IT),
        picture="head",
    ),
    HOLE: Question(
        HOLE, "nozzle's hole", "Nozzle: how wide?",
        ("How wide is the hole in the nozzle's tip? Often stamped on it; else hold a ruler across.", GUESS_IT),
        picture="head",
    ),
    CURVED: Question(
        CURVED, "lens, curved side", "Lens: curved side?",
        ("Which way does the lens's curved side look? The manual says, and it wins; up is usual.",
         "Leave the lens where it is. " + NOT_KNOWN), "choice",
        (Option("up", "Up, to mirror 3"), Option("down", "Down, to the nozzle"), Option(UNKNOWN, "I do not know")),
        "head",
    ),
    HANGS: Question(
        HANGS, "mirror 3 to lens", "Mirror 3 to lens?",
        ("From the outside: from mirror 3's middle, as high as the opening's middle, down to where the lens sits.",
         NOT_KNOWN),
        picture="head",
    ),
    MOVES: Question(
        MOVES, "lens tube", "Lens tube: moves?",
        ("Can the tube with lens and nozzle be moved sideways under the head, in wide holes or by set screws?",
         "Sideways alone: up and down is the focus. " + NOT_KNOWN), "choice",
        (Option(NO, "No, it is fixed"), Option(YES, "Yes: how far is asked next"), Option(UNKNOWN, "I do not know")),
        "head",
    ),
    REACH: Question(
        REACH, "lens tube, how far", "Lens tube: how far?",
        ("From where it stands, how far each way, sideways? 0 where it cannot.", NOT_KNOWN), picture="head",
    ),
}  # fmt: skip
"""By key, in their order."""
