"""Ten very different visits as report pages, to be looked at: `python tests/figures/reports.py OUT`.

Each is played on the practice bench and written in every form; where a Chromium is on the path, its page is printed
as PDF on A4 and Letter and drawn as PNG, light and dark.  Sessions that stand in OUT already are read, not played
again.
"""

import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

for _folder in ("", "report"):  # the tests' own helpers, found as pytest finds them
    sys.path.insert(0, str(Path(__file__).parents[1] / _folder))

from rehearsing import rehearse  # noqa: E402
from reported import aligned, hostile  # noqa: E402

from coach.practice.begun import begun  # noqa: E402
from coach.practice.demo import demo_machine  # noqa: E402
from coach.report.html import html  # noqa: E402
from coach.report.markdown import markdown, pictures  # noqa: E402
from coach.report.of_session import report_of  # noqa: E402
from coach.report.text import message  # noqa: E402
from coach.session.document import Practice  # noqa: E402
from coach.session.session import Session  # noqa: E402

BROWSERS = ("chromium", "chromium-browser", "google-chrome")
LONGEST = 120
"""Seconds that one picture may take."""
PAPER = {"a4": ("210mm", "297mm"), "letter": ("8.5in", "11in")}
SCREEN = "1000,1400"
"""Pixels of the first screenful that is drawn, wide and high; `-whole` shows all of the page."""


def _rehearsed(kind: str, seed: int = 1, *, every_part: bool = False, steps: int | None = None) -> Session:
    session = begun(Practice(kind=kind, seed=seed))
    for number, _ in enumerate(rehearse(session, every_part=every_part)):
        if steps is not None and number >= steps:
            break
    return session


def _finished(session: Session) -> Session:
    session.finish()
    return session


VISITS: dict[str, Callable[[], Session]] = {
    "bed": lambda: _rehearsed("visit-bed"),
    "lens": lambda: _rehearsed("visit-lens"),
    "tube": lambda: _rehearsed("visit-tube"),
    "alignment": lambda: _rehearsed("visit-alignment"),
    "head": lambda: _rehearsed("visit-head", every_part=True),
    "unfinished": lambda: _rehearsed("visit-alignment", 2, steps=90),
    "empty": lambda: Session.start(demo_machine()),
    "beam": lambda: _finished(aligned()),
    "mixed": lambda: _rehearsed("visit-mixed", every_part=True),
    "hostile": hostile,
}


def main(out: Path) -> None:
    """Everything of every visit, into that folder."""
    out.mkdir(parents=True, exist_ok=True)
    browser = next(filter(None, map(shutil.which, BROWSERS)), None)
    for name, played in VISITS.items():
        kept = out / f"{name}.toml"
        if not kept.exists():
            played().save(kept)
        session = Session.load(kept)
        report = report_of(session)
        (out / f"{name}.html").write_text(html(report), encoding="utf-8")
        (out / f"{name}.md").write_text(markdown(report, name), encoding="utf-8")
        (out / f"{name}.txt").write_text(message(session), encoding="utf-8")
        for file, drawn in pictures(report, name).items():
            (out / file).parent.mkdir(exist_ok=True)
            (out / file).write_text(drawn, encoding="utf-8")
        if browser is not None:
            drawn_by(browser, out / f"{name}.html")
        print(name, flush=True)


def drawn_by(browser: str, page: Path) -> None:
    """PDF on both papers, PNG light and dark."""
    base = [browser, "--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars", "--force-color-profile=srgb"]
    for paper, (wide, high) in PAPER.items():
        text = page.read_text("utf-8").replace("@page {", f"@page {{ size: {wide} {high};", 1)
        sized = page.with_name(f"{page.stem}-{paper}.html")
        sized.write_text(text, encoding="utf-8")
        _run([*base, "--no-pdf-header-footer", f"--print-to-pdf={sized.with_suffix('.pdf')}", sized.as_uri()])
        sized.unlink()
    for look, more in {"light": (), "dark": ("--blink-settings=preferredColorScheme=0",)}.items():
        shot = page.with_name(f"{page.stem}-{look}.png")
        _run([*base, *more, f"--window-size={SCREEN}", f"--screenshot={shot}", page.as_uri()])


def _run(command: list[str]) -> None:
    done = subprocess.run(command, capture_output=True, timeout=LONGEST, check=False, text=True)
    if done.returncode:
        raise SystemExit(f"{command[0]}: {done.stderr[-500:]}")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
