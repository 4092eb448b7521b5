"""Pictures as SVG are claims too: everything lies where the scene's mm put it, and the words say the same."""

import math
import re
from dataclasses import replace
from xml.etree import ElementTree as ET

import numpy as np
import pytest
from machines import make_machine
from test_pictures import BED, SCENES
from test_truth import WAYS, faces_by_the_trace

from coach.advice.advice import Shot
from coach.pictures.aperture import ApertureScene
from coach.pictures.beside import BesideScene
from coach.pictures.compare import CompareScene
from coach.pictures.compared import Compared
from coach.pictures.gaps import GapsScene
from coach.pictures.head_sizes import HeadSizesScene
from coach.pictures.inks import NAMESPACE
from coach.pictures.marks_shown import ExpectedMark, MarkShown
from coach.pictures.opening import OpeningScene
from coach.pictures.palette import DARK, LIGHT, Palette, Role
from coach.pictures.path import PathScene
from coach.pictures.plan import PlanScene
from coach.pictures.sheet import Sheet
from coach.pictures.svg import drawing, svg
from coach.pictures.view import Scene
from coach.reading.face import mirrored
from coach.scenes.of_step import aperture_scene, mount_scene, move_scene
from coach.shown import IN_MM
from coach.steps.about import ScrewTask, ShiftTask

TAPE = ApertureScene(18.0, 11.0, 1.0, view_radius=11.44)
STATIONS = (
    Compared("back-left", (1.2, -2.4), (0.4, 0.2)),
    Compared("middle", (3.4, 1.9), None, (0.2, 0.1), (0.6, 0.7)),
    Compared("front-left", (5.5, 3.0), None, (0.4, 0.5), (1.1, 0.9)),
)
ALL: dict[str, Scene] = SCENES | {
    "gaps": GapsScene(TAPE, 2.0, 1.0, 2.0, asked="left"),
    "opening": OpeningScene(TAPE, (("opening 18 mm",), ("tape to 11 mm",), ("good to 1 mm",)), 0),
    "compare": CompareScene(18.0, 1.0, STATIONS),
    "beside": BesideScene(18.0, 1.0, STATIONS),
    "plan": PlanScene(600, 400, "left", 150, 120, words=(("width", ("600 mm",)),), asked="width"),
    "head's sizes": HeadSizesScene(
        "left", 50.8, 8, 2.5, 70, "up", asked="focal", words=("lens, focal length: 50.8 mm",)
    ),
    "move": move_scene(make_machine(), ShiftTask("head", up=-0.5, right=0.0, back=1.2), IN_MM),
}


def read(scene: Scene) -> ET.Element:
    """The picture as whoever opens the file reads it."""
    return ET.fromstring(svg(scene, IN_MM))


def found(root: ET.Element, tag: str, kind: str, role: Role) -> list[dict[str, str]]:
    """The elements of that name that have a part's colour, as "fill" or "stroke"."""
    elements = root.iter(f"{{{NAMESPACE}}}{tag}")
    return [e.attrib for e in elements if f"coach-{kind}-{role.name.lower()}" in e.get("class", "").split()]


def values(element: dict[str, str], *names: str) -> np.ndarray:
    return np.array([float(element[name]) for name in names])


def code(palette: Palette, role: Role) -> str:
    """A part's colour as the web writes it."""
    return "#{:02X}{:02X}{:02X}".format(*palette.inks[role].rgb)


@pytest.mark.parametrize("name", ALL)
def test_a_file_stands_alone_and_says_what_it_shows(name: str) -> None:
    """Well-formed; title and description first; the words of the picture as text; nothing from elsewhere."""
    text, sheet = svg(ALL[name], IN_MM), Sheet(66, 30)
    root = ET.fromstring(text)
    assert [child.tag.partition("}")[2] for child in root][:3] == ["title", "desc", "style"]
    assert root.get("role") == "img"
    ids = [element.get("id") for element in root.iter() if element.get("id")]
    assert root.get("aria-labelledby") == " ".join(ids[:2])
    assert len(set(ids)) == len(ids)
    assert all(part.startswith("picture-") for part in ids)
    assert all(child.text and child.text.strip() for child in root[:2])
    assert set(re.findall(r"url\(([^)]*)\)", text)) <= {f"#{part}" for part in ids}
    assert not re.search(r"href|<script|<image|@import|@font-face|https?://(?!www\.w3\.org/2000/svg\")", text)
    ALL[name].draw(sheet, IN_MM)
    own = [label.text for label in sheet.placed]
    panes = [label.text for _, _, part in sheet.parts for label in part.placed]
    assert sorted(e.text or "" for e in root.iter(f"{{{NAMESPACE}}}text")) == sorted(own + panes)


