"""The pictures of a visit's other parts in words: optics, bed, cuts, head, nozzle, card and pointer."""

from coach.pictures.bed_card import CardScene
from coach.pictures.bed_gaps import NOT_YET, BedGapsScene, verdict
from coach.pictures.cut_bed import CutBedScene
from coach.pictures.cut_ladder import CutsScene
from coach.pictures.cuts_shown import CutShown, said, slowest
from coach.pictures.flat import on_the_flat
from coach.pictures.head_shown import NOT_YET as HEAD_NOT_YET
from coach.pictures.head_views import HeadScene
from coach.pictures.nozzle import NozzleScene
from coach.pictures.optics_path import OpticsScene
from coach.pictures.over_time import OverTimeScene
from coach.pictures.pointer_spots import PointerScene
from coach.pictures.view import Scene
from coach.shown import Wording
from coach.triage.figures import CORNERS


def of_the_visit(scene: Scene, wording: Wording) -> tuple[str, list[str]]:
    """Title and sentences.  Raises TypeError for a scene that nobody put into words."""
    match scene:
        case OpticsScene():
            return "The optics in the beam's order", _optics(scene)
        case CutsScene(cuts, earlier):
            return "How fast it cuts, station by station", _cuts(cuts, earlier)
        case CutBedScene(_, _, side, cuts):
            bed = f"The bed from above, front at the bottom, mirrors on the {side}"
            return "How fast it cuts over the bed", [bed, *_cuts(cuts, "before")]
        case BedGapsScene():
            return "The gaps from head to bed", _gaps(scene, wording)
        case OverTimeScene():
            return "How far off the worst station was, visit by visit", _over_time(scene, wording)
        case NozzleScene():
            return "The tape under the nozzle, from above", _nozzle(scene, wording)
        case HeadScene():
            return "The head from two sides", _head(scene, wording)
        case CardScene():
            return "The card on the bed, from above", _card(scene, wording)
        case PointerScene():
            return "The pointer's spot beside the mark, from above", _pointer(scene, wording)
        case _:
            raise TypeError(f"no words for {type(scene).__name__}")


def _optics(scene: OpticsScene) -> list[str]:
    return [f"From the tube on, mirrors on the {scene.side}", *(optic.said for optic in scene.optics)]


def _cuts(cuts: tuple[CutShown, ...], earlier: str) -> list[str]:
    def station(cut: CutShown) -> str:
        now = "is cut now" if cut.now and not cut.limit else said(cut.limit) if cut.limit else "not cut"
        ghost = f", {earlier} {said(cut.before)}" if cut.before else ""
        return f"{cut.station}: {now}{ghost}"

    slow = sorted(slowest(cuts))
    told = "The fastest line that fell through and the next, which did not"
    return [told, *map(station, cuts), f"Slowest: {', '.join(slow)}" if slow else ""]


def _over_time(scene: OverTimeScene, wording: Wording) -> list[str]:
    def size(value: float | None) -> str:
        return "not known" if value is None else wording.length(value)

    told = [f"{each.on}: found {size(each.found)}, left {size(each.left)}" for each in scene.visits]
    if scene.happened:
        told.append(f"Something was done to it, or befell it: {', '.join(map(str, scene.happened))}")
    if scene.leaves is not None:
        soonest, latest = (str(day) if day is not None else "what is looked ahead" for day in scene.leaves)
        told.append(f"The tolerance will be left between {soonest} and {latest}")
    return [f"The tolerance is {wording.length(scene.tolerance)}", *told]


def _gaps(scene: BedGapsScene, wording: Wording) -> list[str]:
    def corner(name: str) -> str:
        figure = wording.length(scene.gaps[name]) if name in scene.gaps else NOT_YET
        rank = f", the bed is {scene.rank(name)} there" if scene.rank(name) else ""
        return f"{name.replace('_', ' ')}: {figure}{rank}"

    asked = f"{scene.asked.replace('_', ' ')} is measured now" if scene.asked else ""
    return [*map(corner, CORNERS), asked, verdict(scene, wording)[0].removeprefix("! ").removeprefix("✓ ")]


def _nozzle(scene: NozzleScene, wording: Wording) -> list[str]:
    said = [
        f"A hole {wording.length(scene.hole)} wide; right is right and back is up",
        f"Mark: {scene.said(wording)[0]}",
    ]
    if scene.beam is not None:
        said.append(f"The beam's radius there is {wording.length(scene.beam, 2)}")
    if scene.mark is not None:
        said.append(f"That is {'within' if scene.good else 'beyond'} the tolerance")
    return [*said, f"A ring shows the tolerance, {wording.length(scene.tolerance)} around the middle"]


def _head(scene: HeadScene, wording: Wording) -> list[str]:
    shown = scene.shown
    said = [f"From the front the beam comes in from the {scene.side}, goes down over mirror 3 and through the lens"]
    if shown.lean is None:
        said.append(f"Its lean is {HEAD_NOT_YET}")
    else:
        said += [f"Seen from the {view}: {shown.leans(axis)[0]}" for axis, view in enumerate(("front", "right"))]
        said.append(f"That makes {shown.over_board(wording)}")
    beside = on_the_flat(shown.nozzle, wording, 2) if shown.nozzle is not None else HEAD_NOT_YET
    said += [f"Through the nozzle: {beside}", shown.cut_off()]
    return [*said, f"In question: {scene.part}" if scene.part else ""]


def _card(scene: CardScene, wording: Wording) -> list[str]:
    said = ["Right is right and back is up"]
    if scene.high is not None:
        said.append(f"A mark with the bed {scene.first(wording)}".replace("bed usual", "bed at its usual"))
    if scene.moved is not None:
        said.append(f"With the bed {scene.lower(wording)} the mark moves: {on_the_flat(scene.moved, wording)}")
    return [*said, scene.said(wording)[0]]


def _pointer(scene: PointerScene, wording: Wording) -> list[str]:
    said = ["Right is right and back is up, places are told from the mark"]
    said += [f"{name[0]}: {scene.said(place, wording)[0].removeprefix('✓ ')}"
             for name, place in scene.heights(wording)]  # fmt: skip
    return [*said, f"A ring shows the tolerance, {wording.length(scene.tolerance)} around the mark"]
