"""Which gates are asked when a session is opened again at any step, and in which order: said here by hand.

Alone along the beam's path that is the same at every step but a few; in a visit each step stands in the table.
"""

from itertools import takewhile

from built_below import BELOW_NAMES
from built_steps import built

from coach.steps.gates import FLAME_OUT, GATES, TUBE_OFF

AGAIN = [gate.name for gate in GATES if gate.asked in ("every time", "before the beam")]
BEAM = ["eyewear", "firing", "fire", "air"]
WITH_TAPE_ON = ("measure", "search-measure")
"""Nobody is told to put fresh tape on before these."""
IN_A_VISIT = {
    **dict.fromkeys(("visit-done", "visit-stop", "check-up", "check-up-alone"), AGAIN),
    **{name: ["rules"] for name in ("next-part", "parts-done", "still-weak")},
    **{name: ["rules", "isolated"] for name in ("isolated", "close-item")},
    "powered": ["rules", "powered", *BEAM, "tape"],
    "interlock-test": ["rules", *BEAM],
    "key-out": ["rules", "key-out"],
    **{name: ["rules"] for name in ("ask", "ask-more", "suspects", "verdict", "halt")},
    **{
        name: ["rules", "isolated"]
        for name in ("check", "check-bed", "level-bed", "clean-combiner", "clean-optic", "clean-out", "halt-optic")
    },
    "attended": ["rules", "attended"],
    **{name: ["rules"] for name in ("cut-sheet", "cut-result", "sheet-again", "cut-again")},
    **{name: ["rules", "attended"] for name in ("cut-station", "cut-more")},
    **{name: ["rules", *BEAM] for name in BELOW_NAMES},
    "head-flare": [FLAME_OUT.name, "rules", *BEAM],
    "head-unknown": ["rules"],
}
"""The rules, and what the machine has to be there: off, on, or safe to pulse or cut with."""


def asked_again(name: str) -> list[str]:
    """All of them, one after the other.  Raises LookupError for a step of a visit that is not told of here."""
    if name in IN_A_VISIT:
        return IN_A_VISIT[name]
    if built(name).is_visit:
        raise LookupError(f"say in IN_A_VISIT, tests/asked_again.py, which gates are asked again at {name!r}")
    flame, tube = [FLAME_OUT.name] * (name == "flare"), [TUBE_OFF.name] * (name in ("tube-off", "move-tube"))
    return [*flame, *(gate for gate in AGAIN if gate != "tape" or name not in WITH_TAPE_ON), *tube]


def asked_before(name: str, gate: str | None) -> list[str]:
    """Those that come before the step itself, which asks that gate, if any."""
    order = [each.name for each in GATES]
    if gate in order and name == gate:
        return [each for each in AGAIN if order.index(each) < order.index(gate)]
    return list(takewhile(lambda each: each != gate, asked_again(name)))
