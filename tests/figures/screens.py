"""Pictures of every screen that has a golden, at several sizes and in several looks, to be looked at.

    .venv/bin/python tests/figures/screens.py out                        # all of it
    .venv/bin/python tests/figures/screens.py out screw go -s 140x45 -l dark,nocolor

Writes each as SVG and as PNG, and for each size and look one contact sheet of all names (`out/140x45-dark.png`), also
for the browser (`out/140x45-dark.html`).
"""

import argparse
import asyncio
import os
import sys
import tempfile
from contextlib import ExitStack
from pathlib import Path
from unittest.mock import patch

HERE = Path(__file__).resolve().parent
sys.path[:0] = [str(HERE.parent), str(HERE.parent / "tui"), str(HERE.parent.parent)]

from app_driving import Driver  # noqa: E402
from painted import CELL, DARK_TERMINAL, LIGHT_TERMINAL, font, painted  # noqa: E402
from PIL import Image, ImageDraw  # noqa: E402
from test_steps_golden import EVENING, Later, views  # noqa: E402

from coach import settings  # noqa: E402
from coach.pictures.modes import RasterMode  # noqa: E402
from coach.tui.app import CoachApp  # noqa: E402
from coach.tui.haste import PatientApp  # noqa: E402
from coach.tui.presses import Presses  # noqa: E402

SIZES = ("40x12", "60x20", "80x24", "100x30", "140x45")
LOOKS = ("dark", "light", "contrast", "ansi-dark", "ansi-light", "nocolor", "ascii")
FONT = "DejaVu Sans Mono"
GAP = 12
"""Pixels between the pictures of a sheet."""


async def draw(name: str, sizes: list[str], look: str, out: Path) -> None:
    """The screen of that name at all sizes, in one look."""
    view = views()[name]
    with tempfile.TemporaryDirectory() as folder:
        theme = (
            look if look.startswith("ansi") else f"coach-{look}" if look in ("light", "contrast") else "coach-dark"
        )
        signs = "ascii" if look == "ascii" else "unicode"
        settings.save(Path(folder), signs=signs, aspect=2.0, hints=view.hints, look=theme)
        os.environ.pop("NO_COLOR", None)
        if look == "nocolor":
            os.environ["NO_COLOR"] = "1"
        smooth = look not in ("nocolor", "ascii") and not look.startswith("ansi")
        app = CoachApp(Path(folder), mode=RasterMode.SMOOTH if smooth else None)
        width, height = map(int, sizes[0].split("x"))
        async with app.run_test(size=(width, height)) as pilot:
            driver = Driver(app, pilot)
            await driver.settle()
            await view.show(driver)
            for size in sizes:
                await driver.resize(*map(int, size.split("x")))
                await driver.settle()
                path = out / f"{size}-{look}" / name
                keep(app.export_screenshot(), path)
                bright = look == "ansi-light"
                rows = driver.screen._compositor.render_strips()
                painted(rows, app.size.width, LIGHT_TERMINAL if bright else DARK_TERMINAL).save(f"{path}.png")


def keep(svg: str, path: Path) -> None:
    """Write the picture, in a font that stands on this computer, spaces kept."""
    svg = svg.replace("Fira Code", FONT).replace("<text", '<text xml:space="preserve"')
    path.parent.mkdir(parents=True, exist_ok=True)
    path.with_suffix(".svg").write_text(svg, encoding="utf-8")


def sheets(out: Path) -> None:
    """One page for each size and look."""
    for folder in sorted(path for path in out.iterdir() if path.is_dir()):
        pictures = "".join(
            f'<figure><img src="{folder.name}/{file.name}" width="700"><figcaption>{file.stem}</figcaption></figure>'
            for file in sorted(folder.glob("*.svg"))
        )
        page = f"<!doctype html><title>{folder.name}</title><style>figure{{display:inline-block}}</style>{pictures}"
        (out / f"{folder.name}.html").write_text(page, encoding="utf-8")
        contact_sheet(sorted(folder.glob("*.png"))).save(out / f"{folder.name}.png")


def contact_sheet(files: list[Path], across: int = 4) -> Image.Image:
    """All pictures of one size, each with its name above it."""
    pictures = [Image.open(file) for file in files]
    wide, high = pictures[0].size[0] + GAP, pictures[0].size[1] + GAP + CELL[1]
    sheet = Image.new("RGB", (across * wide, -(-len(files) // across) * high), (70, 70, 70))
    for number, (file, picture) in enumerate(zip(files, pictures, strict=True)):
        x, y = number % across * wide, number // across * high
        ImageDraw.Draw(sheet).text((x, y), file.stem, fill=(255, 255, 255), font=font(bold=True))
        sheet.paste(picture, (x, y + CELL[1]))
    return sheet


def main() -> None:
    """Draw what is asked for."""
    parser = argparse.ArgumentParser(description="Pictures of the screens")
    parser.add_argument("out", type=Path)
    parser.add_argument("names", nargs="*", help="names of views; none: all")
    parser.add_argument("-s", "--sizes", default=",".join(SIZES))
    parser.add_argument("-l", "--looks", default=",".join(LOOKS))
    asked = parser.parse_args()
    for name in ("APART", "HELD", "CALM", "READ", "NUMBER"):
        setattr(Presses, name, 0.0)
    PatientApp.BURST = 0.0
    with ExitStack() as evening:
        for screen in EVENING:
            evening.enter_context(patch(f"coach.tui.screens.{screen}.datetime", Later))
        for look in asked.looks.split(","):
            for name in asked.names or views():
                asyncio.run(draw(name, asked.sizes.split(","), look, asked.out))
    sheets(asked.out)


if __name__ == "__main__":
    main()
