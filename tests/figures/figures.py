"""Prints how long things take, side by side in one run; asserts nothing.

    python tests/figures/figures.py

Read the ratios, not the milliseconds: a slow machine slows both sides.  Each figure is the median of several.
"""

import os
import statistics
import sys
import tempfile
import time
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

import numpy as np
from pictures import SCENES
from rich.style import Style
from starting import screen_figures
from terminal import Stuck

from coach import Machine, Session
from coach.advice.advice import Advice
from coach.advice.decide import advise
from coach.belief.belief import Belief, Sighting, update
from coach.pictures.modes import RasterMode
from coach.pictures.nearest import BLOCKS, SEXTANTS, Signs
from coach.pictures.raster import Raster
from coach.pictures.view import Scene, render
from coach.practice.bench import Bench
from coach.session.replay import replay
from coach.shown import IN_MM
from coach.tui.widgets.strips import to_strips

TODAY = date(2026, 3, 1)
POINTS = [
    {"name": "A", "x": -20.0, "y": -20.0, "kind": "pivot"},
    {"name": "B", "x": 20.0, "y": -20.0, "kind": "screw"},
    {"name": "C", "x": -20.0, "y": 20.0, "kind": "screw"},
]
TABLE: dict[str, Any] = {
    "name": "Figures",
    "bed": {"width": 600.0, "depth": 400.0},
    "path": {"side": "left", "mirror1_gap": 150.0, "mirror2_gap": 120.0},
    "aperture": {"head": 18.0},
    "tape": {"radius": 11.0},
    "tolerance": 1.0,
    "mounts": [{"mirror": mirror, "thread": "M4", "drive": "push", "points": POINTS} for mirror in (1, 2)],
}


def median_ms(act: Callable[[], Any], times: int = 15) -> float:
    """Median duration of a call, ms."""
    act()
    taken = []
    for _ in range(times):
        begun = time.perf_counter()
        act()
        taken.append(1000 * (time.perf_counter() - begun))
    return statistics.median(taken)


def line(what: str, ms: float, than: str = "", base_ms: float | None = None) -> None:
    """One figure and, where there is something to hold it against, its ratio."""
    ratio = f"  {ms / base_ms:8.2f} × {than} ({base_ms:.3f} ms)" if base_ms else ""
    print(f"{what:<58}{ms:9.3f} ms{ratio}", flush=True)


def follow(session: Session, bench: Bench, advice: Advice) -> None:
    """Do what was advised on the practice bench and enter it."""
    key = len(session.events) + 1
    if advice.kind == "shoot":
        shot = advice.stations[0]
        seen = bench.pulse(shot.x, shot.y, shot.target, key=key)
        if seen is None:
            session.miss(shot.name, x=shot.x, y=shot.y, target=shot.target)
        else:
            session.mark(shot.name, seen.u, seen.v, x=shot.x, y=shot.y, target=shot.target)
    for turn in advice.turns:
        bench.turn(turn.mirror, turn.screws, key=len(session.events) + 1)
        session.turn(turn.mirror, turn.screws)
    if advice.part:
        amounts = {"up": advice.up, "right": advice.right, "back": advice.back}
        bench.shift(advice.part, **amounts, key=key)
        session.shift(advice.part, **amounts)


def first_round() -> Session:
    """A session on five stations with all marks of the first round made: the next advice is to turn."""
    machine = Machine.model_validate(TABLE)
    session, bench = Session.start(machine), Bench(machine, 3)
    while (advice := session.advice()).kind == "shoot":
        follow(session, bench, advice)
    return session


