"""Cut checks of rehearsed visits, before the work and after it, beside what the hidden machine really cuts."""

import pytest
from rehearsing import rehearse

from coach.practice.begun import begun
from coach.practice.visit_bench import VisitBench
from coach.session.document import Practice
from coach.session.session import Session

SEED = 3


def share_of_then(session: Session, kind: str) -> float:
    """The true limit over that of the sound machine, at the station that lost most."""
    bench = VisitBench.after(session.machine, SEED, kind, session.events)
    sound = bench.world.speeds(sound=True)
    speeds = bench.speeds()
    return min(speeds[station.name] / once for station, once in zip(session.machine.stations, sound, strict=True))


@pytest.mark.parametrize("kind", ["visit-bed", "visit-mirrors"])
def test_before_it_does_not_cut_as_it_did_and_after_the_work_it_does(kind: str) -> None:
    """The word is the machine's, and the interval beside it holds the hidden share both times."""
    session = begun(Practice(kind=kind, seed=SEED))
    session.opened()
    said: dict[str, str] = {}
    for step in rehearse(session):
        if step.key == "cut-result":
            worst, share = session.cuts().worst, share_of_then(session, kind)
            assert worst is not None
            assert worst[0] <= share <= worst[2]
            assert (share > 0.95) == (step.part == "cut again")
            said[step.part or ""] = step.action
    assert said == {"cut check": "Cuts as it did: no", "cut again": "Cuts as it did: yes"}


def test_another_batch_is_not_compared_and_the_old_one_is() -> None:
    """A new batch, harder to cut: how it once cut stands beside nothing until a sheet of the old one lies in."""
    session = begun(Practice(kind="visit-material", seed=SEED))
    session.opened()
    said = [step.action for step in rehearse(session) if step.key == "cut-result"]
    assert said == ["Cuts alike everywhere", "Cuts as it did: yes"]
