"""Every scene in words, for who does not see it: a title, and a description that says all that the picture shows."""

from collections.abc import Iterable

from coach.pictures.aperture import ApertureScene
from coach.pictures.bed import BedScene, StationDot
from coach.pictures.beside import BesideScene
from coach.pictures.compare import CompareScene
from coach.pictures.compared import Compared, figures
from coach.pictures.gaps import WAYS, GapsScene
from coach.pictures.head_sizes import HeadSizesScene
from coach.pictures.mount import MountScene
from coach.pictures.move import MoveScene
from coach.pictures.opening import OpeningScene
from coach.pictures.path import PathScene
from coach.pictures.plan import PlanScene
from coach.pictures.spoken_visit import of_the_visit
from coach.pictures.view import Scene
from coach.shown import Wording

KINDS = {"blob": "Mark", "crosshair": "The cross", "before": "An older mark"}


def spoken(scene: Scene, wording: Wording) -> tuple[str, str]:
    """Title and description.  Raises TypeError for a scene that nobody put into words."""
    match scene:
        case ApertureScene():
            return "The tape on the opening", _said(_tape(scene, wording))
        case GapsScene():
            return "The gaps between mark and rim", _said(_gaps(scene, wording))
        case OpeningScene(aperture, notes, _):
            return "The opening and its tape", _said([*_tape(aperture, wording), *(note[0] for note in notes)])
        case BedScene():
            return "The stations from above", _said(_bed(scene, wording))
        case PathScene():
            return "The beam's path from above", _said(_path(scene))
        case MoveScene():
            return f"Which way the {scene.part} is moved", _said(_move(scene, wording))
        case MountScene():
            return "A mirror's mount, facing the screw heads", _said(_mount(scene, wording))
        case HeadSizesScene():
            return "The head cut open, from the front", _said(_head_sizes(scene, wording))
        case PlanScene():
            return "The machine from above", _said(_plan(scene, wording))
        case CompareScene(_, _, stations, adjusted):
            return ("Before and after" if adjusted else "The marks"), _said(_compared(stations, adjusted, wording))
        case BesideScene(_, _, stations):
            return "Before and after, side by side", _said(_compared(stations, True, wording))
        case _:
            title, sentences = of_the_visit(scene, wording)
            return title, _said(sentences)


def _said(sentences: Iterable[str]) -> str:
    """Each with one full stop."""
    return " ".join(f"{sentence[0].upper()}{sentence[1:].removesuffix('.')}." for sentence in sentences if sentence)


def _tape(scene: ApertureScene, wording: Wording) -> list[str]:
    """What is right on the picture of a sticky side is left on the machine: places are told as on the machine."""
    sign = -1.0 if scene.mirrored else 1.0
    said = [f"An opening {wording.length(scene.aperture)} wide with its tape, facing it"]
    if scene.mirrored:
        said.append("The tape's sticky side is shown, so left and right have changed places on the picture")
    for mark in scene.marks:
        name = f"{KINDS[mark.kind]}{f' ({mark.label})' if mark.label else ''}"
        said.append(f"{name}: {wording.place(sign * mark.u, mark.v)} on the machine")
    if (next_mark := scene.expected) is not None:
        place = wording.place(sign * next_mark.u, next_mark.v)
        doubt = wording.length(max(next_mark.doubt_u, next_mark.doubt_v))
        said.append(f"Expected: {place} on the machine, give or take {doubt}")
    return [*said, f"A ring shows the tolerance, {wording.length(scene.tolerance)} around the centre"]


def _gaps(scene: GapsScene, wording: Wording) -> list[str]:
    sign = -1.0 if scene.tape.mirrored else 1.0
    end = "near edge" if scene.to_edge else "middle"
    kind = "an example of a mark" if scene.example else "the mark"
    said = [*_tape(scene.tape, wording), f"{kind}: {wording.place(sign * scene.u, scene.v)} on the machine"]
    gaps = [way for way in WAYS if scene.gap(way)]
    said.append(f"Straight lines lead from the rim to the mark's {end}: {', '.join(gaps) or 'none'}")
    return [*said, f"The one on the picture's {scene.asked} is asked for" if scene.asked else ""]


