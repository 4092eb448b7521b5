"""One session of the zoo: an adviser says, the bench does, and the score keeps what really happened."""

from dataclasses import dataclass

from coach.advice.facts import Shot
from coach.practice.action import Action
from coach.practice.bench import Bench
from coach.practice.peers import Adviser, Peer, the_coach
from coach.practice.zoo import Case
from coach.session.session import Session

MOST_STEPS = 150
"""A session that is not at an end by then counts as given up."""


@dataclass(frozen=True)
class Played:
    """How one session went, judged on the machine's true state."""

    seed: int
    end: str
    """"done", "stop" or "given up"."""
    cause: str
    worst: float
    """mm, true largest station offset at the end."""
    promised: float
    """mm, the worst offset the adviser expected at the end."""
    rounds: int
    """Times that turning was advised."""
    shifts: int
    pulses: int
    off_tape: int


def play_case(case: Case, seed: int, peer: Peer = the_coach) -> Played:
    """One session of a case; with `case.second` the first session is played before, unscored."""
    machine = case.machine(seed)
    bench = Bench(machine, seed, case.kind)
    profile, adviser = peer(machine, bench)
    session = Session.start(profile)
    played = play(session, bench, adviser, case.sd)
    if not case.second:
        return played
    again = Bench(machine, seed + 1_000_000, case.kind, mounts_of=seed)
    profile, adviser = peer(session.learned(), again)
    return play(Session.start(profile), again, adviser, case.sd)


def play(session: Session, bench: Bench, adviser: Adviser, sd: float | None = None) -> Played:
    """One session from the first mark to its end."""
    counts = {"turn": 0, "shift": 0, "pulse": 0, "off": 0}
    end, cause, promised = "given up", "", float("nan")
    for _ in range(MOST_STEPS):
        action = adviser(session)
        promised = action.promised
        if action.kind in ("done", "stop"):
            end, cause = action.kind, action.cause
            break
        if action.kind == "shoot":
            for shot in action.stations:
                counts["pulse"] += 1
                if not _fire(session, bench, shot, sd):
                    counts["off"] += 1
                    break
        else:
            counts[action.kind] += 1
            _adjust(session, bench, action)
    return Played(
        bench.seed,
        end,
        cause,
        bench.worst(),
        promised,
        counts["turn"],
        counts["shift"],
        counts["pulse"],
        counts["off"],
    )


def _next_key(session: Session) -> int:
    return len(session.events) + 1


def _fire(session: Session, bench: Bench, shot: Shot, sd: float | None) -> bool:
    """One pulse; whether it left a mark on the tape."""
    seen = bench.pulse(shot.x, shot.y, shot.target, key=_next_key(session))
    if seen is None:
        session.miss(shot.name, x=shot.x, y=shot.y, target=shot.target)
        return False
    session.mark(shot.name, seen.u, seen.v, x=shot.x, y=shot.y, target=shot.target, sd=sd)
    return True


def _adjust(session: Session, bench: Bench, action: Action) -> None:
    for turn in action.turns:
        bench.turn(turn.mirror, turn.screws, key=_next_key(session))
        session.turn(turn.mirror, turn.screws)
    if action.part:
        up, right, back = action.up, action.right, action.back
        bench.shift(action.part, up, right, back, key=_next_key(session))
        session.shift(action.part, up=up, right=right, back=back)
