"""Prints the coach's pictures in this terminal, to be looked at, or writes them as SVG.

python tests/figures/pictures.py [MODE] [COLUMNS] [ROWS]     MODE: smooth, ansi, glyph or ascii; 44 columns, 20 rows
python tests/figures/pictures.py svg FOLDER
"""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))
sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "pictures"))

from rich.console import Console
from rich.style import Style
from rich.text import Text
from test_svg import ALL
from visit_scenes import VISIT

from coach.pictures.modes import RasterMode
from coach.pictures.svg import svg
from coach.pictures.view import Scene, render
from coach.shown import IN_MM
from coach.tui.widgets.strips import to_strips

SCENES: dict[str, Scene] = ALL | VISIT
"""Every kind of picture that there is: a test looks whether one is missing."""


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
