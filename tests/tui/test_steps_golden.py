"""Every step and every screen as text, at three sizes, against stored pictures; and nothing on them is cut.

They are drawn without colours and with Unicode, on the same sessions and at the same time everywhere.
"""

import re
from collections.abc import Awaitable, Callable
from dataclasses import dataclass
from datetime import datetime, timedelta, tzinfo
from pathlib import Path

import built_steps
import pytest
from app_driving import Driver, offered, plain, stands
from built_steps import BEGUN, built
from goldens import check, difference, strangers
from sweeps import sampled
from textual.widgets import Input

from coach import MachineLog, settings
from coach.describing.description import Description
from coach.describing.drafts import Draft
from coach.describing.walking import OVERVIEW
from coach.pictures.modes import RasterMode
from coach.session.session import Session
from coach.session.store import Store
from coach.shown import IN_MM
from coach.steps.cautions import ALWAYS
from coach.steps.current import current_step
from coach.steps.purpose import for_step
from coach.steps.table import cautions_for
from coach.tui.app import CoachApp
from coach.tui.screens.describe import DescribeScreen
from coach.tui.screens.glance import GlanceScreen
from coach.tui.screens.measure import MeasureScreen
from coach.tui.screens.measure_parts import LARGE, FieldRow
from coach.tui.screens.measure_words import options_shown
from coach.tui.screens.session import SessionScreen
from coach.tui.screens.upkeep import UpkeepScreen
from coach.tui.widgets.bigfont import set_text, spelled
from coach.tui.widgets.bigtype import BigText

SIZES = [(80, 24), (100, 30), (140, 45)]


class Later(datetime):
    """The evening after the sessions were begun."""

    @classmethod
    def now(cls, tz: tzinfo | None = None) -> "Later":
        return cls(BEGUN.year, BEGUN.month, BEGUN.day, 21, 30)


EVENING = ("home", "upkeep", "upkeep_ahead")
"""Screens that ask what day it is."""


@pytest.fixture(autouse=True)
def _the_same_everywhere(monkeypatch: pytest.MonkeyPatch) -> None:
    """A known evening."""
    for screen in EVENING:
        monkeypatch.setattr(f"coach.tui.screens.{screen}.datetime", Later)


# -- what is shown --------------------------------------------------------------------------------

Show = Callable[[Driver], Awaitable[None]]


def at_step(name: str, *keys: str, practice: bool = False, **entries: str) -> Show:
    """The session's step, its mark being measured where there are entries, and what these keys open from there."""

    async def show(driver: Driver) -> None:
        session = built(name, practice=practice)
        if entries:
            session.keep_draft({"for": for_step(session, current_step(session, IN_MM)).key, **entries})
        driver.app.push_screen(SessionScreen(session))
        await driver.settle()
        await driver.press(*keys)

    return show


def finished() -> Session:
    """A session on a real machine that was closed."""
    session = built("done", practice=False)
    with built_steps.pinned(60):
        session.finish()
    return session


async def home(driver: Driver) -> None:
    """Something unfinished, a machine that was aligned once, and a finished session."""
    folder = driver.app.folder
    done = finished()
    Store(folder).save_machine(done.machine)
    done.save(folder / "sessions" / "a.toml")
    built("screw").save(folder / "sessions" / "b.toml")
    driver.screen.load()
    await driver.settle()
    await driver.settle()


def upkeep(*keys: str) -> Show:
    """A machine's upkeep: something due by days and by use, something done, the rest never noted."""

    async def show(driver: Driver) -> None:
        log = MachineLog.open("Shed laser", driver.app.folder)
        today = BEGUN.date()
        log.done("rails", hours=100.0, on=today - timedelta(days=6))
        log.done("lens", on=today - timedelta(days=4))
        log.done("belts", on=today - timedelta(days=2))
        log.count(141.5, on=today)
        driver.app.push_screen(UpkeepScreen(log))
        await driver.settle()
        await driver.press(*keys)

    return show


def describing(at: str = "", **answers: str) -> Show:
    """The form at that question."""

    async def show(driver: Driver) -> None:
        description = Description()
        for key, answer in answers.items():
            description = description.answered(key.replace("__", "."), answer)
        draft = Draft(driver.app.folder / "drafts" / "describe.toml", description, at)
        driver.app.push_screen(DescribeScreen(draft))
        await driver.settle()

    return show


ROUGHLY = {"name": "Shed laser", "bed__width": "600", "bed__depth": "400", "path__side": "left"}
HEAD = {"head.now": "yes", "mounts.3.can": "yes", "lens.can": "yes"}


