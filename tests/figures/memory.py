"""Prints how much memory the full screen holds over a long evening; asserts nothing.

    python tests/figures/memory.py [ROUNDS]

A session is open; each round enters a note by keys, takes it back, and opens and closes help, review and settings.
What Python holds (tracemalloc, after a collection) is printed as it goes on, and how much each round added.
"""

import asyncio
import gc
import sys
import tempfile
import tracemalloc
from pathlib import Path

sys.path[:0] = [str(Path(__file__).resolve().parents[1]), str(Path(__file__).resolve().parents[1] / "tui")]

import _surroundings  # noqa: E402, F401
from app_driving import Driver, running  # noqa: E402

from coach.practice.begun import begun  # noqa: E402
from coach.session.document import Practice  # noqa: E402

ROUNDS, WARM, STEPS = 20, 4, 4


async def one_round(driver: Driver) -> None:
    """What a person does who looks at everything: a note, taken back, and three screens and back."""
    await driver.press("n")
    await driver.type("dust")
    await driver.press("enter", "enter", "u")
    for screen in ("question_mark", "r", "s"):
        await driver.press(screen, "f4")


def held() -> float:
    """MB that Python holds."""
    gc.collect()
    return tracemalloc.get_traced_memory()[0] / 1e6


async def evening(folder: Path, rounds: int) -> None:
    """The rounds, and what is held after each share of them."""
    path = begun(Practice(seed=1)).keep_new(folder)
    async with running(folder, session=path) as driver:
        for _ in range(WARM):
            await one_round(driver)
        first = before = held()
        print(f"after {WARM} rounds {first:7.2f} MB, {len(driver.session.events)} entries", flush=True)
        for _ in range(STEPS):
            for _ in range(rounds // STEPS):
                await one_round(driver)
            now = held()
            print(f"{rounds // STEPS} more        {now:7.2f} MB, {len(driver.session.events)} entries, "
                  f"{1000 * (now - before) / (rounds // STEPS):+.2f} kB a round", flush=True)  # fmt: skip
            before = now


if __name__ == "__main__":
    tracemalloc.start()
    with tempfile.TemporaryDirectory() as data:
        asyncio.run(evening(Path(data), int(sys.argv[1]) if len(sys.argv) > 1 else ROUNDS))
