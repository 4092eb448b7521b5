"""Visits to a machine whose parts move as a test says, as their sessions have them; traced exactly."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import numpy as np

from coach.machine import Machine
from coach.optics.mounts import PlateMotion
from coach.optics.trace import Layout, TrueState, at_head, at_mirror2
from coach.practice.zoo import zoo_machine
from coach.session import document
from coach.session.document import Document
from coach.session.events import EVENT
from coach.session.store import Store

BEGAN = datetime(2026, 3, 1, 18, tzinfo=UTC)
NOW = BEGAN + timedelta(days=365)


def machine(**changed: Any) -> Machine:
    """A zoo machine of that name."""
    table = zoo_machine("L", "right").to_table()
    table["path"] = {**table["path"], **changed}
    return Machine.model_validate(table)


def session(
    state: TrueState, days: float, *before: dict[str, Any], on: Machine | None = None, seed: int = 0, **more: Any
) -> Document:
    """A visit that only marks: every station, and mirror 2's opening at the front; read to 0.1 mm."""
    its = on or machine()
    rng = np.random.default_rng((seed, int(days)))
    told = list(before)
    for station in its.stations:
        u, v = np.add(at_head(state, station.x, station.y), rng.normal(0, 0.1, 2))
        told.append({"kind": "mark", "station": station.name, "x": station.x, "y": station.y, "u": u, "v": v})
    u, v = np.add(at_mirror2(state, 20.0), rng.normal(0, 0.1, 2))
    told.append({"kind": "mark", "station": "front-left", "x": 20.0, "y": 20.0, "target": "mirror 2", "u": u, "v": v})
    began = BEGAN + timedelta(days=days)
    events = [
        EVENT.validate_python({"id": number, "at": began + timedelta(minutes=number)} | each)
        for number, each in enumerate(told, start=1)
    ]
    return Document(title=f"Day {days:g}", created=began, machine=its, events=tuple(events), **more)


def lying(**parts: Any) -> TrueState:
    """Where everything stands on that machine, its centre half a millimetre up."""
    return replace(TrueState(Layout.of(machine()), head_up=-0.5), **parts)


def drifting(part: str, times: int = 7, rate: float = 0.5) -> list[Document]:
    """A part that moves by `rate` (mrad of its plate, or mm) every thirty days."""
    made = []
    for k in range(times):
        gone = {
            "mirror 1": {"mirror1": PlateMotion(0.6 * rate * k, 0.8 * rate * k)},
            "mirror 2": {"mirror2": PlateMotion(0.6 * rate * k, 0.8 * rate * k)},
            "centre": {"head_up": -0.5 - rate * k},
            "none": {},
        }[part]
        made.append(session(lying(**gone), 30.0 * k))
    return made


def kept(folder: Path, *documents: Document) -> None:
    """These visits, and their machine, in a data folder."""
    store = Store(folder)
    store.save_machine(documents[-1].machine)
    for each in documents:
        store.keep_new(each.title, each.created, document.to_table(each))
