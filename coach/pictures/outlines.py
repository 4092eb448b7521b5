"""Figures as elements of SVG, without masks, which not every reader of SVG draws alike."""

import math
from collections.abc import Iterator
from xml.etree import ElementTree as ET

from coach.pictures import figures
from coach.pictures.figures import Figure
from coach.pictures.inks import Attributes, Ink, add, number

STEPS = 180
"""Straight pieces of an oval of which only parts are drawn."""


class Outlines:
    """Draws figures; what clips them is kept among the definitions, with ids that begin with a name."""

    def __init__(self, definitions: ET.Element, name: str) -> None:
        self.definitions, self.name = definitions, name
        self._clips: dict[Figure, str] = {}

    def draw(self, parent: ET.Element, figure: Figure, ink: Ink, grown: float = 0.0) -> None:
        """A figure in that ink, larger all around by so much.  Raises TypeError for one that would need a mask."""
        match figure:
            case figures.Union(parts):
                for part in parts:
                    self.draw(parent, part, ink, grown)
            case figures.Grown(of, by):
                self.draw(parent, of, ink, grown + by)
            case figures.Outline(of, thick):
                self._edge(parent, of, ink, thick / 2 + grown)
            case figures.Oval() | figures.Line() | figures.Arc():
                tag, shape = _line(figure)
                ends = "round" if isinstance(figure, figures.Line) else "butt"
                add(parent, tag, shape | ink.line(figure.thick + 2 * grown, ends))
            case figures.Ellipse() | figures.Box() | figures.Polygon() | figures.Sector():
                tag, shape = _filled(figure)
                add(parent, tag, shape | ink.fill(grown))
            case _:
                raise TypeError(f"cannot be drawn: {figure!r}")

    def clipped(self, parent: ET.Element, clip: Figure | None) -> ET.Element:
        """Where only what lies within that figure is seen."""
        if clip is None:
            return parent
        if clip not in self._clips:
            self._clips[clip] = f"{self.name}-{len(self._clips) + 1}"
            self.draw(add(self.definitions, "clipPath", id=self._clips[clip]), clip, Ink("black"))
        return add(parent, "g", {"clip-path": f"url(#{self._clips[clip]})"})

    def _edge(self, parent: ET.Element, of: Figure, ink: Ink, half: float) -> None:
        """The edge of a filled figure, so much to either side."""
        if isinstance(of, figures.Union):
            ovals = list(_ovals(of))
            for oval in ovals:
                if path := _outside(oval, [other for other in ovals if other is not oval]):
                    add(parent, "path", {"d": path} | ink.line(2 * half, "round"))
        elif isinstance(of, figures.Ellipse | figures.Box | figures.Polygon | figures.Sector):
            tag, shape = _filled(of)
            add(parent, tag, shape | ink.line(2 * half))
        else:
            raise TypeError(f"no filled figure: {of!r}")


def _ovals(figure: Figure) -> Iterator[figures.Ellipse]:
    """All that are within unions.  Raises TypeError for any other figure: the edge of both together is not known."""
    match figure:
        case figures.Union(parts):
            for part in parts:
                yield from _ovals(part)
        case figures.Ellipse():
            yield figure
        case _:
            raise TypeError(f"no edge is known for: {figure!r}")


def _outside(oval: figures.Ellipse, others: list[figures.Ellipse]) -> str:
    """The parts of an oval's line that lie within none of the others."""
    moves, drawn = [], False
    for step in range(STEPS + 1):
        angle = step * math.tau / STEPS
        x, y = oval.x + oval.a * math.cos(angle), oval.y + oval.b * math.sin(angle)
        free = all(math.hypot((x - o.x) / o.a, (y - o.y) / o.b) >= 1 for o in others)
        if free:
            moves.append(f"{'L' if drawn else 'M'}{number(x)},{number(y)}")
        drawn = free
    return " ".join(moves)


def _filled(figure: figures.Ellipse | figures.Box | figures.Polygon | figures.Sector) -> tuple[str, Attributes]:
    """The element's name and what tells its shape."""
    match figure:
        case figures.Ellipse(x, y, a, b) if a == b:
            return "circle", {"cx": x, "cy": y, "r": a}
        case figures.Ellipse(x, y, a, b):
            return "ellipse", {"cx": x, "cy": y, "rx": a, "ry": b}
        case figures.Box(x0, y0, x1, y1, corner):
            return "rect", {"x": x0, "y": y0, "width": max(x1 - x0, 0.0), "height": max(y1 - y0, 0.0), "rx": corner}
        case figures.Polygon(corners):
            return "polygon", {"points": " ".join(f"{number(x)},{number(y)}" for x, y in corners)}
        case figures.Sector(x, y, radius, start, sweep):
            if abs(sweep) >= math.tau - 1e-9:
                return _filled(figures.Ellipse(x, y, radius, radius))
            return "path", {"d": f"M{number(x)},{number(y)} L{_along(x, y, radius, start, sweep)} Z"}


def _line(figure: figures.Oval | figures.Line | figures.Arc) -> tuple[str, Attributes]:
    """The same of a figure that is a line."""
    match figure:
        case figures.Line(x0, y0, x1, y1, _):
            return "line", {"x1": x0, "y1": y0, "x2": x1, "y2": y1}
        case figures.Oval(x, y, a, b, _, period, along):
            tag, shape = _filled(figures.Ellipse(x, y, a, b))
            if period:
                shape |= {"stroke-dasharray": f"{number(0.6 * period)} {number(0.4 * period)}",
                          "stroke-dashoffset": 0.3 * period, "pathLength": along}  # fmt: skip
            return tag, shape
        case figures.Arc(x, y, radius, start, sweep, _):
            if abs(sweep) >= math.tau - 1e-9:
                return _filled(figures.Ellipse(x, y, radius, radius))
            return "path", {"d": f"M{_along(x, y, radius, start, sweep)}"}


def _along(x: float, y: float, radius: float, start: float, sweep: float) -> str:
    """From the one end of an arc to the other."""
    (x0, y0), (x1, y1) = (
        (x + radius * math.cos(angle), y + radius * math.sin(angle)) for angle in (start, start + sweep)
    )
    flags = f"{int(abs(sweep) > math.pi)} {int(sweep > 0)}"
    return f"{number(x0)},{number(y0)} A{number(radius)} {number(radius)} 0 {flags} {number(x1)},{number(y1)}"
