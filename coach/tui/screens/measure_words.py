"""What the measuring screen says about the way in use."""

from collections.abc import Mapping

from coach.practice.assist import BenchMark
from coach.tui.screens import ways
from coach.units import show_length

HINTS = {
    "crosshair": "Arrows move the cross onto the mark; then Enter.",
    "gaps": "Three gaps and the width, or all four.",
    "offsets": "From the centre; left and down are minus.",
    "clock": "From the centre, and which hour it points to.",
}


def option_rows(entries: Mapping[str, str], way: ways.Way) -> list[str]:
    """How the options stand, each with its key; what is not the usual in capitals."""
    rows = ["F: outer face, which the beam hits"]
    if ways.option(entries, "face") == "sticky":
        rows = ["F: STICKY FACE, picture as you see it;", "   left and right are swapped for you"]
    if way.key == "crosshair":
        return [*rows, f"+ −: step {show_length(ways.crosshair_of(entries).step)}"]
    row = "mm (I: inches)" if ways.option(entries, "unit") == "mm" else "INCHES (M: mm)"
    if way.key == "gaps":
        row += f" · E: to its {'near edge' if ways.option(entries, 'to') == 'edge' else 'CENTRE'}"
    elif way.key == "offsets":
        row += f" · R: {ways.option(entries, 'tool')}"
    return [*rows, row]


def hints(way: ways.Way, bench: BenchMark | None) -> list[str]:
    """What to do, and in practice what the bench's callipers say."""
    said = [f"{bench.callipers}."] if bench else []
    return [*said, HINTS[way.key]]
