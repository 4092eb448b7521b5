"""Elements of SVG and how they are painted."""

from collections.abc import Mapping
from dataclasses import dataclass
from xml.etree import ElementTree as ET

from coach.pictures.palette import Palette, Role

NAMESPACE = "http://www.w3.org/2000/svg"
Attributes = dict[str, str | float]


def number(value: float) -> str:
    """To a thousandth of a column's width."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def add(parent: ET.Element, tag: str, attributes: Mapping[str, str | float] | None = None, **more: str) -> ET.Element:
    """A new element within another."""
    made = {key: value if isinstance(value, str) else number(value) for key, value in (attributes or {}).items()}
    return ET.SubElement(parent, f"{{{NAMESPACE}}}{tag}", made | more)


def hexadecimal(palette: Palette, role: Role) -> str:
    """A part's colour in that palette: "#E69F00"."""
    red, green, blue = palette.ground if role is Role.GROUND else palette.inks[role].rgb
    return f"#{red:02X}{green:02X}{blue:02X}"


def style(palette: Palette) -> str:
    """The colours of all parts where the reader's ground is dark; they go before those that stand at the elements."""
    rules = (
        f".coach-{kind}-{role.name.lower()}{{{kind}:{hexadecimal(palette, role)}}}"
        for kind in ("fill", "stroke")
        for role in Role
    )
    return f"@media (prefers-color-scheme: dark){{{''.join(rules)}}}"


@dataclass(frozen=True)
class Ink:
    """A colour, and the part of a picture that has it; none where no colour is seen."""

    colour: str
    part: str = ""

    def fill(self, grown: float = 0.0) -> Attributes:
        """Attributes of a filled element, larger all around by so much."""
        line = self._line(2 * grown) | {"stroke-linejoin": "round"} if grown > 0 else {}
        return {"fill": self.colour, **line} | self._parts("fill", *(("stroke",) if grown > 0 else ()))

    def line(self, thick: float, ends: str = "butt") -> Attributes:
        """Attributes of an element that is a line of that thickness."""
        return {"fill": "none", "stroke-linecap": ends} | self._line(thick) | self._parts("stroke")

    def _line(self, thick: float) -> Attributes:
        return {"stroke": self.colour, "stroke-width": thick}

    def _parts(self, *kinds: str) -> Attributes:
        return {"class": " ".join(f"coach-{kind}-{self.part}" for kind in kinds)} if self.part else {}
