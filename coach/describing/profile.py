"""From answers to a profile, with an honest list of what was guessed; the way back is in `from_machine`."""

from collections.abc import Sequence
from functools import partial
from typing import Any

from pydantic import ValidationError

from coach import files
from coach.describing import head_answers, moving, pulsing, typed
from coach.describing.description import BEFORE, MIRRORS, OTHER, OWN, SAME, Description
from coach.describing.from_machine import describe
from coach.describing.usual import BEYOND_RIM, CORNER, CORNERED, NAME, SHAPE, THREAD, USUAL, shape_points
from coach.errors import InputError
from coach.machine import Machine, Mount, Point
from coach.threads import pitch_of_thread
from coach.toml_lines import Location

REQUIRED = ("bed.width", "bed.depth", "path.side")
"""What nobody can guess; everything else has something usual in its place."""
GUESSABLE = (
    "path.mirror1_gap", "path.mirror2_gap", "path.mirror1", "path.mirror2",
    "aperture.head", "tape.radius", "tolerance",
    *(f"mounts.{mirror}.{what}" for mirror in MIRRORS for what in ("points", "thread")),
    *head_answers.GUESSED,
)  # fmt: skip
"""Names that may stand in `Machine.guessed`, in their order."""
MISSING = {
    "bed.width": "how wide the travel is",
    "bed.depth": "how deep the travel is",
    "path.side": "on which side mirrors 1 and 2 stand",
}


def missing(description: Description) -> tuple[str, ...]:
    """The questions that must be answered before a session can begin, and are not."""
    return tuple(key for key in REQUIRED if key not in description.answers)


def machine_of(description: Description) -> Machine:
    """The profile.  What is not answered is guessed, and `guessed` says so.

    Raises InputError where something cannot be guessed, or where the answers together make no machine.
    """
    lacking = missing(description)
    if lacking:
        what = " and ".join(MISSING[key] for key in lacking)
        raise InputError(f"{what[:1].upper()}{what[1:]} cannot be guessed", expected="an answer")
    table = _table(description)
    try:
        machine = Machine.model_validate(table)
    except ValidationError as error:
        mirrors = [mount["mirror"] for mount in table["mounts"]]
        said = files.explain(error, partial(_called, mirrors))
        raise InputError(f"This machine cannot be: {said}") from None
    return _with_lessons(machine, description.before)


def _called(mirrors: Sequence[int], where: Location) -> str:
    """A place in the profile as the person knows it: a mount by its mirror."""
    match where:
        case ("mounts", int(place), *rest):
            return files.dotted((f"mirror {mirrors[place]}", *rest))
        case _:
            return files.dotted(where)


def size(description: Description, key: str) -> float:
    """A size in mm, answered or guessed; 0 where it cannot be guessed."""
    answered = description.length(key)
    if answered is not None:
        return answered
    before = description.before
    if key == "tape.radius":
        head = size(description, "aperture.head")
        as_before = before is not None and key in before.guessed and head == before.aperture.head
        return before.tape.radius if before is not None and as_before else head / 2 + BEYOND_RIM
    if before is not None and key in before.guessed:
        section, _, name = key.rpartition(".")
        if (part := getattr(before, section) if section else before) is not None:
            return float(getattr(part, name))
    return USUAL.get(key.rpartition(".")[2], USUAL.get(key, 0.0))


def guesses(description: Description) -> tuple[str, ...]:
    """The dotted names of what is guessed."""
    answers, found = description.answers, set()
    for key in GUESSABLE:
        mirror = _mirror_of(key)
        if mirror is None:
            asked = key not in head_answers.GUESSED or head_answers.has_lens(answers, description.before)
            guessed = asked and key not in answers
        elif key.endswith("points"):
            guessed = _has_mount(description, mirror) and not _points_known(description, mirror)
        else:
            guessed = _has_mount(description, mirror) and not _screw_known(description, mirror)
        if guessed:
            found.add(key)
    before = description.before
    others = [key for key in (before.guessed if before else ()) if key not in GUESSABLE]
    kept = [key for key in others if before and description.answers.get(key) == describe(before).answers.get(key)]
    return (*(key for key in GUESSABLE if key in found), *kept)


def points(description: Description, mirror: int) -> tuple[Point, Point, Point]:
    """The three points of a mirror's mount, answered or guessed."""
    if _source(description, mirror) != mirror:
        return points(description, _source(description, mirror))
    answers = description.answers
    shape, own = answers.get(f"mounts.{mirror}.shape"), f"mounts.{mirror}.own"
    before = _mount_before(description, mirror)
    if before is not None and (shape == BEFORE or (shape is None and _was_guessed(description, mirror, "points"))):
        return before.points
    if shape == OWN and own in answers:
        return typed.points(answers[own])
    shape = SHAPE if shape in (None, OWN, BEFORE) else str(shape)
    corner = answers.get(f"mounts.{mirror}.corner", CORNER)
    return shape_points(shape, corner, size(description, f"mounts.{mirror}.arm"))


def screw(description: Description, mirror: int) -> dict[str, Any]:
    """The thread or the pitch of a mirror's screws, answered or guessed, as in the mount's table."""
    if _source(description, mirror) != mirror:
        return screw(description, _source(description, mirror))
    thread = description.answers.get(f"mounts.{mirror}.thread")
    own = description.answers.get(f"mounts.{mirror}.screw")
    if thread == OTHER and own is not None:
        return typed.screw(own, "mm")
    before = _mount_before(description, mirror)
    if before is not None and thread is None and _was_guessed(description, mirror, "thread"):
        return {"thread": before.thread} if before.thread is not None else {"pitch": before.pitch}
    return {"thread": THREAD if thread in (None, OTHER) else thread}


