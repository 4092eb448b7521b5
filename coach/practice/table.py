"""The benchmark as a Markdown table: the coach and its peers (`coach.practice.peers`), on the same machines."""

import math
import time
from collections.abc import Callable, Sequence

from coach.practice.case import Aims, Case
from coach.practice.kinds import KINDS
from coach.practice.peers import Peer, baseline, oracle, technician, the_coach
from coach.practice.score import FALSE, Score, run_case, score

PEERS: dict[str, Peer] = {"coach": the_coach, "habit": baseline, "all-knowing": oracle, "technician": technician}
"""Who plays: name to peer."""

COLUMNS = (
    "case", "who", "sessions", "ended well", "within at done", "stops", "rounds", "pulses", "minutes", "tube moved",
    "least move", "early moves", "off tape", "false alarms", "false coarse / loose / station",
)  # fmt: skip
HEADER = (f"| {' | '.join(COLUMNS)} |", "|---" * len(COLUMNS) + "|")


def row(who: str, result: Score) -> str:
    """One line of the table; the coach's line carries the case's aims in brackets."""
    aims = result.case.aims if who == "coach" else _NO_AIMS
    cells = (
        result.case.name,
        who,
        str(result.sessions),
        _share(result.good) + (f" (≥ {aims.within:.1%})" if aims.within else ""),
        _share(result.within),
        _share(result.stops),
        _spread(result.rounds, aims.rounds),
        _spread(result.pulses, aims.pulses),
        _spread(result.minutes, aims.minutes),
        _at_most(f"{result.tube_moves:.2f}", aims.tube),
        f"{result.smallest_move:.1f}" if math.isfinite(result.smallest_move) else "–",
        f"{result.early_moves:.2f}",
        _at_most(f"{result.off_tape:.3f}", aims.off_tape),
        _share(result.false_alarms),
        _at_most(" / ".join(_share(result.false_stops.get(cause, math.nan)) for cause in FALSE), aims.false_loose),
    )
    return "| " + " | ".join(cells) + " |"


_NO_AIMS = Aims(0.0, None, None, None)


def _share(value: float) -> str:
    return "–" if math.isnan(value) else f"{value:.1%}"


def _spread(value: tuple[float, float], aim: tuple[float, float] | None) -> str:
    """Median / 95 %, and the aim in brackets."""
    return f"{value[0]:g} / {value[1]:.1f}" + (f" ({aim[0]:g} / {aim[1]:g})" if aim else "")


def _at_most(said: str, aim: float | None) -> str:
    return said + (f" (≤ {aim:g})" if aim is not None else "")


def ratios(by_peer: dict[str, Score]) -> str:
    """The coach's median rounds, pulses and minutes as shares of the habit's, its minutes of the technician's."""
    coach, said = by_peer["coach"], []
    if (habit := by_peer.get("habit")) is not None and habit.rounds[0] and habit.pulses[0]:
        said = [
            f"{coach.rounds[0] / habit.rounds[0]:.2f} of the habit's rounds",
            f"{coach.pulses[0] / habit.pulses[0]:.2f} of its pulses",
            f"{coach.minutes[0] / habit.minutes[0]:.2f} of its minutes",
        ]
    if (technician := by_peer.get("technician")) is not None:
        said.append(f"{coach.minutes[0] / technician.minutes[0]:.2f} of the technician's minutes")
    return f"{coach.case.name}: {', '.join(said)}" if said else ""


def plays(who: str, case: Case) -> bool:
    """The peers name no causes, the habit learns nothing for a second session, the technician knows of no yaw.

    Neither habit nor technician knows what to make of a pulse of which nothing is seen.
    """
    if who == "coach":
        return True
    strange = who == "technician" and KINDS[case.kind].yaw != 0.0
    unsure = case.scorch is not None and who in ("habit", "technician")
    return not (case.aims.cause or strange or unsure or (who == "habit" and case.second))


def play_all(cases: Sequence[Case], sessions: int, first_seed: int, say: Callable[[str], None]) -> None:
    """Play every case with every peer that can play it, and say the table as it grows."""
    begun = time.monotonic()
    for line in HEADER:
        say(line)
    compared = []
    for case in cases:
        by_peer: dict[str, Score] = {}
        for who, peer in PEERS.items():
            if not plays(who, case):
                continue
            played = run_case(case.name, range(first_seed, first_seed + sessions), peer)
            by_peer[who] = score(case, played)
            say(row(who, by_peer[who]))
        compared.append(ratios(by_peer))
    say("")
    for line in filter(None, compared):
        say(f"- {line}")
    say(f"\n{sessions} sessions a row, seeds from {first_seed}, {time.monotonic() - begun:.0f} s.")