def test_colours_follow_the_readers_ground() -> None:
    """Each part has its colour on a light ground at its element, and on a dark one in the style that goes before."""
    root = read(ALL["aperture"])
    style = root[2].text or ""
    assert style.startswith("@media (prefers-color-scheme: dark)")
    for role in set(Role) - {Role.GROUND}:
        for kind in ("fill", "stroke"):
            assert f".coach-{kind}-{role.name.lower()}{{{kind}:{code(DARK, role)}}}" in style
    assert {m["fill"] for m in found(root, "circle", "fill", Role.MARK)} == {code(LIGHT, Role.MARK)}
    assert drawing(ALL["aperture"], IN_MM, dark=None).find(f"{{{NAMESPACE}}}style") is None


@pytest.mark.parametrize("name", ["", "1st", "a b", 'a"b'])
def test_a_name_that_cannot_be_an_id_is_refused(name: str) -> None:
    """It would break the page that the picture is put into."""
    with pytest.raises(ValueError, match="id"):
        svg(TAPE, IN_MM, name=name)


def test_a_scene_without_words_is_refused() -> None:
    """No picture without a description."""

    class Nothing:
        def draw(self, raster: object, wording: object) -> None:
            """Nothing."""

    with pytest.raises(TypeError, match="Nothing"):
        svg(Nothing(), IN_MM)


# -- the tape -------------------------------------------------------------------------------------


@pytest.mark.parametrize("face", ["outer", "sticky"])
@pytest.mark.parametrize(("u", "v"), [(4.2, -3.1), (-5.0, 2.0), (0.3, 6.0)])
def test_marks_lie_where_they_were_measured(u: float, v: float, face: str) -> None:
    """In mm of the rim drawn around them, which is 18 mm wide: exactly, on either face; the words name the machine's
    side.
    """
    seen = mirrored(u, v, face)
    scene = aperture_scene(make_machine(), Shot("middle", 300, 200, "head", 0.0, 0.0, 1.0), sticky=face == "sticky")
    scene = replace(scene, marks=(MarkShown(*seen, diameter=3.0),), expected=ExpectedMark(-1.0, 2.0, 1.2, 0.8))
    root = read(scene)
    (rim,) = found(root, "circle", "stroke", Role.RIM)
    middle, per_mm = values(rim, "cx", "cy"), float(rim["r"]) / (scene.aperture / 2)
    mark = found(root, "circle", "fill", Role.MARK)[0]
    assert (values(mark, "cx", "cy") - middle) / per_mm == pytest.approx([seen[0], -seen[1]], abs=1e-3)
    (oval,) = found(root, "ellipse", "stroke", Role.EXPECTED)
    assert (values(oval, "cx", "cy") - middle) / per_mm == pytest.approx([-1.0, -2.0], abs=1e-3)
    assert values(oval, "rx", "ry") / per_mm == pytest.approx([1.2, 0.8], abs=1e-3)
    tolerance = found(root, "circle", "stroke", Role.TOLERANCE)[0]
    assert [*values(tolerance, "cx", "cy"), float(tolerance["r"]) / per_mm] == pytest.approx([*middle, 1.0], abs=1e-3)
    said = root[1].text or ""
    assert f"Mark: {IN_MM.place(u, v)} on the machine" in said
    words = [element.text for element in root.iter(f"{{{NAMESPACE}}}text")]
    assert ("left →" if face == "sticky" else "right →") in words
    assert ("sticky side" in said) == (face == "sticky")


# -- plans ----------------------------------------------------------------------------------------


