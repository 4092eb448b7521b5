"""One session of the zoo: an adviser says, an owner does, and the score keeps what really happened."""

from coach.parts import DIRECTIONS
from coach.practice.bench import Bench
from coach.practice.case import Case
from coach.practice.conduct import Adviser
from coach.practice.owner import Owner
from coach.practice.peers import Peer, the_coach
from coach.practice.tally import Played
from coach.session.session import Session

__all__ = ["Played", "play", "play_case"]

MOST_STEPS = 150
"""A session that is not at an end by then counts as given up."""
DIFFERENT_MOVES = sum(len(directions) for directions in DIRECTIONS.values())
"""Whoever refuses more than these is asked again for what was refused, and gives up."""


def play_case(case: Case, seed: int, peer: Peer = the_coach) -> Played:
    """One session of a case; with `case.second` the first session is played before, unscored."""
    machine = case.machine(seed)
    bench = Bench(machine, seed, case.kind, travel=case.travel)
    profile, adviser = peer(machine, bench)
    session = Session.start(profile)
    played = play(session, bench, adviser, case)
    if not case.second:
        return played
    again = Bench(machine, seed + 1_000_000, case.kind, mounts_of=seed, travel=case.travel)
    profile, adviser = peer(session.learned(), again)
    return play(Session.start(profile), again, adviser, case)


def play(session: Session, bench: Bench, adviser: Adviser, case: Case | None = None) -> Played:
    """One session from the first mark to its end; `case`: how its owner reads, looks and answers."""
    owner = Owner(session, bench, case.sd, case.onward, case.scorch) if case else Owner(session, bench)
    end, cause, promised = "given up", "", float("nan")
    for _ in range(MOST_STEPS):
        action = adviser(session)
        promised = action.promised
        if action.kind == "stop" and owner.goes_on(action.cause):
            continue
        if action.kind in ("done", "stop"):
            end, cause = action.kind, action.cause
            break
        if action.kind == "shoot":
            owner.shoot(action.stations)
        else:
            owner.adjust(action)
        if owner.tally.refused > DIFFERENT_MOVES:
            break
    return owner.tally.played(bench.seed, end, cause, bench.worst(), promised)
