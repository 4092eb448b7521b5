"""The benchmark as a Markdown table: the coach, the trade habit and the all-knowing, on the same machines."""

import time
from collections.abc import Callable, Sequence

from coach.practice.peers import Peer, baseline, oracle, the_coach
from coach.practice.score import Score, run_case, score
from coach.practice.zoo import Case

PEERS: dict[str, Peer] = {"coach": the_coach, "habit": baseline, "all-knowing": oracle}
"""Who plays: name to peer."""

HEADER = (
    "| case | who | sessions | ended well | within at done | stops | rounds | pulses | off tape | false alarms |",
    "|---|---|---|---|---|---|---|---|---|---|",
)


def row(who: str, result: Score) -> str:
    """One line of the table; the coach's line carries the case's aims in brackets."""
    aims = result.case.aims if who == "coach" else None
    well = f" ({'≥ '}{aims.within:.1%})" if aims else ""
    rounds = f" ({aims.rounds[0]:g} / {aims.rounds[1]:g})" if aims and aims.rounds else ""
    pulses = f" ({aims.pulses[0]:g} / {aims.pulses[1]:g})" if aims and aims.pulses else ""
    off = f" (≤ {aims.off_tape:g})" if aims and aims.off_tape is not None else ""
    within = "–" if result.within != result.within else f"{result.within:.1%}"
    cells = (
        result.case.name,
        who,
        str(result.sessions),
        f"{result.good:.1%}{well}",
        within,
        f"{result.stops:.1%}",
        f"{result.rounds[0]:g} / {result.rounds[1]:.1f}{rounds}",
        f"{result.pulses[0]:g} / {result.pulses[1]:.1f}{pulses}",
        f"{result.off_tape:.3f}{off}",
        f"{result.false_alarms:.1%}",
    )
    return "| " + " | ".join(cells) + " |"


def ratios(by_peer: dict[str, Score]) -> str:
    """The coach's median rounds and pulses as shares of the habit's."""
    coach, habit = by_peer["coach"], by_peer["habit"]
    if not habit.rounds[0] or not habit.pulses[0]:
        return ""
    return (
        f"{coach.case.name}: {coach.rounds[0] / habit.rounds[0]:.2f} of the habit's rounds, "
        f"{coach.pulses[0] / habit.pulses[0]:.2f} of its pulses"
    )


def play_all(cases: Sequence[Case], sessions: int, first_seed: int, say: Callable[[str], None]) -> None:
    """Play every case with every peer that can play it, and say the table as it grows."""
    begun = time.monotonic()
    for line in HEADER:
        say(line)
    compared = []
    for case in cases:
        by_peer: dict[str, Score] = {}
        for who, peer in PEERS.items():
            if (who != "coach" and case.aims.cause) or (who == "habit" and case.second):
                continue  # the peers name no causes, and the habit learns nothing from one session to the next
            played = run_case(case.name, range(first_seed, first_seed + sessions), peer)
            by_peer[who] = score(case, played)
            say(row(who, by_peer[who]))
        if "habit" in by_peer:
            compared.append(ratios(by_peer))
    say("")
    for line in filter(None, compared):
        say(f"- {line}")
    say(f"\n{sessions} sessions a row, seeds from {first_seed}, {time.monotonic() - begun:.0f} s.")
