"""Scenes as SVG: exact figures, real text, title and description for who does not see it, for light and dark grounds.

Nothing is fetched from anywhere: colours stand at each element, once more for dark grounds in a style of its own, and
fonts are those of the reader.  The unit of length is a column's width, as on a raster.
"""

import re
from xml.etree import ElementTree as ET

from coach.pictures.inks import NAMESPACE, Attributes, Ink, add, hexadecimal, style
from coach.pictures.labels import Anchor, Label
from coach.pictures.outlines import Outlines
from coach.pictures.palette import DARK, LIGHT, Palette, Role
from coach.pictures.sheet import Sheet
from coach.pictures.spoken import spoken
from coach.pictures.view import Scene
from coach.shown import Wording

FONTS = "system-ui, 'Segoe UI', Roboto, 'Helvetica Neue', 'Noto Sans', 'DejaVu Sans', Arial, sans-serif"
LETTER = 1.55
"""The size of letters, column widths: words then take no more room than in cells."""
BASE = 0.72
"""The line on which letters stand, as a share of a row from its top."""
COLUMN = 10.0
"""Pixels that a column is wide unless the page says otherwise."""
MARGIN = 1.0
"""Column widths around everything."""
ANCHORS: dict[Anchor, tuple[str, float]] = {"left": ("start", 0.0), "center": ("middle", 0.5), "right": ("end", 1.0)}
"""What of a text stands at its place, and how far along the text that is."""


def svg(scene: Scene, wording: Wording, columns: int = 66, rows: int = 30, *, name: str = "picture") -> str:
    """A whole file; `columns` × `rows` of a terminal decide what there is room for.  Raises as `drawing`."""
    return ET.tostring(drawing(scene, wording, columns, rows, name=name), encoding="unicode") + "\n"


def drawing(
    scene: Scene,
    wording: Wording,
    columns: int = 66,
    rows: int = 30,
    *,
    name: str = "picture",
    palette: Palette = LIGHT,
    dark: Palette | None = DARK,
) -> ET.Element:
    """The `svg` element, for a page where no other has that name; `dark`: its colours where the reader's ground is.

    Raises ValueError for a name that cannot be an id, TypeError for a scene that nobody put into words.
    """
    if not re.fullmatch(r"[A-Za-z][\w-]*", name):
        raise ValueError(f"{name!r} cannot be the id of an element")
    ET.register_namespace("", NAMESPACE)
    title, description = spoken(scene, wording)
    sheet = Sheet(columns, rows)
    scene.draw(sheet, wording)
    root = ET.Element(f"{{{NAMESPACE}}}svg", {"role": "img", "aria-labelledby": f"{name}-title {name}-description"})
    wide, high = sheet.width + 2 * MARGIN, sheet.height + 2 * MARGIN
    root.set("viewBox", f"{-MARGIN:g} {-MARGIN:g} {wide:g} {high:g}")
    root.set("width", f"{COLUMN * wide:g}")
    root.set("height", f"{COLUMN * high:g}")
    add(root, "title", id=f"{name}-title").text = title
    add(root, "desc", id=f"{name}-description").text = description
    if dark is not None:
        add(root, "style").text = style(dark)
    around: Attributes = {"x": -MARGIN, "y": -MARGIN, "width": wide, "height": high}
    _Writer(root, name, palette, around).page(sheet)
    return root


class _Writer:
    """Everything of one sheet, in the order in which it lies."""

    def __init__(self, root: ET.Element, name: str, palette: Palette, around: Attributes) -> None:
        self.root, self.palette, self.around = root, palette, around
        self.outlines = Outlines(add(root, "defs"), name)

    def ink(self, role: Role) -> Ink:
        return Ink(hexadecimal(self.palette, role), role.name.lower())

    def page(self, sheet: Sheet) -> None:
        add(self.root, "rect", self.around | self.ink(Role.GROUND).fill())
        page = add(self.root, "g", {"font-family": FONTS, "font-size": LETTER})
        self.sheet(page, sheet)

    def sheet(self, parent: ET.Element, sheet: Sheet) -> None:
        for painted in sheet.painted:
            group = self.outlines.clipped(parent, painted.clip)
            if painted.opacity < 1:
                group = add(group, "g", {"opacity": painted.opacity})
            self.outlines.draw(group, painted.figure, self.ink(painted.role))
        for column, row, part in sheet.parts:
            self.sheet(add(parent, "g", transform=f"translate({column} {row * sheet.aspect:g})"), part)
        for label in sheet.placed:
            self.label(parent, sheet, label)

    def label(self, parent: ET.Element, sheet: Sheet, label: Label) -> None:
        """A text on a piece of the ground that is there, so that no line runs through it."""
        wide, top = len(label.text), label.row * sheet.aspect
        for role, opacity in sheet.below(label.column + wide / 2, label.row):
            box: Attributes = {
                "x": label.column - 0.2,
                "y": top + 0.1,
                "width": wide + 0.4,
                "height": sheet.aspect - 0.2,
            }
            add(parent, "rect", {**box, "opacity": opacity, **self.ink(role).fill()})
        anchor, along = ANCHORS[label.anchor]
        place: Attributes = {"x": label.column + along * wide, "y": top + BASE * sheet.aspect, "text-anchor": anchor}
        weight: Attributes = {"font-weight": "bold"} if label.bold else {}
        add(parent, "text", {**place, **weight, **self.ink(label.role).fill()}).text = label.text
