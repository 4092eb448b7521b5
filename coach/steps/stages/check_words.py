"""Each check with covers shut in words: what is done, what good and bad look like, and what the machine is meanwhile.

All of it common practice; the machine's manual comes first.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from coach.steps.part import Laser
from coach.triage.causes import CheckName


@dataclass(frozen=True)
class CheckWords:
    """One check."""

    action: str
    """Large, a few words."""
    do: tuple[str, ...]
    good: str
    bad: str
    laser: Laser
    measured: str = ""
    """What is entered as figures; "" where there are none."""


CHECK_WORDS: Mapping[CheckName, CheckWords] = {
    "bed": CheckWords(
        "Bed: 4 corner gaps",
        (
            "Slide the head by hand to each corner of its travel. Put one block on the bed under the nozzle and "
            "measure what is left between them, or the whole gap with the callipers' depth rod.",
            "Measure from the same part of the head each time, and on the bed itself, not on a slat that sags.",
        ),
        "the same block just fits at every corner",
        "it does not fit alike",
        "off",
        "Gaps measured: enter them",
    ),
    "focus": CheckWords(
        "Focus: ramp board",
        (
            "Key out: a flat board on a 20 mm block, so that it rises 20 mm over 200 mm; the gauge's height at its "
            "middle. Hands out: drive the head along; the nozzle must clear the board, above all where it is high. "
            "Lid shut, key in: one line no longer than that, at the lowest power that marks. Then key out, and look.",
            "The thinnest place of the line should be where the gauge was set.",
        ),
        "the thinnest place is at the gauge's height",
        "the thinnest place lies elsewhere",
        "cutting",
        "Measured: how far off it lies",
    ),
    "lens": CheckWords(
        "Lens: look by a torch",
        (
            "Look at the lens from above and from below by a torch held aslant: haze, spots, a crack? Does its ring "
            "sit firm, and is the curved side where the manual wants it (mostly up)?",
            "A crack or a burnt spot: do not wipe it, do not fire; put gloves on, wipe up damp, bag it.",
        ),
        "clear, firm, right way round",
        "haze, spot, loose, or wrong way round",
        "off",
        "The focus moved as it warmed: enter how far",
    ),
    "mirrors": CheckWords(
        "Mirrors: look by a torch",
        (
            "Look at each mirror's face by a torch held aslant: haze, scratches, burnt spots? No finger on a face. "
            "One that is under a cover of the tube stays shut: say that it was not checked.",
        ),
        "all of them bright",
        "haze, scratches or burnt spots",
        "off",
    ),
    "water": CheckWords(
        "Water: warm? flowing?",
        (
            "Key out. Read the temperature where the water runs back: the probe hangs by its lead, no hand in the "
            "water. See it flow; bubbles: through the tube's window, its covers stay shut.",
            "With the room's temperature and humidity the coach says whether it may settle on the tube as dew.",
        ),
        "15 to 25 °C, it flows, no bubbles",
        "too warm, too cold, no flow or bubbles",
        "idle",
        "It flows, no bubbles: enter the temperatures",
    ),
    "tube": CheckWords(
        "Current at the panel",
        (
            "Key out: lay a scrap in. Hands out, lid shut, key in: read the panel's needle while it cuts at the "
            "usual setting. Then key out. Never above the current that the tube is rated for, and no meter of your "
            "own goes anywhere near its wires.",
            "Its hours stand in the controller, or in your log.",
        ),
        "as it used to be",
        "less or more than it used to be",
        "cutting",
        "Enter current and hours",
    ),
    "supply": CheckWords(
        "Panel current: steady?",
        ("Key out: lay a scrap in. Hands out, lid shut, key in: watch the panel's needle during one whole cut. Does "
         "it stand still where it used to? Then key out.",),
        "steady, where it used to be",
        "it trembles, falls, or stands elsewhere",
        "cutting",
    ),
    "extraction": CheckWords(
        "Extraction: tissue test",
        ("Key out, head at rest, nobody at the panel. Extraction on: hold a tissue to the grate by its corner. It "
         "should stay there by itself. Hand out again.",
         "At the last cut smoke should have left at once: what stands in the beam takes part of it."),
        "the tissue holds, no smoke stands",
        "the tissue falls, or smoke stands",
        "idle",
    ),
    "material": CheckWords(
        "Material: cut an old piece",
        ("Make one and the same cut in this sheet and in a piece of the old one, or of one that is known to cut. Key "
         "out to lay each in and to look; lid shut, key in, for the cut alone.",),
        "both cut alike",
        "the old one cuts, this one does not",
        "cutting",
    ),
    "rail": CheckWords(
        "Rails: slide by hand",
        ("Slide head and gantry along their whole ways by hand: is there dirt, a dent, a wheel with play, a belt "
         "that is slack?",),
        "it slides evenly, nothing has play",
        "dirt, a dent or play",
        "off",
    ),
}  # fmt: skip