def long_session(events: int, stations: int = 3) -> Session:
    """A session on stations × stations places in which marks and turns go on for so many events."""
    across = [20.0 + 560.0 * k / (stations - 1) for k in range(stations)]
    along = [20.0 + 360.0 * k / (stations - 1) for k in range(stations)]
    named = [{"name": f"{x:.0f}-{y:.0f}", "x": x, "y": y} for x in across for y in along]
    machine = Machine.model_validate(TABLE | {"stations": named})
    session, bench = Session.start(machine), Bench(machine, 3)
    while len(session.events) < events:
        number = len(session.events) + 1
        if number % (len(named) + 1) == 0:
            screws = {"B": 0.03125 if number % 20 else -0.03125}
            bench.turn(2, screws, key=number)
            session.turn(2, screws)
        else:
            station = machine.stations[number % len(named)]
            seen = bench.pulse(station.x, station.y, key=number)
            if seen:
                session.mark(station.name, seen.u, seen.v)
            else:
                session.miss(station.name)
    return session


def bare_solve(belief: Belief) -> float:
    """ms for numpy to solve one linear system of the state's size for each hypothesis of the belief."""
    covariance = belief.bank.mixture.cov
    system = covariance + np.eye(covariance.shape[-1])
    right = belief.bank.mixture.mean[..., None]
    return median_ms(lambda: np.linalg.solve(system, right), 200)


def engine_figures() -> None:
    """Advice, belief and replay."""
    session = first_round()
    belief, machine = session.belief, session.machine
    solve = bare_solve(belief)
    spot = machine.stations[0]
    sighting = Sighting("again", spot.x, spot.y, u=0.5, v=-0.5)
    hypotheses, size = belief.bank.mixture.mean.shape
    print(f"bank: {hypotheses} hypotheses, state of {size}")
    line("belief: one mark", median_ms(lambda: update(belief, sighting), 200), "a bare solve of the same size", solve)
    line("advice: five stations, after the first round", advice_ms(session), "a bare solve", solve)
    line("advice: nine stations, sixty events", advice_ms(long_session(60)), "a bare solve", solve)
    many = long_session(500)
    taken = median_ms(lambda: replay(many.machine, many.events, TODAY), 3)
    line("replay: 500 events, all", taken)
    line("replay: 500 events, each", taken / 500, "a bare solve", solve)


def advice_ms(session: Session) -> float:
    """ms for one advice on a belief that nobody has asked anything yet."""
    machine, events = session.machine, session.events
    beliefs = iter([replay(machine, events, TODAY) for _ in range(16)])
    return median_ms(lambda: advise(next(beliefs)))


def save_figures() -> None:
    """The atomic write against a plain one of the same text."""
    session = long_session(60)
    with tempfile.TemporaryDirectory() as folder:
        path, plain = Path(folder) / "session.toml", Path(folder) / "plain.toml"
        session.save(path)
        text = path.read_text(encoding="utf-8")
        from coach.files import write_text

        bare = median_ms(lambda: plain.write_text(text, encoding="utf-8"))
        kilobytes = len(text) / 1000
        line(f"save: {kilobytes:.0f} kB atomically", median_ms(lambda: write_text(path, text)), "a plain write", bare)
        line("save: the whole session, words to disk", median_ms(lambda: session.save(path)), "a plain write", bare)


def picture_figures() -> None:
    """Every picture at 80 by 36 cells, against an empty one of that size."""

    def draw(scene: Scene, signs: Signs = BLOCKS) -> None:
        to_strips(render(scene, 80, 36, RasterMode.SMOOTH, wording=IN_MM, signs=signs).cells(), Style())

    class Nothing:
        def draw(self, raster: Raster, wording: object) -> None:
            pass

    empty = median_ms(lambda: draw(Nothing()))
    for name, scene in SCENES.items():
        for words, signs in (("", BLOCKS), (", in sixths", SEXTANTS)):
            taken = median_ms(lambda scene=scene, signs=signs: draw(scene, signs))
            line(f"picture at 80x36: {name}{words}", taken, "an empty one", empty)


def main() -> None:
    """All figures."""
    print(f"Python {sys.version.split()[0]}, numpy {np.__version__}, {os.cpu_count()} cores; medians")
    engine_figures()
    save_figures()
    picture_figures()
    try:
        screen_figures()
    except Stuck as trouble:
        print(f"screen: no figures, {trouble}")


if __name__ == "__main__":
    main()
