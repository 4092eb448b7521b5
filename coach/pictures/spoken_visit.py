"""The pictures of a visit's other parts in words: optics, bed, cuts, head, nozzle, card and pointer."""

from coach.pictures.optics_path import OpticsScene
from coach.pictures.view import Scene
from coach.shown import Wording


def of_the_visit(scene: Scene, wording: Wording) -> tuple[str, list[str]]:
    """Title and sentences.  Raises TypeError for a scene that nobody put into words."""
    match scene:
        case OpticsScene():
            return "The optics in the beam's order", _optics(scene)
        case _:
            raise TypeError(f"no words for {type(scene).__name__}")


def _optics(scene: OpticsScene) -> list[str]:
    return [f"From the tube on, mirrors on the {scene.side}", *(optic.said for optic in scene.optics)]
