"""From a profile back to the answers that give it."""

from coach.describing import head_answers, moving, pulsing, typed
from coach.describing.description import BEFORE, OTHER, OWN, USUAL_STATIONS, Description
from coach.describing.usual import CORNER, CORNERED, CORNERS, shape_points
from coach.errors import InputError
from coach.machine import Machine, Mount, Point, default_stations


def describe(machine: Machine) -> Description:
    """The answers that a profile gives; what is guessed in it is not answered."""
    answers = {
        "name": machine.name,
        "path.side": machine.path.side,
        "bed.width": typed.plain(machine.bed.width),
        "bed.depth": typed.plain(machine.bed.depth),
    }
    sizes = {
        "path.mirror1": machine.path.mirror1,
        "path.mirror2": machine.path.mirror2,
        "path.mirror1_gap": machine.path.mirror1_gap,
        "path.mirror2_gap": machine.path.mirror2_gap,
        "aperture.head": machine.aperture.head,
        "tape.radius": machine.tape.radius,
        "tape.wide": machine.tape.wide,
        "tolerance": machine.tolerance,
    }
    answers |= {key: typed.plain(value) for key, value in sizes.items() if not _guess(machine, key)}
    for key, said in (moving.said_of(machine.moves) | head_answers.said_of(machine)).items():
        answers[key] = said if isinstance(said, str) else typed.plain(said)
    if "zero" in machine.model_fields_set:
        answers["zero"] = machine.zero
    answers |= pulsing.said_of(machine.pulse)
    answers |= _stations_said(machine)
    for mount in machine.mounts:
        answers |= _mount_said(mount, machine.guessed)
    return Description(answers, machine)


def _guess(machine: Machine, key: str) -> bool:
    """Whether nobody measured a size: a diameter that the file leaves out (every older one does) is none either."""
    section, _, name = key.rpartition(".")
    return key in machine.guessed or (section == "path" and name not in machine.path.model_fields_set)


def _stations_said(machine: Machine) -> dict[str, str]:
    if machine.stations == default_stations(machine.bed):
        return {"stations": USUAL_STATIONS}
    text = typed.stations_kept(typed.counted(machine.stations, machine.frame))
    try:
        same = typed.counted(typed.stations(text), machine.frame) == machine.stations
    except InputError:
        same = False
    return {"stations": OWN, "stations.places": text} if same else {"stations": BEFORE}


def _mount_said(mount: Mount, guessed: tuple[str, ...]) -> dict[str, str]:
    start = f"mounts.{mount.mirror}."
    said: dict[str, str] = {"drive": mount.drive}
    if start + "points" not in guessed:
        said |= points_said(mount.points)
    if start + "thread" not in guessed:
        if mount.thread is None:
            said |= {"thread": OTHER, "screw": typed.plain(mount.pitch)}
        else:
            said["thread"] = mount.thread
    return {start + what: text for what, text in said.items()}


def points_said(three: tuple[Point, Point, Point]) -> dict[str, str]:
    """The answers that give exactly these points: a usual shape where they make one, else each point."""
    a, b, _ = three
    for shape in (*CORNERED, "up", "down"):
        arm = max(abs(b.x - a.x), abs(b.y - a.y))
        for corner in CORNERS if shape in CORNERED else (CORNER,):
            if shape_points(shape, corner, arm) == three:
                cornered = {"corner": corner} if shape in CORNERED else {}
                return {"shape": shape, **cornered, "arm": typed.plain(arm)}
    text = typed.points_kept(three)
    try:
        same = typed.points(text) == three
    except InputError:
        same = False
    return {"shape": OWN, "own": text} if same else {"shape": BEFORE}
