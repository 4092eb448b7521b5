"""Scenes of a visit's other parts, as they are drawn in tests: whole, in part, and with nothing known."""

from coach.pictures.optic_faces import OpticShown
from coach.pictures.optics_path import OpticsScene
from coach.pictures.view import Scene

OPTICS = (
    OpticShown("combiner", "clean"),
    OpticShown("mirror 1", "haze"),
    OpticShown("mirror 2", None, now=True),
    OpticShown("mirror 3"),
    OpticShown("lens", "not opened"),
)

VISIT: dict[str, Scene] = {
    "optics": OpticsScene(OPTICS),
    "optics, right": OpticsScene(OPTICS[1:], "right"),
    "optics, none looked at": OpticsScene(tuple(OpticShown(optic.name) for optic in OPTICS[1:])),
    "no optics": OpticsScene(()),
}
