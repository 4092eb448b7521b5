"""`new-machine`: a profile from what was measured, with an honest list of what was not."""

import re
from argparse import Namespace
from typing import Any

from pydantic import ValidationError

from coach import files
from coach.cli.out import say
from coach.cli.where import length, store_of
from coach.errors import InputError, OutOfReach
from coach.machine import Machine
from coach.reading.plausibility import question_aperture
from coach.threads import pitch_of_thread
from coach.units import Length, parse_length, show_length

USUAL = {"mirror1_gap": 150.0, "mirror2_gap": 120.0, "aperture": 18.0, "tolerance": 1.0}
"""mm; what a machine of this size often has (common practice), for what was not measured."""
BEYOND_RIM = 2.0
"""mm beyond the opening's rim to which a mark is still read on the tape."""
USUAL_THREAD = "M4"
USUAL_POINTS = "A pivot -20 -20; B screw 20 -20; C screw -20 20"
DOTTED = {
    "mirror1_gap": "path.mirror1_gap",
    "mirror2_gap": "path.mirror2_gap",
    "aperture": "aperture.head",
    "tape_radius": "tape.radius",
    "tolerance": "tolerance",
}
WHAT = {
    "width": "the travel's width",
    "depth": "the travel's depth",
    "mirror1_gap": "mirror 1's gap",
    "mirror2_gap": "mirror 2's gap",
    "aperture": "the opening's diameter",
    "tape_radius": "the tape's radius",
    "tolerance": "the tolerance",
}
MAY_BE_NOTHING = ("mirror1_gap", "mirror2_gap")


def new_machine(arguments: Namespace) -> int:
    """Describe a machine and keep it in the store."""
    guessed: list[str] = []
    machine = _validated(_table(arguments, guessed))
    path = store_of(arguments).save_machine(machine)
    bed, side = machine.bed, machine.path.side
    guesses = f"; guessed, measure when you can: {', '.join(guessed)}" if guessed else ""
    say(
        f"{machine.name}: travel {show_length(bed.width)} wide and {show_length(bed.depth)} deep, mirrors 1 and 2 on "
        f"the {side}, opening {show_length(machine.aperture.head)}, kept in {path}{guesses}."
    )
    return 0


def _table(arguments: Namespace, guessed: list[str]) -> dict[str, Any]:
    """The profile as a table; names of what was not given are added to `guessed`."""

    def size(name: str, usual: float | None = None) -> float:
        typed = getattr(arguments, name)
        if typed is not None:
            return _size(typed, arguments.unit, name).mm
        guessed.append(DOTTED[name])
        return USUAL[name] if usual is None else usual

    bed = {"width": size("width"), "depth": size("depth")}
    path = {"side": arguments.side, "mirror1_gap": size("mirror1_gap"), "mirror2_gap": size("mirror2_gap")}
    head = size("aperture")
    if arguments.aperture is not None and not arguments.keep:
        _question(_size(arguments.aperture, arguments.unit, "aperture"))
    return {
        "name": arguments.name,
        "bed": bed,
        "path": path,
        "aperture": {"head": head},
        "tape": {"radius": size("tape_radius", head / 2 + BEYOND_RIM)},
        "tolerance": size("tolerance"),
        "mounts": [_mount(arguments, mirror, guessed) for mirror in (1, 2, 3) if _has_mount(arguments, mirror)],
        "guessed": guessed,
    }


def _size(typed: str, unit: str, name: str) -> Length:
    """A size in mm.  Raises InputError, OutOfReach for one that cannot be."""
    found = parse_length(typed, "in" if unit == "in" else "mm", WHAT[name])
    if found.mm < 0 or (found.mm == 0 and name not in MAY_BE_NOTHING):
        raise OutOfReach(
            f"{WHAT[name][:1].upper()}{WHAT[name][1:]} of {typed.strip()!r} is not a size",
            expected="a length of more than nothing",
            example="600, 600,5 or 23.6 in",
        )
    return found


def _question(aperture: Length) -> None:
    """Raises OutOfReach where an opening's size is unlikely; offers the other unit."""
    question = question_aperture(aperture.mm, aperture.unit)
    if question is not None:
        raise OutOfReach(f"No machine was kept: {question.sentence} To keep the size as it is, add --keep")


def _has_mount(arguments: Namespace, mirror: int) -> bool:
    """Mirrors 1 and 2 always have one; mirror 3's screws are described only where they were named."""
    own = (getattr(arguments, f"{name}{mirror}") for name in ("points", "thread", "pitch", "drive"))
    return mirror in (1, 2) or any(value is not None for value in own)


def _mount(arguments: Namespace, mirror: int, guessed: list[str]) -> dict[str, Any]:
    """One mount's table: its own options before those for all mirrors."""

    def option(name: str) -> str | None:
        own: str | None = getattr(arguments, f"{name}{mirror}")
        common: str | None = getattr(arguments, name)
        return own if own is not None else common

    points = option("points")
    if points is None:
        guessed.append(f"mounts.{mirror}.points")
    return {
        "mirror": mirror,
        "drive": option("drive") or "unknown",
        "points": _points(points or USUAL_POINTS, arguments.unit if points else "mm"),
        **_screw(arguments, mirror, guessed),
    }


def _screw(arguments: Namespace, mirror: int, guessed: list[str]) -> dict[str, Any]:
    """The screws' thread or pitch, the mirror's own before the common one."""
    for number in (str(mirror), ""):
        thread, pitch = getattr(arguments, f"thread{number}"), getattr(arguments, f"pitch{number}")
        if thread is not None and pitch is not None:
            raise InputError("Both a thread and a pitch are given", expected="one of them", example="--thread M4")
        if thread is not None:
            pitch_of_thread(thread)  # said once, not for every mirror
            return {"thread": thread}
        if pitch is not None:
            advance = parse_length(pitch, "mm", "the pitch").mm
            if advance <= 0:
                raise OutOfReach(
                    f"A pitch of {pitch.strip()!r} moves nothing",
                    expected="the screw's advance per turn, in mm",
                    example="0.7",
                )
            return {"pitch": advance}
    guessed.append(f"mounts.{mirror}.thread")
    return {"thread": USUAL_THREAD}


def _points(text: str, unit: str) -> list[dict[str, Any]]:
    """Three points from "A pivot -20 -20; B screw 20 -20; C screw -20 20".  Raises InputError."""
    pieces = [piece.split() for piece in re.split(r"[;\n]", text) if piece.strip()]
    if len(pieces) != 3 or any(len(words) < 4 or words[-3] not in ("pivot", "screw") for words in pieces):
        raise InputError(
            f"The points {text!r} cannot be read",
            expected="three points, each with a name, pivot or screw, x and y",
            example=USUAL_POINTS,
        )
    return [_point(" ".join(words[:-3]), words[-3], {"x": words[-2], "y": words[-1]}, unit) for words in pieces]


def _point(name: str, kind: str, typed: dict[str, str], unit: str) -> dict[str, Any]:
    place = {axis: length(text, unit, f"{axis} of point {name}") for axis, text in typed.items()}
    return {"name": name, "kind": kind, **place}


def _validated(table: dict[str, Any]) -> Machine:
    """The profile.  Raises InputError with every complaint, in the person's words."""
    try:
        return Machine.model_validate(table)
    except ValidationError as error:
        mirrors = [mount["mirror"] for mount in table["mounts"]]
        said = re.sub(r"\bmounts\.(\d)", lambda found: f"mirror {mirrors[int(found[1])]}", files.explain(error))
        raise InputError(f"This machine cannot be: {said}") from None
