"""`new-machine`: a profile from what was measured, with an honest list of what was not."""

from argparse import Namespace

from coach.cli.folder import store_of
from coach.cli.out import say
from coach.describing import head_answers
from coach.describing.description import OTHER, OWN, Description
from coach.describing.moving import NO, YES, typed_moves
from coach.describing.profile import machine_of
from coach.describing.slips import Doubt, weighed
from coach.describing.words import guessed_said, head_words, moves_words
from coach.errors import InputError, OutOfReach
from coach.paths import folder_to_begin_in
from coach.shown import IN_MM, Unit
from coach.threads import pitch_of_thread

SIZES = {
    "aperture": "aperture.head",
    "width": "bed.width",
    "depth": "bed.depth",
    "mirror1_gap": "path.mirror1_gap",
    "mirror2_gap": "path.mirror2_gap",
    "mirror1": "path.mirror1",
    "mirror2": "path.mirror2",
    "tape_radius": "tape.radius",
    "tape_wide": "tape.wide",
    "tolerance": "tolerance",
    "focal": head_answers.FOCAL,
    "nozzle_to_focus": head_answers.GAP,
    "nozzle": head_answers.HOLE,
    "mirror3_to_lens": head_answers.HANGS,
}
"""Option to question; the opening first, because the question about it tells most of a mistaken unit."""


def new_machine(arguments: Namespace) -> int:
    """Describe a machine and keep it in the store."""
    machine = machine_of(_description(arguments))
    folder_to_begin_in(arguments.data)
    path = store_of(arguments).save_machine(machine)
    bed, side = machine.bed, machine.path.side
    guesses = f"; guessed, measure when you can: {guessed_said(machine.guessed)}" if machine.guessed else ""
    head = f", {known}" if (known := head_words(machine, IN_MM)) else ""
    travel = f"travel {IN_MM.length(bed.width)} wide and {IN_MM.length(bed.depth)} deep"
    say(
        f"{machine.name}: {travel}, mirrors 1 and 2 on the {side}, opening {IN_MM.length(machine.aperture.head)}, "
        f"{moves_words(machine.moves, IN_MM)}{head}, kept in {path}{guesses}."
    )
    return 0


def _description(arguments: Namespace) -> Description:
    """What the options answer.  Raises InputError, OutOfReach for an unlikely size that is not insisted on."""
    description = Description().answered("name", arguments.name).answered("path.side", arguments.side)
    if arguments.zero is not None:
        description = description.answered("zero", arguments.zero)
    for option, key in SIZES.items():
        typed = getattr(arguments, option)
        if typed is None:
            continue
        description = _answered(description, key, typed, arguments)
    for key, text in _head(arguments).items():
        description = _answered(description, key, text, arguments)
    for mirror in (1, 2, 3):
        if _has_mount(arguments, mirror):
            for key, text in _mount(arguments, mirror).items():
                description = _answered(description, f"mounts.{mirror}.{key}", text, arguments)
    moves = typed_moves(arguments.moves) if arguments.moves is not None else {}
    for key, text in moves.items():
        description = _answered(description, key, text, arguments)
    return description


def _answered(description: Description, key: str, text: str, arguments: Namespace) -> Description:
    """With one more answer.  Raises InputError, OutOfReach for an unlikely one that is not insisted on."""
    unit: Unit = "in" if arguments.unit == "in" else "mm"
    found = weighed(description, key, text, unit)
    if not isinstance(found, Doubt):
        return found
    if arguments.keep:
        return description.answered(key, text, unit)  # where that cannot be, the refusal says why
    insist = ", or add --keep to keep it as it is" if found.kept is not None else ""
    raise OutOfReach(f"No machine was kept: {found.sentence} Write the unit behind it{insist}.")


def _head(arguments: Namespace) -> dict[str, str]:
    """Closed answers about mirror 3 and the lens, and how far that goes.  Raises InputError."""
    answers = {}
    if arguments.mirror3 is not None:
        if _has_mount(arguments, 3):
            raise InputError("Mirror 3 is said to be fixed and to have screws", expected="one of both",
                             example="--mirror3 fixed")  # fmt: skip
        answers[head_answers.TURNS] = NO
    if arguments.curved is not None:
        answers[head_answers.CURVED] = arguments.curved
    if arguments.lens_moves is not None:
        answers |= {head_answers.MOVES: YES, head_answers.REACH: arguments.lens_moves}
    return answers


def _has_mount(arguments: Namespace, mirror: int) -> bool:
    """Mirrors 1 and 2 always have one; mirror 3's screws are described only where they were named."""
    own = (getattr(arguments, f"{name}{mirror}") for name in ("points", "thread", "pitch", "drive"))
    return mirror in (1, 2) or any(value is not None for value in own)


def _mount(arguments: Namespace, mirror: int) -> dict[str, str]:
    """One mount's answers: its own options before those for all mirrors."""

    def option(name: str) -> str | None:
        own: str | None = getattr(arguments, f"{name}{mirror}")
        common: str | None = getattr(arguments, name)
        return own if own is not None else common

    points, drive = option("points"), option("drive")
    answers = {} if points is None else {"shape": OWN, "own": points}
    if drive is not None:
        answers["drive"] = drive
    return answers | _screw(arguments, mirror)


def _screw(arguments: Namespace, mirror: int) -> dict[str, str]:
    """The screws' thread or pitch, the mirror's own before the common one.  Raises InputError, UnknownName."""
    for number in (str(mirror), ""):
        thread, pitch = getattr(arguments, f"thread{number}"), getattr(arguments, f"pitch{number}")
        if thread is not None and pitch is not None:
            raise InputError("Both a thread and a pitch are given", expected="one of them", example="--thread M4")
        if thread is not None:
            pitch_of_thread(thread)  # said once, not for every mirror
            return {"thread": thread}
        if pitch is not None:
            return {"thread": OTHER, "screw": pitch}
    return {}