@dataclass(frozen=True)
class View:
    """Something to look at."""

    show: Show
    hints: bool = False


def views() -> dict[str, View]:
    """Everything that has a golden."""
    shows: dict[str, Show] = {name: at_step(name) for name in built_steps.NAMES}
    shows |= {f"practice-{name}": at_step(name, practice=True) for name in ("pulse", "nothing", "measure", "done")}
    shows |= {
        "measuring-crosshair": at_step("measure", way="crosshair", cross_u="1.5", cross_v="-2.5"),
        "measuring-gaps": at_step("measure", way="gaps", left="6,2", right="9,1", top="7"),
        "measuring-offsets": at_step("measure", way="offsets", across="1,5", along="-3/8 in", tool="ruler"),
        "measuring-clock": at_step("measure", way="clock", distance="4,2", hour="7:30", face="sticky"),
        "measuring-practice": at_step("measure", practice=True, way="gaps"),
        "measuring-mirror-2": at_step("search-measure", way="clock"),
        "measuring-trouble": at_step("measure", "f2", way="offsets", across="1,500", along="2"),
        "readback-gaps": at_step("measure", "f2", way="gaps", left="6,2", right="9,1", top="7", bottom="8,3"),
        "readback": at_step("measure", "f2", way="offsets", across="-3,9", along="8,8"),
        "turned-otherwise": at_step("screw", "2", "enter"),
        "moved-otherwise": at_step("move", "2", "enter"),
        "after-undo": at_step("screw", "u"),
        "glance-pulse": at_step("pulse", "g"),
        "glance-screw": at_step("screw", "g"),
        "review": at_step("done", "r"),
        "help": at_step("screw", "question_mark"),
        "settings": at_step("go", "s"),
        "home": home,
        "upkeep": upkeep(),
        "upkeep-filter": upkeep(*["down"] * 6),
        "upkeep-interval": upkeep("e"),
        "describe-first": describing(),
        "describe-number": describing("path.mirror1_gap", **ROUGHLY),
        "describe-mount": describing("mounts.1.shape", **ROUGHLY),
        "describe-part": describing("moves.mirror2.right", **ROUGHLY, **{"moves.mirror2.can": "yes"}),
        "describe-tube": describing("moves.tube.can", **ROUGHLY),
        "describe-mirror3": describing("mounts.3.can", **ROUGHLY, **HEAD),
        "describe-mount3": describing("mounts.3.shape", **ROUGHLY, **HEAD),
        "describe-lens": describing("lens.focal", **ROUGHLY, **HEAD),
        "describe-nozzle": describing("lens.nozzle_distance", **ROUGHLY, **HEAD),
        "describe-curved": describing("lens.curved", **ROUGHLY, **HEAD),
        "describe-lens-moves": describing("lens.can", **ROUGHLY, **HEAD),
        "describe-overview": describing(OVERVIEW, **ROUGHLY),
    }
    return {"hint": View(shows["go"], hints=True)} | {name: View(show) for name, show in shows.items()}


NAMES = tuple(views())
EVERYDAY = (
    *("rules", "go", "pulse", "screw", "stop", "tube-off", "check-bed", "cut-station"),
    *("measuring-gaps", "readback", "home", "describe-mount"),
)
"""One of each kind."""


# -- what must stand there ------------------------------------------------------------------------


def letters(text: str) -> str:
    """Without spaces and line breaks."""
    return re.sub(r"\s", "", text)


def large_cut(driver: Driver) -> list[str]:
    """Texts in large type that do not stand on the screen whole."""
    cut = []
    for large in driver.screen.query(BigText):
        if not large.display or not large.text:
            continue
        region = large.content_region
        set_as = large.setting(region.width, large.max_rows)
        seen = [row[region.x : region.right].rstrip() for row in driver.rows()[region.y : region.bottom]]
        said = letters("".join(set_as.lines))
        whole = said in (letters(large.text), letters(spelled(large.text)))
        if not whole or [row.strip() for row in seen] != [row.strip() for row in set_as.rows]:
            cut.append(large.text)
    return cut


