"""A full disk under the full screen: each entry is refused in a sentence, and made once there is room."""

from pathlib import Path

from app_driving import running, session_at
from real_file_systems import fill, small_disk

from coach.session.document import Practice
from coach.session.session import Session


async def test_an_entry_is_made_once_there_is_room(tmp_path: Path) -> None:
    """On a disk of 64 kB: the note is told to be unsaved and still stands in its field, then Enter keeps it."""
    with small_disk(tmp_path / "disk") as disk:
        path = session_at(disk, "go", Practice(kind="fine", seed=3))
        async with running(disk, session=path, size=(100, 40)) as driver:
            await driver.pass_gates()
            before = len(Session.load(path).events)
            filler = fill(disk)
            await driver.press("n")
            await driver.type("smoke")
            await driver.press("enter")
            assert "No space left on device" in driver.text()
            assert driver.screen.typed == {"note": "smoke"}
            assert len(Session.load(path).events) == before
            filler.unlink()
            await driver.press("f4", "n")
            assert driver.screen.typed == {"note": "smoke"}
            await driver.press("enter")
            assert Session.load(path).effective[-1].text == "smoke"
