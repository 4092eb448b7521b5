"""A mark as each method measures it: what the tests of the table of methods and those of typed text begin with."""

from collections.abc import Mapping

MEASURED: Mapping[str, tuple[dict[str, str], ...]] = {
    "crosshair": ({"cross_u": "1.5", "cross_v": "-0.5", "step": "0.1"},),
    "gaps": (
        {"left": "8,5", "right": "5.4", "top": "7,4", "bottom": "6.5", "mark": "", "to": "edge", "unit": "mm"},
        {"left": "1/4", "right": "3/16", "top": "", "bottom": "1/4", "mark": "1/8", "to": "centre", "unit": "in"},
    ),
    "offsets": (
        {"across": "1/16", "along": "-0.02", "tool": "ruler", "unit": "in"},
        {"across": "-1,2", "along": "0,6", "tool": "", "unit": "mm"},
    ),
    "clock": (
        {"distance": "1,6", "hour": "3:30", "unit": "mm"},
        {"distance": "0", "hour": "12 o'clock", "unit": "in"},
    ),
}
"""By the method's key: the first of each is a mark about 1.5 mm right and 0.5 mm down in an opening of 18 mm."""


def measured(method: str) -> tuple[dict[str, str], ...]:
    """Measurements by that method.  Raises LookupError for one by which nobody measured here."""
    if method not in MEASURED:
        raise LookupError(f"measure a mark by {method!r} too: MEASURED in tests/readings.py")
    return MEASURED[method]
