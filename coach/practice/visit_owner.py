"""The owner of a practice machine that cuts worse: what they say when asked, and what they see when they look."""

from collections.abc import Callable, Mapping

import numpy as np

from coach.practice.visit_kinds import Wrong
from coach.practice.visit_world import NEVER_ASKED, OVERLOOKED, WRONGLY_SAID, World
from coach.session.session import Session
from coach.triage.causes import CheckName
from coach.triage.questions import NOT_KNOWN

LADDER = 1.1


def answer_all(session: Session, world: World) -> None:
    """Every question is answered, some not at all, some wrongly."""
    for question in session.questions():
        known = [answer for answer in question.answers if answer != NOT_KNOWN]
        said = _truth(question.key, world)
        luck = world.rng.random()
        if said not in known or luck < NEVER_ASKED:
            said = NOT_KNOWN
        elif luck < NEVER_ASKED + WRONGLY_SAID:
            said = str(world.rng.choice(known))
        session.answer(question.key, said)


def _truth(key: str, world: World) -> str:
    """What somebody who remembers well would say."""
    return {
        "weak": _where,
        "since": _since,
        "fades": lambda w: "yes" if {"lens", "cooling"} & set(w.wrong) else "no",
        "edge": lambda w: "leaning" if "alignment" in w.wrong and w.rng.random() < 0.6 else "upright",
        "moved": lambda w: "bumped" if "alignment" in w.wrong and w.rng.random() < 0.5 else "no",
        "changed": _changed,
        "material": lambda w: "new" if "material" in w.wrong else "the same",
    }[key](world)  # type: ignore[no-untyped-call]


def _where(world: World) -> str:
    share = world.speeds() / world.speeds(sound=True)
    if "supply" in world.wrong and world.rng.random() < 0.6:
        return "on and off"
    if share.min() > 0.85 * share.max():
        return "everywhere alike"
    if np.sort(share)[1] > 0.9 * share.max():
        return "at one place" if "rail" in world.wrong else "toward one corner"
    return "toward one corner"


def _since(world: World) -> str:
    slow: set[Wrong] = {"lens", "mirrors", "tube", "extraction"}
    return "slowly, over weeks" if slow & set(world.wrong) else "suddenly"


def _changed(world: World) -> str:
    if "focus" in world.wrong and world.rng.random() < 0.4:
        return "lens"
    return "mirror" if "alignment" in world.wrong and world.rng.random() < 0.3 else "nothing"


def cut_everywhere(session: Session, world: World, sound: bool, sheet: str) -> None:
    """Lines that rise by a tenth at every station of one sheet, which is not quite the same from place to place."""
    begin = world.rng.random() * np.log(LADDER)
    batch = 0.025 * world.rng.standard_normal()
    for station, speed in zip(session.machine.stations, world.speeds(sound), strict=True):
        here = np.log(speed) + batch + 0.045 * world.rng.standard_normal()
        step = np.floor((here - begin) / np.log(LADDER))
        low, high = (round(float(np.exp(begin + (step + k) * np.log(LADDER))), 2) for k in (0, 1))
        session.cut(station.name, fastest=low, next=high, material=sheet)


def mark_everywhere(session: Session, world: World) -> None:
    """A mark at every station, read as well as one reads."""
    for station, (u, v) in zip(session.machine.stations, world.offsets, strict=True):
        du, dv = world.rng.normal(0, 0.25, 2)
        session.mark(station.name, u=float(u + du), v=float(v + dv))


def look(session: Session, world: World, check: CheckName) -> None:
    """One check with covers shut, as the owner makes it: with figures where there is something to measure."""
    figures = _FIGURES[check](world) if check in _FIGURES else {}
    bad = _is_wrong(world, check)
    if world.rng.random() < OVERLOOKED:
        bad = not bad
    session.check(check, "bad" if bad else "good", **figures)


def _is_wrong(world: World, check: CheckName) -> bool:
    about: Mapping[str, Wrong] = {"water": "cooling"}
    return about.get(check, check) in world.wrong


def _noisy(world: World, value: float, sd: float) -> float:
    return float(value + sd * world.rng.standard_normal())


_FIGURES: Mapping[CheckName, Callable[[World], dict[str, float]]] = {
    "bed": lambda world: {corner: round(_noisy(world, gap, 0.08), 2) for corner, gap in world.gaps.items()},
    "focus": lambda world: {"off": round(_noisy(world, world.gauge_off, 0.12), 2)},
    "water": lambda world: {"celsius": round(_noisy(world, world.water, 0.4), 1)},
    "tube": lambda world: {"current": round(_noisy(world, world.current, 0.3), 1), "usual": 20.0},
}
