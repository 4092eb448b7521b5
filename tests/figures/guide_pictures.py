"""The pictures in docs/screens.md: the real screens of a visit, drawn by the program, and the page that shows them.

    .venv/bin/python tests/figures/guide_pictures.py

Draws each again, at 100 columns and 30 rows, and writes the page with each picture's headline as its alternative
text: that is read off the step itself, so a picture whose step is gone or says something else is found by a test.
"""

import asyncio
import sys
import tempfile
from contextlib import ExitStack
from pathlib import Path
from unittest.mock import patch

HERE = Path(__file__).resolve().parent
sys.path[:0] = [str(HERE), str(HERE.parent), str(HERE.parent / "tui"), str(HERE.parent.parent)]

from built_steps import step_at  # noqa: E402

DOCS = HERE.parent.parent / "docs"
PICTURES = DOCS / "screens"
SIZE = "100x30"
COLOURS = 48
"""So many are told apart in a picture: letters stay clean, and a picture small enough for a repository."""
SHOWN = {
    "suspects": "What was answered and checked puts the causes in order, with what speaks for and against each.",
    "check-bed": "A check with the covers shut: what to measure, and where.",
    "cut-station": "The cut check, station by station, at the speeds that the coach proposes.",
    "cut-result": "What it says, in large words and one figure.",
    "clean-optic": "One optic after the other, in the order of the beam.",
    "go": "The beam's path: where the head goes for the next mark, and which way the tape is seen.",
    "pulse": "One short pulse, and what may have come of it.",
    "adjust": "What is to be turned, why, and how sure that is.",
    "screw": "One screw at a time: which, which way, how far.",
    "done": "Every station within tolerance, a mark at each to show it; the lock nuts are left.",
    "head-adjust": "Mirror 3 and the lens: how the beam leans, drawn from two sides.",
    "close-item": "Closing up, item by item.",
}
"""Name of the step (tests/built_steps.py) to the sentence beneath its picture, in the order of a visit."""
HEAD = """# What it looks like

The screens of a visit as the program draws them in a terminal of 100 columns and 30 rows, in its dark colours. They
are made from invented practice machines by `python tests/figures/guide_pictures.py`. The job itself is in
[the guide](guide.md).
"""


def page() -> str:
    """The page: each picture with its headline as text, for whoever cannot see it, and its sentence."""
    parts = [HEAD]
    for name, sentence in SHOWN.items():
        action = step_at(name).action
        parts.append(f"## {action}\n\n{sentence}\n\n![The screen that says: {action}](screens/{name}.png)\n")
    return "\n".join(parts)


def draw_all() -> None:
    """Draw every picture and write the page."""
    import screens
    from PIL import Image

    from coach.tui.presses import Presses

    for held in ("APART", "HELD", "CALM"):
        setattr(Presses, held, 0.0)
    PICTURES.mkdir(exist_ok=True)
    with ExitStack() as evening, tempfile.TemporaryDirectory() as out:
        for screen in screens.EVENING:
            evening.enter_context(patch(f"coach.tui.screens.{screen}.datetime", screens.Later))
        for name in SHOWN:
            asyncio.run(screens.draw(name, [SIZE], "dark", Path(out)))
            drawn = Image.open(Path(out) / f"{SIZE}-dark" / f"{name}.png").convert("RGB")
            drawn.quantize(COLOURS).save(PICTURES / f"{name}.png", optimize=True)
    (DOCS / "screens.md").write_text(page(), encoding="utf-8")


if __name__ == "__main__":
    draw_all()