@pytest.mark.parametrize("side", ["left", "right"])
def test_stations_lie_where_they_are(side: str) -> None:
    """x to the right and y to the back, by one scale."""
    stations = tuple(replace(s, state="todo", u=None, v=None) for s in BED.stations)
    root = read(replace(BED, side=side, stations=stations, head=None))
    drawn = np.array([values(e, "cx", "cy") for e in found(root, "circle", "stroke", Role.TODO)])
    places = np.array([(s.x, -s.y) for s in stations])
    per_mm = np.ptp(drawn[:, 0]) / np.ptp(places[:, 0])
    assert (drawn - drawn[0]) / per_mm == pytest.approx(places - places[0], abs=0.02)


@pytest.mark.parametrize("side", ["left", "right"])
def test_mirrors_lie_as_the_beam_is_reflected(side: str) -> None:
    """Each plate runs as the face that the trace reflects at (law of reflection: Hecht, Optics), to half a degree."""
    lines = found(read(PathScene(600, 400, side, (300, 120))), "line", "stroke", Role.METAL)
    plates = sorted((values(line, "x1", "y1", "x2", "y2") for line in lines), key=lambda ends: ends[1] + ends[3])
    for plate, face in zip(plates, faces_by_the_trace(side), strict=True):
        along = (plate[2:] - plate[:2]) / np.hypot(*(plate[2:] - plate[:2]))
        assert abs(along @ face) > math.cos(math.radians(0.5))


@pytest.mark.parametrize("side", ["left", "right"])
@pytest.mark.parametrize("amount", [1.2, -1.2])
@pytest.mark.parametrize(
    ("part", "way"), [("mirror 1", "right"), ("mirror 2", "right"), ("head", "up"), ("tube", "back")]
)
def test_an_arrow_points_the_way_that_a_part_goes(part: str, way: str, amount: float, side: str) -> None:
    """From the middle of its base to its tip, and in words; the other way the arrow is the other."""
    machine = make_machine().model_copy(deep=True)
    machine.path.__dict__["side"] = side

    def heads(by: float) -> tuple[set[str], str]:
        amounts = {"up": 0.0, "right": 0.0, "back": 0.0} | {way: by}
        root = read(move_scene(machine, ShiftTask(part, **amounts), IN_MM))
        return {e["points"] for e in found(root, "polygon", "fill", Role.FOCUS)}, root[1].text or ""

    (points,) = heads(amount)[0] - heads(-amount)[0]
    tip, *base = (np.array([float(value) for value in corner.split(",")]) for corner in points.split())
    ahead = tip - sum(base) / 2
    assert ahead / np.hypot(*ahead) == pytest.approx(np.array(WAYS[way]) * np.sign(amount), abs=1e-3)
    words = {"right": ("right", "left"), "back": ("back", "front"), "up": ("up", "down")}[way][amount < 0]
    assert re.search(rf"1\.2 mm (to the )?{words}\b", heads(amount)[1])


# -- turns ----------------------------------------------------------------------------------------


@pytest.mark.parametrize("turns", [1 / 60, 0.125, -0.125, 0.6, -0.9])
def test_the_wedge_is_the_turn(turns: float) -> None:
    """From twelve o'clock, clockwise for someone facing the head where it is positive, and said so."""
    root = read(mount_scene(make_machine(), ScrewTask(1, "B", turns, 1, 2), IN_MM))
    wedge = next(e["d"] for e in found(root, "path", "fill", Role.FOCUS) if e["d"].endswith("Z"))
    x, y, x0, y0, radius, _, _, large, clockwise, x1, y1 = map(float, re.findall(r"-?[\d.]+", wedge))
    assert (x0 - x, y0 - y) == pytest.approx((0.0, -radius), abs=2e-3)
    assert (math.atan2(x1 - x, y - y1) / math.tau - turns + 0.5) % 1 - 0.5 == pytest.approx(0.0, abs=1e-3)
    assert (clockwise, large) == (turns > 0, abs(turns) > 0.5)
    assert f"turned {IN_MM.turns(turns).direction.lower()} by" in (root[1].text or "")
