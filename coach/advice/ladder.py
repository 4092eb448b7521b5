"""The dose of the next pulse: low at first, a step more after nothing was seen, and no further than a ceiling.

The one place for it.  A pure function of the pulses that were made, by way of the belief, and of the machine.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from coach.belief.belief import Belief
from coach.belief.measurements import Sighting
from coach.belief.pulses import Pulsed, trail
from coach.machine import Machine
from coach.tuning.doses import Doses

REACHED = 0.99
"""From this share of the ceiling on it is reached."""
UNKNOWN_STEPS = 6
"""Steps from the dose to begin with to the longest pulse; where nobody knows the dose there are so many."""


@dataclass(frozen=True)
class NextDose:
    """What to set for the next pulse; None where nobody knows how it is set."""

    ms: float | None
    power: float | None
    ceiling: bool
    """The strongest was tried here: no more dose."""


def next_dose(belief: Belief, at: Sighting) -> NextDose:
    """The dose of the next pulse at that place; what is known of the controller, and what was tried, says it."""
    machine, doses, pulses = belief.layout.machine, belief.tuning.doses, belief.pulses
    tried = trail(pulses, at)
    by_hand = machine.pulse.timed is False
    timed = not by_hand and (machine.pulse.timed is True or _said(p.sighting.ms for p in pulses))
    percent = machine.pulse.percent is True or machine.pulse.power is not None
    percent = percent or _said(p.sighting.power for p in pulses)
    ms, most_ms = _ms(machine, pulses, tried, doses) if timed else (None, None)
    power, most_power = _power(machine, pulses, tried, doses, raised=not timed) if percent else (None, None)
    most = most_ms if timed else most_power
    last = _last(tried, "ms" if timed else "power")
    spent = len(tried) > UNKNOWN_STEPS if most is None or last is None else last >= REACHED * most
    return NextDose(ms, power, bool(tried) and spent)


def _ms(machine: Machine, pulses: tuple[Pulsed, ...], tried: tuple[Pulsed, ...], doses: Doses) -> tuple[float, float]:
    """ms to set, and the most."""
    first, base = _marked(pulses, "ms")
    most = min(doses.longest, doses.most_times * first) if first else doses.longest
    begin = base or machine.pulse.ms or doses.ms
    return float(round(min(_raised(begin, pulses, tried, "ms", doses), most))), most


def _power(
    machine: Machine, pulses: tuple[Pulsed, ...], tried: tuple[Pulsed, ...], doses: Doses, *, raised: bool
) -> tuple[float, float]:
    """Per cent to set, and the most; where the button's time cannot be set, the power is what is raised.

    A finger may be slow: the power stays where even the slowest makes no more than the longest pulse would.
    """
    first, base = _marked(pulses, "power")
    begin = base or machine.pulse.power or doses.power
    if not raised:
        last = _last(tried, "power")
        return last or begin, 100.0
    most = min(100.0, doses.longest / doses.finger_longest * (first or machine.pulse.power or doses.power))
    return float(round(min(_raised(begin, pulses, tried, "power", doses), most))), most


def _raised(begin: float, pulses: tuple[Pulsed, ...], tried: tuple[Pulsed, ...], what: str, doses: Doses) -> float:
    """One step more than was tried last; after a flame one step less."""
    if tried:
        last = _last(tried, what)
        return begin * doses.step ** len(tried) if last is None else last * doses.step
    return begin / doses.step if pulses and pulses[-1].came_to == "flare" else begin


def _marked(pulses: tuple[Pulsed, ...], what: str) -> tuple[float | None, float | None]:
    """The dose that marked first, and the one that marked (or flared) last, of those that are known."""
    known = [
        dose for p in pulses if p.came_to in ("mark", "flare") and (dose := getattr(p.sighting, what)) is not None
    ]
    return (known[0], known[-1]) if known else (None, None)


def _last(tried: tuple[Pulsed, ...], what: str) -> float | None:
    return getattr(tried[-1].sighting, what) if tried else None


def _said(doses: Iterable[float | None]) -> bool:
    return any(dose is not None for dose in doses)
