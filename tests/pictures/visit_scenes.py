"""Scenes of a visit's other parts, as they are drawn in tests: whole, in part, and with nothing known."""

import math
from datetime import date

from coach.pictures.bed_card import CardScene
from coach.pictures.bed_gaps import BedGapsScene
from coach.pictures.cut_bed import CutBedScene
from coach.pictures.cut_ladder import CutsScene
from coach.pictures.cuts_shown import CutShown, Limits
from coach.pictures.head_shown import HeadShown
from coach.pictures.head_views import HeadScene
from coach.pictures.nozzle import NozzleScene
from coach.pictures.optic_faces import OpticShown
from coach.pictures.optics_path import OpticsScene
from coach.pictures.over_time import OverTimeScene, VisitShown
from coach.pictures.pointer_spots import PointerScene
from coach.pictures.view import Scene

OPTICS = (
    OpticShown("combiner", "clean"),
    OpticShown("mirror 1", "haze"),
    OpticShown("mirror 2", None, now=True),
    OpticShown("mirror 3"),
    OpticShown("lens", "not opened"),
)

PLACES = {
    "back-left": (20.0, 380.0),
    "back-right": (580.0, 380.0),
    "middle": (300.0, 200.0),
    "front-right": (580.0, 20.0),
    "front-left": (20.0, 20.0),
}


def cuts(now: dict[str, Limits], before: dict[str, Limits] | None = None, at: str = "") -> tuple[CutShown, ...]:
    """The stations with what was cut there; `at` is the one whose turn it is."""
    return tuple(
        CutShown(name, now.get(name), (before or {}).get(name), name == at, *place) for name, place in PLACES.items()
    )


CUT = {
    "back-left": (20.0, 22.0), "back-right": (18.0, 20.0), "middle": (18.0, 20.0), "front-right": (12.0, 13.2),
    "front-left": (22.0, 24.2),
}  # fmt: skip
BEFORE = dict.fromkeys(PLACES, (22.0, 24.2))
PART = {"back-left": (20.0, 22.0), "back-right": (0.0, 10.0), "middle": (24.2, math.inf)}

GAPS = {"front_left": 5.0, "front_right": 6.2, "back_left": 5.1, "back_right": 6.0}

LEANING = HeadShown(lean=(0.9, -0.5), give=0.3, nozzle=(0.4, 0.1), slope=(0.2, -0.1), clipped=0.03)

VISIT: dict[str, Scene] = {
    "optics": OpticsScene(OPTICS),
    "optics, right": OpticsScene(OPTICS[1:], "right"),
    "optics, none looked at": OpticsScene(tuple(OpticShown(optic.name) for optic in OPTICS[1:])),
    "no optics": OpticsScene(()),
    "gaps of the bed": BedGapsScene(600.0, 400.0, GAPS, 0.46),
    "gaps alike": BedGapsScene(600.0, 400.0, dict.fromkeys(GAPS, 5.0), 0.46),
    "gaps, lens unknown": BedGapsScene(900.0, 600.0, GAPS | {"front_left": 12.4}),
    "gaps, some": BedGapsScene(600.0, 400.0, {"back_left": 6.4, "front_left": 5.0}, 0.46, "front_right"),
    "gaps, none": BedGapsScene(600.0, 400.0, {}, 0.46, "front_left"),
    "nozzle": NozzleScene(2.5, 0.2, (0.6, -0.5), 0.55, 0.04),
    "nozzle, far off": NozzleScene(2.5, 0.2, (-2.4, 1.0), 0.55, 1.0),
    "nozzle, beam unknown": NozzleScene(2.5, 0.2, (0.0, 0.1)),
    "nozzle, none": NozzleScene(4.0, 0.2, beam=0.55),
    "nozzle, nothing came": NozzleScene(2.5, 0.2, nothing_came=True),
    "head": HeadScene(LEANING),
    "head, right": HeadScene(HeadShown(lean=(-6.0, 4.0), nozzle=(-1.1, 0.3), clipped=0.4), "right", "mirror 3"),
    "head, upright": HeadScene(HeadShown(lean=(0.01, 0.0), nozzle=(0.0, 0.0), clipped=0.002)),
    "head, nozzle alone": HeadScene(HeadShown(nozzle=(0.7, -0.2), clipped=0.08), part="lens"),
    "head, nothing": HeadScene(HeadShown()),
    "card": CardScene((1.2, -0.4), (-0.8, 1.6), 150.0, lens=False),
    "card, upright": CardScene((1.2, -0.4), (1.3, -0.3), 150.0, 20.0),
    "card, far off": CardScene((24.0, -0.4), (-30.0, 1.6), 170.0),
    "card, one": CardScene((3.2, -2.4), None, 170.0),
    "card, none": CardScene(),
    "pointer": PointerScene((1.2, -0.4), (-0.8, 0.6), 20.0),
    "pointer, on the mark": PointerScene((0.1, -0.2), (0.0, 0.0), 20.0),
    "pointer, one": PointerScene((13.2, -2.4)),
    "pointer, none": PointerScene(),
    "cuts": CutsScene(cuts(CUT, BEFORE), "baseline"),
    "cuts, some": CutsScene(cuts(PART, at="front-right")),
    "cuts, none": CutsScene(cuts({}, at="back-left"), ladder=(10.0, 11.0, 12.1, 13.3, 14.6)),
    "no stations": CutsScene(()),
    "cuts on the bed": CutBedScene(600.0, 400.0, "left", cuts(CUT, BEFORE)),
    "cuts on the bed, some": CutBedScene(600.0, 400.0, "right", cuts(PART, at="front-right")),
    "cuts on a long bed": CutBedScene(1300.0, 300.0, "left", cuts({})),
    "over time": OverTimeScene(
        (VisitShown(date(2026, 1, 1), 3.0, 0.2, 1), VisitShown(date(2026, 4, 11), 2.0, 0.2, 2, chosen=True)), 1.0
    ),
}