def step_missing(driver: Driver) -> list[str]:
    """What belongs to the step and is not seen whole."""
    screen = driver.screen
    texts = screen.texts(0)
    needed = {"#text": [*texts[: len(texts) - screen._content().spare]], "#said": [screen.said]}
    sentences = 1 if screen.size.height < 30 else None  # in few rows the later ones are said in a few words
    needed["#cautions"] = [caution.text for caution in screen.step.kind.own_cautions[:sentences]]
    if screen.step.gate or (screen.step.kind.danger_begins and screen.size.height >= 30):
        needed["#cautions"] += [caution.text for caution in ALWAYS]
    gone = [text for part, texts in needed.items() for text in texts if plain(text) not in driver.part(part)]
    gone += [c.label for n, c in enumerate(screen.choices, start=1) if not offered(driver, n, c.label)]
    return gone + [caution.key for caution in screen.step.cautions if not stands(driver, caution)]


def number_stands(driver: Driver, row: FieldRow) -> bool:
    """Whether what was typed in a field is seen whole, in plain letters or in large ones."""
    typed, region = driver.screen.entries.get(row.field.key, ""), row.query_one(Input).region
    seen = [line[region.x : region.right] for line in driver.rows()[region.y : region.bottom]]
    if region.height < LARGE:
        return typed in " ".join(seen)
    letters = set_text(typed, region.width, LARGE, largest="small").rows if typed else ()
    return all(shown.startswith(row.rstrip()) for shown, row in zip(seen, letters, strict=False))


def entries_missing(driver: Driver) -> list[str]:
    """What was typed, or said about it, and is not seen whole on the measuring screen."""
    screen = driver.screen
    if screen.asked is not None:
        missing = [text for text in screen._asked_words() if plain(text) not in driver.part("#asked")]
        missing += [a.label for a in screen._answers() if not offered(driver, a.number, a.label, "#answers")]
        return missing + [c.key for c in cautions_for("measure") if not stands(driver, c)]
    rows = [row for row in screen.query(FieldRow) if row.has_class(screen.method.key)]
    missing = [row.said for row in rows if row.said not in driver.part(f"#{row.id}")]
    missing += [row.field.key for row in rows if not number_stands(driver, row)]
    said = {"#trouble": screen.trouble, "#bench": f"{screen._bench_words()}" if screen.bench else ""}
    missing += [text for part, text in said.items() if text and plain(text) not in driver.part(part)]
    missing += [
        shown.key
        for shown in options_shown(screen.entries, screen.method, screen.wording)
        if not any(f"{shown.key} {words}" in driver.part("#options") for words in (shown.word, shown.words))
    ]
    return missing + [c.key for c in cautions_for("measure") if not stands(driver, c)]


def missing(driver: Driver) -> list[str]:
    """What has to stand on this screen and does not."""
    screen, text = driver.screen, driver.text()
    found = large_cut(driver) + [row for row in driver.rows() if "…" in row]
    match screen:
        case SessionScreen():
            found += step_missing(driver)
        case MeasureScreen():
            found += entries_missing(driver)
        case DescribeScreen():
            found += [caution.key for caution in ALWAYS if not stands(driver, caution)]
        case UpkeepScreen():
            each = screen.highlighted
            found += [] if plain(each.item.do) in driver.part("#text") else [each.item.do]
            found += [caution.key for caution in each.item.cautions if not stands(driver, caution)]
        case GlanceScreen():
            found += [caution.key for caution in (screen.own[0], *ALWAYS) if not stands(driver, caution)]
    ways_on = ("Help", "Up, Down: scroll", "G or Enter: back", "F4: back", "▶ 1 ")
    return found if any(way in text for way in ways_on) else [*found, "no key is told, and nothing to choose"]


@pytest.mark.parametrize("name", sampled(NAMES, *EVERYDAY))
async def test_as_stored_and_whole(tmp_path: Path, name: str) -> None:
    """At every size the screen is to the letter the stored one, and nothing that belongs to it is cut or left out."""
    view = views()[name]
    settings.save(tmp_path, signs="unicode", aspect=2.0, hints=view.hints)
    app = CoachApp(tmp_path, mode=RasterMode.GLYPH)
    different, cut = [], {}
    async with app.run_test(size=SIZES[0]) as pilot:
        driver = Driver(app, pilot)
        await driver.settle()
        await view.show(driver)
        for size in SIZES:
            if size != SIZES[0]:
                await driver.resize(*size)
            different.append(difference(f"{size[0]}x{size[1]}/{name}.txt", driver.rows()))
            if gone := missing(driver):
                cut[size] = gone
    assert not cut
    check(different)


def test_no_golden_is_left_over() -> None:
    """Every stored picture is one that is compared."""
    names = [f"{name}.txt" for name in NAMES]
    assert not [stranger for width, height in SIZES for stranger in strangers(f"{width}x{height}", names)]
