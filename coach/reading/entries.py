"""What is typed for a measurement: how it begins, is switched, corrected, and comes back from a stored reading."""

from collections.abc import Sequence
from dataclasses import replace
from typing import assert_never

from coach.reading.crosshair import CROSSHAIR_STEPS, crosshair_of, with_crosshair
from coach.reading.method import Entries, Given, Method, OptionKey
from coach.reading.methods import OPTIONS, face_of, method_named
from coach.reading.model import Correction
from coach.shown import Unit

METHOD = "way"
"""The entry that names the method; so it stands in drafts."""


def method_of(entries: Given, offered: Sequence[Method]) -> Method:
    """The method in use: the one that the entries name, else the first that is offered."""
    return next((method for method in offered if method.key == entries.get(METHOD)), offered[0])


def begun(entries: Given, unit: Unit, steps: tuple[float, float, float] = CROSSHAIR_STEPS) -> Entries:
    """The entries of a measurement that begins, with the unit and the crosshair's step said where they are not yet.

    What is kept as a draft then means the same whatever the person's settings are by the time it is read again.
    """
    return {"unit": unit, "step": f"{steps[1]:g}", **entries}


def with_option(entries: Given, key: OptionKey, value: str) -> Entries:
    """The entries with an option set; the cross stays on the same spot of the tape when its face is changed."""
    changed = {**entries, key: value}
    if key == "face" and face_of(changed) != face_of(entries) and "cross_u" in entries:
        cross = crosshair_of(entries)
        return with_crosshair(changed, replace(cross, u=0.0 - cross.u))
    return changed


def switched(entries: Given, key: OptionKey) -> Entries:
    """The entries with an option's other value."""
    values = OPTIONS[key].values
    at = values.index(OPTIONS[key].stands(entries))
    return with_option(entries, key, values[(at + 1) % len(values)].key)


def corrected(entries: Given, correction: Correction) -> Entries:
    """The entries as they were probably meant."""
    match correction:
        case "other face":
            return switched(entries, "face")
        case "to the centre":
            return with_option(entries, "to", "centre")
        case "in inches":
            return with_option(entries, "unit", "in")
        case "in mm":
            return with_option(entries, "unit", "mm")
        case _:
            assert_never(correction)


# -- from a stored reading ------------------------------------------------------------------------


def entries_from(typed: Given) -> Entries:
    """The entries that made a reading, from what is kept with it; {} where its method is none of the table's."""
    method = method_named(typed.get("method", ""))
    return {} if method is None else {**manner_from(typed), **method.entries_of(typed)}


def manner_from(typed: Given) -> Entries:
    """How a reading was taken, without its numbers: the method, the face, the unit and the tool."""
    method = method_named(typed.get("method", ""))
    return {} if method is None else {METHOD: method.key, **{key: typed[key] for key in OPTIONS if key in typed}}