def pitch(description: Description, mirror: int) -> float:
    """mm per turn, answered or guessed."""
    entry = screw(description, mirror)
    return float(entry["pitch"]) if "pitch" in entry else pitch_of_thread(str(entry["thread"]))


def drive(description: Description, mirror: int) -> str:
    """What a clockwise turn does: "push", "pull" or "unknown"."""
    return description.answers.get(f"mounts.{_source(description, mirror)}.drive", "unknown")


def moves(description: Description) -> list[dict[str, Any]]:
    """Which parts can be moved and how far, as in the profile's table; what is not known is left out."""
    answered = {key: description.length(key) for key in moving.REACHES}
    reach = {key: length for key, length in answered.items() if length is not None}
    return moving.moves_table(description.answers, reach)


def _table(description: Description) -> dict[str, Any]:
    answers, before = description.answers, description.before
    tape: dict[str, Any] = {"radius": size(description, "tape.radius")}
    if before is not None:
        tape["mirror2_radius"] = before.tape.mirror2_radius
    if "tape.wide" in answers:
        tape["wide"] = size(description, "tape.wide")
    table: dict[str, Any] = {
        "name": answers.get("name", NAME),
        "bed": {"width": size(description, "bed.width"), "depth": size(description, "bed.depth")},
        "path": {
            "side": answers["path.side"],
            **{name: size(description, f"path.{name}") for k in (1, 2) for name in (f"mirror{k}_gap", f"mirror{k}")},
        },
        "aperture": {"head": size(description, "aperture.head")},
        "tape": tape,
        "tolerance": size(description, "tolerance"),
        "mounts": [_mount(description, mirror) for mirror in MIRRORS if _has_mount(description, mirror)],
        "guessed": guesses(description),
        "moves": moves(description),
    }
    if pulse := pulsing.pulse_table(answers):
        table["pulse"] = pulse
    if head_answers.has_lens(answers, before):
        table["lens"] = head_answers.lens_table(answers, partial(size, description))
    if head_answers.turns(answers) == moving.NO:
        table["mirror3"] = "fixed"
    if "zero" in answers:
        table["zero"] = answers["zero"]
    if answers.get("stations") == OWN and "stations.places" in answers:
        table["stations"] = typed.counted(typed.stations(answers["stations.places"]), description.frame())
    elif answers.get("stations") == BEFORE and before is not None:
        table["stations"] = before.stations
    return table


def _mount(description: Description, mirror: int) -> dict[str, Any]:
    return {
        "mirror": mirror,
        "drive": drive(description, mirror),
        "points": points(description, mirror),
        **screw(description, mirror),
    }


def _has_mount(description: Description, mirror: int) -> bool:
    """Mirrors 1 and 2 always have one; mirror 3's is described only where it is said to have screws."""
    return mirror in (1, 2) or head_answers.turns(description.answers) == moving.YES


def _source(description: Description, mirror: int) -> int:
    """The mirror whose answers count for this one's mount."""
    return 1 if description.like_first(mirror) else mirror


def _points_known(description: Description, mirror: int) -> bool:
    source = _source(description, mirror)
    of = {what: description.answers.get(f"mounts.{source}.{what}") for what in ("shape", "corner", "arm", "own")}
    if of["shape"] in (None, OWN, SAME):
        return of["shape"] is not None and of["own"] is not None
    if of["shape"] == BEFORE:
        return _mount_before(description, source) is not None
    needed = ("arm", "corner") if of["shape"] in CORNERED else ("arm",)
    return all(of[what] is not None for what in needed)


def _screw_known(description: Description, mirror: int) -> bool:
    source = _source(description, mirror)
    thread = description.answers.get(f"mounts.{source}.thread")
    return thread is not None and (thread != OTHER or f"mounts.{source}.screw" in description.answers)


def _mirror_of(key: str) -> int | None:
    return int(key.split(".")[1]) if key.startswith("mounts.") else None


def _mount_before(description: Description, mirror: int) -> Mount | None:
    before = description.before
    return next((mount for mount in before.mounts if mount.mirror == mirror), None) if before else None


def _was_guessed(description: Description, mirror: int, what: str) -> bool:
    return description.before is not None and f"mounts.{mirror}.{what}" in description.before.guessed


def _with_lessons(machine: Machine, before: Machine | None) -> Machine:
    """With what retests taught about each mount that is still described as it was.

    A mount whose points, pitch or drive changed answers differently; so does every mount when the mirrors change
    sides (`coach.optics.mounts`): then what was learned is dropped.
    """
    if before is None or before.path.side != machine.path.side:
        return machine
    old = {_drawn(mount): mount.learned for mount in before.mounts}
    mounts = tuple(mount.model_copy(update={"learned": old.get(_drawn(mount))}) for mount in machine.mounts)
    return machine.model_copy(update={"mounts": mounts})


def _drawn(mount: Mount) -> tuple[object, ...]:
    return mount.mirror, mount.points, mount.pitch, mount.drive


def forgotten(description: Description) -> tuple[int, ...]:
    """The mirrors about whose mounts something was learned that no longer fits and will be dropped.

    Raises InputError where the answers make no machine.
    """
    before = description.before
    kept = {mount.mirror for mount in machine_of(description).mounts if mount.learned}
    return tuple(m.mirror for m in (before.mounts if before else ()) if m.learned and m.mirror not in kept)
