"""A cut check in the full screen and in plain lines: what is kept and taken up is said where it happens."""

from pathlib import Path

from app_driving import running
from cutting_side import SHEET, cut_stations, lay, seen
from machines import make_machine
from visiting import aligned_visit, at, through_the_gates

from coach.plain.run import run
from coach.session.baselines import path_of
from coach.session.session import Session
from coach.steps.perform import perform

ALIKE = dict.fromkeys(("back-left", "back-right", "middle", "front-right", "front-left"), 18.0)


def ended_well(path: Path) -> Path:
    """A visit to a machine that is aligned, at what its second cut check says."""
    session = aligned_visit()
    lay(session, "cut again")
    cut_stations(session, ALIKE)
    path.parent.mkdir(exist_ok=True)
    session.save(path)
    return path


def begun(path: Path) -> Path:
    """A later visit that has come to its cut check."""
    session = Session.start(make_machine())
    session.begin("cut check")
    session.save(path)
    return path


async def test_the_screen_says_what_is_kept_and_later_what_is_taken_up(tmp_path: Path) -> None:
    """One sentence each, and the file is there; the sheet that was kept is the first answer."""
    async with running(tmp_path, session=ended_well(tmp_path / "sessions" / "one.toml")) as driver:
        await driver.press("enter")
        assert driver.screen.step.key == "cut-result"
        await driver.press("enter")
        assert driver.screen.said.startswith("Kept as this machine's baseline for ply 6 mm, lot 3")
    assert path_of(tmp_path, "Shed laser").exists()
    async with running(tmp_path, session=begun(tmp_path / "sessions" / "two.toml")) as driver:
        assert driver.screen.said.startswith(
            "Cuts of this machine that are kept to be compared with: ply 6 mm, lot 3"
        )
        await driver.press("enter")
        assert driver.screen.choices[0].label.startswith("ply 6 mm, lot 3 at 60 %: as kept on ")


async def test_speeds_out_of_order_stay_to_be_corrected(tmp_path: Path) -> None:
    """Speeds in the wrong order are refused in a sentence, nothing is entered, and they stay to be corrected."""
    path = tmp_path / "sessions" / "one.toml"
    session = Session.start(make_machine())
    lay(session, "cut check")
    perform(session, at(session), "cut-through", option=seen(at(session), 18.0))
    path.parent.mkdir()
    session.save(path)
    async with running(tmp_path, session=path) as driver:
        await driver.press("enter", "enter")
        here = driver.screen.step.item
        rows = [choice.key for choice in driver.screen.choices]
        await driver.press(str(1 + rows.index("cut-figures")), "enter")
        await driver.press("2", "0", "enter", "1", "8", "enter")
        assert "order is not that of the lines" in driver.text().replace("\n", " ").replace("  ", " ")
        driver.app.leave()
    kept = Session.load(path)
    assert here is not None
    assert kept.events[-1].kind == "gate"
    assert (kept.draft["fastest"], kept.draft["next"]) == ("20", "18")


def test_plain_lines_say_the_same(tmp_path: Path) -> None:
    """Rules, then "go on": kept; in the next visit: taken up before the first step."""
    said: list[str] = []
    ended_well(tmp_path / "sessions" / "one.toml")
    run(tmp_path, said.append, iter(["1", "1"]), echo=False, session=tmp_path / "sessions" / "one.toml")
    assert any(line.startswith("Kept as this machine's baseline") for line in said)
    said.clear()
    run(tmp_path, said.append, iter([]), echo=False, session=begun(tmp_path / "sessions" / "two.toml"))
    assert any(line.startswith("Cuts of this machine that are kept") for line in said)
    assert through_the_gates(Session.load(tmp_path / "sessions" / "two.toml")) == ["rules"]
    assert SHEET["material"] in " ".join(said)