def _bed(scene: BedScene, wording: Wording) -> list[str]:
    def station(dot: StationDot) -> str:
        mark = f", {wording.place(dot.u, dot.v)} on its tape" if dot.u is not None and dot.v is not None else ""
        return f"{dot.name}: {dot.state}{mark}"

    said = [f"The bed from above, front at the bottom, mirrors on the {scene.side}", *map(station, scene.stations)]
    return [*said, f"The head is at {wording.head(*scene.head)}" if scene.head else ""]


def _path(scene: PathScene) -> list[str]:
    said = [
        f"From the tube at the back to mirror 1 in the back {scene.side} corner, forward to mirror 2 on the gantry, "
        f"across to the head"
    ]
    asked = "the tube" if scene.tube else {1: "mirror 1", 2: "mirror 2", 3: "the head"}.get(scene.mirror or 0)
    if asked:
        said.append(f"{asked}: {scene.sign}")
    for right, back in scene.ways:
        ways = (("right", "left", right), ("to the back", "to the front", back))
        said += [f"An arrow points {plus if way > 0 else minus}" for plus, minus, way in ways if way]
    return [*said, f"Leg {scene.leg} is the one that is judged" if scene.leg else ""]


def _move(scene: MoveScene, wording: Wording) -> list[str]:
    ways = (
        ("to the right", "to the left", scene.right),
        ("to the back", "to the front", scene.back),
        ("up", "down", scene.up),
    )
    moved = [f"{wording.length(abs(way))} {plus if way > 0 else minus}" for plus, minus, way in ways if way]
    return [f"As seen from the machine's front, the {scene.part} goes {' and '.join(moved) or 'nowhere'}"]


def _mount(scene: MountScene, wording: Wording) -> list[str]:
    said = []
    for point in scene.points:
        place = wording.place(point.x, point.y)
        words = wording.turns(point.turns) if point.turns else None
        turn = f", to be turned {words.direction.lower()} by {words.ticks}, {words.degrees}" if words else ""
        said.append(f"{point.kind} {point.name}, seen from the mirror's centre: {place}{turn}")
    return [*said, *scene.caption]


def _head_sizes(scene: HeadSizesScene, wording: Wording) -> list[str]:
    curved = f", its curved side {scene.curved}" if scene.curved else ""
    said = [
        f"The beam comes in from the {scene.side}, and mirror 3 sends it down",
        f"{wording.length(scene.hangs)} below mirror 3 the lens{curved}",
        f"{wording.length(scene.focal)} below the lens the focus, {wording.length(scene.gap)} below the nozzle",
        f"The nozzle's hole is {wording.length(scene.hole)} wide",
    ]
    other = "right" if scene.side == "left" else "left"
    said.append(f"Mirror 3's screws are looked at from the {other}" if scene.asked == "screws" else "")
    return [*said, *scene.words[:1]]


def _plan(scene: PlanScene, wording: Wording) -> list[str]:
    said = [
        f"Front at the bottom, mirrors on the {scene.side}",
        f"Travel {wording.length(scene.width)} from left to right, {wording.length(scene.depth)} from front to back",
        f"From mirror 1 to mirror 2 {wording.length(scene.gap1)} with the gantry at the very back",
        f"From mirror 2 to the head {wording.length(scene.gap2)} with the head at the mirrors' side",
    ]
    said += [f"{name}: {words[0]}" for name, words in scene.words if name and words]
    return [*said, f"Asked about: {scene.asked}" if scene.asked else ""]


def _compared(stations: tuple[Compared, ...], adjusted: bool, wording: Wording) -> list[str]:
    """Station by station, how far from the centre; a reader aloud has no columns."""
    rows = (" ".join(row.split()).replace(" → ", ", then ") for row in figures(stations, adjusted, wording))
    return ["Distances from the opening's centre, station by station", *rows]
