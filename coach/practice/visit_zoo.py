"""The zoo of bad cuts: `python -m coach.practice.visit_zoo` prints the table of docs/benchmark.md.

Each machine cuts worse than it did, for a reason that is hidden.  The coach is followed from the complaint to what it
says is wrong; beside it stands the habit: clean everything, then align everything.
"""

import argparse
import os
import sys
from collections.abc import Iterable, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from functools import partial
from statistics import median

if __name__ == "__main__":
    for _library in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS"):  # many small matrices: one thread a process
        os.environ.setdefault(_library, "1")

from coach.practice.visit_kinds import Wrong
from coach.practice.visit_owner import answer_all, cut_everywhere, look, mark_everywhere
from coach.practice.visit_world import draw_world, mended
from coach.practice.zoo import zoo_machine
from coach.session.session import Session
from coach.triage.causes import ABOUT, Cause

SHEET = "ply 6 mm, lot 3"
KINDS: dict[str, tuple[tuple[Wrong, ...], ...]] = {
    "alignment": (("alignment",),),
    "bed": (("bed",),),
    "focus": (("focus",),),
    "lens": (("lens",),),
    "mirrors": (("mirrors",),),
    "tube": (("tube",),),
    "cooling": (("cooling",),),
    "supply": (("supply",),),
    "material": (("material",),),
    "extraction": (("extraction",),),
    "rail": (("rail",),),
    "mixed": (
        ("alignment", "lens"),
        ("bed", "tube"),
        ("focus", "cooling"),
        ("alignment", "bed"),
        ("lens", "mirrors"),
    ),
}
CUT, QUESTIONS, MARKS, CLEAN, ALIGN = 8.0, 3.0, 15.0, 10.0, 30.0
"""Minutes: a cut check, the questions, marks at every station; cleaning everything, aligning everything."""
HABIT_ENDS: frozenset[Wrong] = frozenset(("alignment", "mirrors", "lens"))
"""What the habit cures."""


@dataclass(frozen=True)
class Played:
    """How one visit ended."""

    wrong: tuple[Wrong, ...]
    named: str
    """The cause that was named first."""
    found: bool
    """Everything that was wrong was mended, or what was left to the service was wrong."""
    minutes: float
    """To the end; the mending itself not counted."""
    realigned: bool
    """Told to align a beam that was where it should be."""
    marked: bool
    """Whether it came to marks."""


class _Visit:
    """One visit under way."""

    def __init__(self, kind: str, seed: int) -> None:
        self.world = draw_world(zoo_machine(), KINDS[kind][seed % len(KINDS[kind])], seed)
        self.wrong = self.world.wrong
        self.session = Session.start(self.world.machine)
        before = Session.start(self.world.machine)
        cut_everywhere(before, self.world, True, SHEET)
        self.session.baseline(before.kept_cuts())
        answer_all(self.session, self.world)
        self._cut()
        self.minutes = QUESTIONS + CUT
        self.named = ""
        self.realigned = self.marked = False

    def goes_on(self) -> bool:
        """One thing that the coach asks for; False at an end."""
        where = self.session.verdict()
        cause = where.cause
        if where.ends == "as it was" or not cause:
            return False
        if where.ends == "test":
            self._look(cause)
        elif where.ends == "on to the beam" and not self.session.belief.seen:
            mark_everywhere(self.session, self.world)
            self.minutes, self.marked = self.minutes + MARKS, True
        else:
            self.named = self.named or cause
            self.realigned = self.realigned or (cause == "alignment" and cause not in self.world.wrong)
            self.world = mended(self.world, cause)
            if where.service:
                return False
            self._again(cause)
        return True

    def _look(self, cause: Cause) -> None:
        check = ABOUT[cause].check
        assert check is not None
        look(self.session, self.world, check)
        if any(check in doubt.about for doubt in self.session.doubts()):
            look(self.session, self.world, check)  # word and figure do not agree: asked about, and looked at anew
        self.minutes += ABOUT[cause].minutes

    def _again(self, cause: Cause) -> None:
        """What was named was mended: it is looked at, or marked, once more, and the sheet is cut once more."""
        if cause == "alignment":
            for part in (
                "tube",
                "mirror 1",
                "mirror 2",
                "machine",
                "machine",
            ):  # how is the beam's part's own business
                self.session.disturbed(part)
            mark_everywhere(self.session, self.world)
            self.minutes += MARKS
        else:
            self._look(cause)
        self._cut()
        self.minutes += CUT

    def _cut(self) -> None:
        cut_everywhere(self.session, self.world, False, SHEET)


MOST = 40
"""Things asked for in one visit; one that is not at an end by then found nothing."""


def play(kind: str, seed: int) -> Played:
    """One visit from the complaint to its end."""
    visit = _Visit(kind, seed)
    for _ in range(MOST):
        if not visit.goes_on():
            break
    return Played(visit.wrong, visit.named, not visit.world.wrong, visit.minutes, visit.realigned, visit.marked)


def line_of(kind: str, played: Sequence[Played]) -> str:
    """One row of the table."""
    found = sum(one.found for one in played) / len(played)
    named = sum(one.named in one.wrong for one in played) / len(played)
    realigned = sum(one.realigned for one in played) / len(played)
    marked = sum(one.marked for one in played) / len(played)
    habit = sum(HABIT_ENDS.issuperset(one.wrong) for one in played) / len(played)
    taken = median(one.minutes for one in played)
    shares = (f"{found:.1%}", f"{named:.1%}", f"{realigned:.1%}", f"{marked:.0%}")
    row = (kind, *shares, f"{taken:.0f}", f"{habit:.0%}", f"{CLEAN + ALIGN:.0f}")
    return "| " + " | ".join(row).replace("%", " %") + " |"


HEADER = (
    "| hidden | found | named at first | wrongly told to align | came to marks | minutes | the habit cures "
    "| its minutes |",
    "|---|---|---|---|---|---|---|---|",
)


def play_all(kinds: Iterable[str], count: int, first_seed: int) -> None:
    """Print the table, and what it comes to over all."""
    everything: list[Played] = []
    print("\n".join(HEADER))
    with ProcessPoolExecutor() as pool:
        for kind in kinds:
            played = list(pool.map(partial(play, kind), range(first_seed, first_seed + count), chunksize=4))
            everything += played
            print(line_of(kind, played), flush=True)
    print(line_of("all", everything))


def main() -> int:
    """Parse the arguments and play."""
    parser = argparse.ArgumentParser(prog="python -m coach.practice.visit_zoo", description=__doc__)
    parser.add_argument("--visits", type=int, default=84, help="visits for each row (default 84)")
    parser.add_argument("--first-seed", type=int, default=0, help="first seed (default 0)")
    parser.add_argument("kinds", nargs="*", metavar="KIND", help=f"what is hidden (default all: {', '.join(KINDS)})")
    given = parser.parse_args()
    unknown = [kind for kind in given.kinds if kind not in KINDS]
    if unknown or given.visits < 1 or given.first_seed < 0:
        parser.error(f"unknown kind {unknown[0]!r}" if unknown else "visits from 1, seeds from 0")
    play_all(given.kinds or KINDS, given.visits, given.first_seed)
    return 0


if __name__ == "__main__":
    sys.exit(main())
