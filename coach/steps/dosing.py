"""Another dose than the one that was told, or other layers of tape: typed, read back, entered before the pulse."""

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING

from coach.errors import InputError
from coach.machine import Pulse as Pulsing
from coach.session.events import Event, Mark
from coach.session.pulse_checks import Dose, checked_layers, checked_ms, checked_power
from coach.session.session import Session
from coach.steps.words import dose_words, setting_words
from coach.tuning import TUNING
from coach.units import parse_number

if TYPE_CHECKING:  # the shell reads a dose, and needs no step for it
    from coach.steps.step import Choice, Step

SECONDS = 1000.0
"""ms in one."""
LABELS = {
    "ms": "How long, in ms",
    "power": "Power, in per cent",
    "layers": "Layers of tape, if not as many as always",
}
"""What is asked, in this order."""


def dose_fields(pulse: Pulsing) -> tuple[str, ...]:
    """What can be set at a machine, as far as that is known; the tape always."""
    without = {"ms": pulse.timed is False, "power": pulse.percent is False}
    return tuple(name for name in LABELS if not without.get(name))


def dose_told(step: "Step") -> dict[str, str]:
    """What stands in the fields at first: what is set as far as the coach knows."""
    shot = step.shot
    assert shot is not None
    stands = {"ms": shot.ms, "power": shot.power, "layers": shot.layers}
    return {name: f"{value:g}" for name, value in stands.items() if value is not None}


def dose_lead(step: "Step") -> str:
    """What is asked when something else was set than was told."""
    assert step.shot is not None
    so_far = dose_words(step.shot.ms, step.shot.power)
    said = f"So far it is {so_far}. " if so_far else ""
    return f"{said}What is really set for this pulse, and on how much tape? Afterwards say what the pulse left."


def read_dose(typed: Mapping[str, str | None]) -> Dose:
    """ms, power and layers as they were typed; nothing typed is not known.  Raises InputError or OutOfReach."""
    return Dose(
        ms=checked_ms(_ms(typed.get("ms") or "")),
        power=checked_power(_amount(typed.get("power") or "", "the power", "%")),
        layers=checked_layers(_whole(typed.get("layers") or "")),
    )


def check_dose(name: str, text: str) -> None:
    """One field alone.  Raises InputError or OutOfReach."""
    read_dose({name: text})


def dose_echo(session: Session, typed: Mapping[str, str]) -> str:
    """What was understood, and what is remarkable in it.  Raises InputError, also where nothing was typed."""
    dose = _some(typed)
    remarkable = (beyond_ceiling(session.effective, dose["ms"]), other_layers(session.effective, dose["layers"]))
    return " ".join((f"Understood: {setting_words(**dose)}.", *(words for words in remarkable if words)))


def doubtful(session: Session, typed: Mapping[str, str]) -> bool:
    """Whether the dose is one that nobody should need: then Enter does not take it.  Raises InputError."""
    return bool(beyond_ceiling(session.effective, _some(typed)["ms"]))


def enter_dose(session: Session, step: "Step", choice: "Choice", typed: Mapping[str, str]) -> None:
    """Make the entry.  Raises CoachError."""
    from coach.steps.perform import perform

    perform(session, step, choice.key, dose=_some(typed))


def beyond_ceiling(before: Iterable[Event], ms: float | None) -> str:
    """A sentence where so long a pulse is more than any mark needs, by the one that marked first; "" else."""
    first, most = next((e.ms for e in before if isinstance(e, Mark) and e.ms), None), TUNING.doses.most_times
    if not first or not ms or ms <= most * first:
        return ""
    return (
        f"{ms:g} ms is beyond the ceiling, {most:g} times the {first:g} ms that marked first: no more; "
        "does it fire at all?"
    )


def other_layers(before: Iterable[Event], layers: int | None) -> str:
    """A sentence where the tape is another than that of the marks before; "" else."""
    marked = {e.layers for e in before if isinstance(e, Mark)}
    if not marked or layers in marked:
        return ""
    return "The layers of tape are not those of the marks before: their doses are not compared."


def _some(typed: Mapping[str, str]) -> Dose:
    dose = read_dose(typed)
    if (dose["ms"], dose["power"], dose["layers"]) == (None, None, None):
        raise InputError("Nothing was entered", expected="the pulse's time, its power or the layers of tape")
    return dose


def _ms(text: str) -> float | None:
    plain = text.strip().lower()
    if plain.endswith("s") and not plain.endswith("ms"):
        seconds = _amount(plain.removesuffix("s"), "the pulse's time", "")
        return None if seconds is None else seconds * SECONDS
    return _amount(plain, "the pulse's time", "ms")


def _amount(text: str, what: str, unit: str) -> float | None:
    return parse_number(text.strip().removesuffix(unit).strip(), what) if text.strip() else None


def _whole(text: str) -> int | None:
    plain = text.strip()
    if not plain:
        return None
    if not (plain.isascii() and plain.isdigit()):
        raise InputError(f"{text[:40]!r} layers of tape", expected="a whole number from 1 to 20", example="2")
    return int(plain[:4])
