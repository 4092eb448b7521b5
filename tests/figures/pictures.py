"""Prints the coach's pictures in this terminal, to be looked at, or writes them as SVG.

python tests/figures/pictures.py [MODE] [COLUMNS] [ROWS]     MODE: smooth, ansi, glyph or ascii; 44 columns, 20 rows
python tests/figures/pictures.py svg FOLDER
"""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent / "pictures"))

from rich.console import Console
from rich.style import Style
from rich.text import Text
from visit_scenes import VISIT

from coach.pictures.aperture import ApertureScene, ExpectedMark, MarkShown
from coach.pictures.bed import BedScene, StationDot
from coach.pictures.modes import RasterMode
from coach.pictures.mount import MountScene, PointShown
from coach.pictures.path import PathScene
from coach.pictures.svg import svg
from coach.pictures.view import Scene, render
from coach.shown import IN_MM
from coach.tui.widgets.strips import to_strips

SCENES: dict[str, Scene] = VISIT | {
    "a mark near its expected place": ApertureScene(
        18.0, 11.0, 1.0, (MarkShown(2.4, 1.1), MarkShown(-3.0, 2.0, "before")), ExpectedMark(2.0, 1.5, 0.8, 0.8)
    ),
    "the stations": BedScene(
        600.0,
        400.0,
        "left",
        (
            StationDot("back-left", 20.0, 380.0, "done", u=1.2, v=-0.4),
            StationDot("back-right", 580.0, 380.0, "now"),
            StationDot("middle", 300.0, 200.0, "missed"),
            StationDot("front-right", 580.0, 20.0),
            StationDot("front-left", 20.0, 20.0),
        ),
        (580.0, 380.0),
    ),
    "the beam's path": PathScene(600.0, 400.0, "left", (300.0, 200.0), mirror=2, leg=2),
    "a mount": MountScene(
        (
            PointShown("A", -20.0, -20.0, "pivot"),
            PointShown("B", 20.0, -20.0, "screw", 0.125),
            PointShown("C", -20.0, 20.0, "screw"),
        ),
        ("B: ⅛ turn, 45°", "clockwise"),
    ),
}


def main(mode: str = "smooth", columns: str = "44", rows: str = "20") -> None:
    """All pictures, one below the other."""
    console = Console()
    for name, scene in SCENES.items():
        console.rule(name)
        raster = render(scene, int(columns), int(rows), RasterMode(mode), wording=IN_MM)
        for strip in to_strips(raster.cells(), Style()):
            console.print(Text.assemble(*((part.text, part.style or "") for part in strip)), soft_wrap=True)


def write(folder: Path) -> None:
    """All pictures as files, one for each."""
    folder.mkdir(parents=True, exist_ok=True)
    for name, scene in SCENES.items():
        (folder / f"{name}.svg").write_text(svg(scene, IN_MM), encoding="utf-8")


if __name__ == "__main__":
    if sys.argv[1:2] == ["svg"]:
        write(Path(sys.argv[2]))
    else:
        main(*sys.argv[1:])
