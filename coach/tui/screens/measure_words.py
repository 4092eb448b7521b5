"""What the measuring screen says about the way in use."""

from collections.abc import Mapping
from dataclasses import dataclass

from coach.shown import Wording
from coach.steps import ways

HINTS = {
    "crosshair": "Arrows move the cross onto the mark; then Enter.",
    "gaps": "Three gaps and the width, or all four.",
    "offsets": "From the centre; left and down are minus.",
    "clock": "From the centre, and which hour it points to.",
}
REFUSED = "Only a number belongs here: {letter!r} was not taken. F8: face, F9: unit, F4: back."


@dataclass(frozen=True)
class OptionShown:
    """One option: its key, how it stands, the same in a word, and whether it is not the usual one."""

    key: str
    words: str
    word: str
    loud: bool = False


def options_shown(entries: Mapping[str, str], way: ways.Way, wording: Wording) -> list[OptionShown]:
    """How the options stand that the way has; what is not the usual in capitals."""
    shown = [OptionShown("F8", "Face: outer, the beam's side", "outer")]
    if ways.option(entries, "face") == "sticky":
        shown = [OptionShown("F8", "Face: STICKY, left-right swapped", "STICKY", True)]
    if way.key == "crosshair":
        step = f"step {wording.exact(ways.crosshair_of(entries).step)}"
        return [*shown, OptionShown("+ −", step.capitalize(), step)]
    inches = ways.option(entries, "unit") == "in"
    shown.append(OptionShown("F9", "Unit: INCHES" if inches else "Unit: mm", "INCHES" if inches else "mm", inches))
    if way.key == "gaps":
        centre = ways.option(entries, "to") == "centre"
        end = "CENTRE" if centre else "edge"
        shown.append(OptionShown("F3", f"to {end}", end, centre))
    elif way.key == "offsets":
        tool = ways.option(entries, "tool")
        shown.append(OptionShown("F3", tool.capitalize(), tool))
    return shown


def options_said(entries: Mapping[str, str], way: ways.Way, wording: Wording) -> str:
    """The same as one sentence, for the help."""
    return ". ".join(f"{shown.key}: {shown.words}" for shown in options_shown(entries, way, wording)) + "."
