"""A data folder of as many visits as one likes, each of a hundred entries: for figures about large folders."""

import os
import time
from datetime import UTC, datetime, timedelta
from pathlib import Path

from figures import TABLE, long_session

from coach import Machine
from coach.session.document import Document, Practice, to_table
from coach.session.events import EVENT

MACHINES = 3
FIRST = datetime(2024, 1, 1, 18, 0, tzinfo=UTC)
EVENTS = 100
OLD = 30 * 86_400


def filled(folder: Path, visits: int) -> Path:
    """That many visits to three machines, one every six hours; one in ten is practice, nine in ten are finished."""
    import tomli_w

    session = long_session(EVENTS - 1)
    (folder / "sessions").mkdir(parents=True)
    (folder / "machines").mkdir()
    for number in range(MACHINES):
        Machine.model_validate(TABLE | {"name": f"Laser {number}"}).save(folder / "machines" / f"laser-{number}.toml")
    for number in range(visits):
        begun = FIRST + timedelta(hours=6 * number)
        events = [event.model_copy(update={"at": begun + timedelta(minutes=event.id)}) for event in session.events]
        last = {"id": EVENTS, "at": begun + timedelta(minutes=EVENTS)}
        ending = {"kind": "note", "text": "to be gone on with"} if number % 10 == 9 else {"kind": "finish"}
        document = Document(
            title=f"Visit {number}",
            created=begun,
            practice=Practice(seed=number) if number % 10 == 5 else None,
            machine=session.machine.model_copy(update={"name": f"Laser {number % MACHINES}"}),
            events=(*events, EVENT.validate_python(last | ending)),
        )
        path = folder / "sessions" / f"visit-{number}.toml"
        path.write_text(tomli_w.dumps(to_table(document)), encoding="utf-8")
        os.utime(path, (time.time() - OLD, time.time() - OLD))
    return folder
