"""Screw threads by name, for mounts whose pitch nobody has measured.

Metric pitches: ISO 261/262/724 (values read in a secondary chart).  Inch threads: ASME B1.1 (from
memory), pitch = 25.4 mm / threads per inch; 1 inch is 25.4 mm exactly.
"""

from coach.errors import UnknownName

MM_PER_INCH = 25.4

METRIC_COARSE = {"M2.5": 0.45, "M3": 0.5, "M4": 0.7, "M5": 0.8, "M6": 1.0, "M8": 1.25}
METRIC_FINE = {
    "M2.5x0.35": 0.35,
    "M3x0.35": 0.35,
    "M4x0.5": 0.5,
    "M5x0.5": 0.5,
    "M6x0.75": 0.75,
    "M8x1": 1.0,
}
THREADS_PER_INCH = {
    "4-40": 40,
    "6-32": 32,
    "8-32": 32,
    "10-24": 24,
    "10-32": 32,
    "1/4-20": 20,
    "1/4-28": 28,
    "1/4-80": 80,
}

PITCHES: dict[str, float] = (
    METRIC_COARSE | METRIC_FINE | {name: MM_PER_INCH / tpi for name, tpi in THREADS_PER_INCH.items()}
)
"""Thread name to pitch in mm."""


def pitch_of_thread(name: str) -> float:
    """Pitch in mm of a thread such as "M4", "M4x0.5", "M4 × 0.7" or "1/4-20".  Raises UnknownName."""
    plain = name.replace(" ", "").replace("×", "x").replace("X", "x").replace(",", ".").strip()
    plain = "M" + plain[1:] if plain[:1] == "m" else plain
    if plain in PITCHES:
        return PITCHES[plain]
    size, _, pitch = plain.partition("x")
    if size in METRIC_COARSE and pitch:
        for candidate, value in PITCHES.items():
            if candidate.partition("x")[0] == size and f"{value:g}" == pitch:
                return value
    raise UnknownName(
        f"The thread {name!r} is not in the table",
        expected="one of: " + ", ".join(PITCHES) + "; or give the pitch in mm",
    )
