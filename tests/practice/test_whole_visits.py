"""Whole visits, played by somebody who does what the steps say and enters what the practice machine shows.

No screen: each is led by the steps alone, from the complaint to closing up.  Every loop ends (`tests/rehearsing.py`).
"""

from dataclasses import dataclass, field
from math import hypot
from pathlib import Path

import pytest
from rehearsing import rehearse
from sweeps import sampled

from coach.practice.begun import begun
from coach.practice.visit_bench import VisitBench
from coach.practice.visit_kinds import SCENARIOS
from coach.session.document import Practice
from coach.session.events import Gate, Opened, Pulse
from coach.session.head_events import HeadPulse
from coach.session.session import Session
from coach.session.visit_events import Care, Check, Cut
from coach.steps.perform import perform
from coach.steps.step import Step
from coach.triage.causes import Cause
from coach.triage.suspects import Ends

BEFORE_A_PULSE = {"rules", "eyewear", "firing", "fire", "air", "tape"}
"""Gates that stand before each pulse, since the program was opened and the machine plugged in."""


@dataclass
class Visit:
    """What one visit came to."""

    session: Session
    steps: list[Step] = field(default_factory=list)
    verdicts: list[tuple[Ends, str, bool]] = field(default_factory=list)
    """What each verdict led to, in order, those left out that only ask for one more look."""
    again: list[str] = field(default_factory=list)
    """Whether it cuts as it did, by each cut check."""


def played(kind: str, seed: int, *, every_part: bool = False) -> Visit:
    """One visit to its end; `every_part`: also through what the evidence passes over."""
    session = begun(Practice(kind=kind, seed=seed))
    session.opened()
    visit = Visit(session)
    for step in rehearse(session, every_part=every_part):
        visit.steps.append(step)
        if step.key == "verdict" and session.verdict().ends != "test":
            verdict = session.verdict()
            visit.verdicts.append((verdict.ends, verdict.cause, verdict.service))
        if step.key == "cut-result":
            visit.again.append(session.cuts().again)
    return visit


def bench_of(session: Session) -> VisitBench:
    """The machine as it stands now."""
    assert session.practice is not None
    return VisitBench.after(session.machine, session.practice.seed, session.practice.kind, session.events)


def gates_of(visit: Visit) -> None:
    """Nothing was pulsed, cut, or reached into before what has to be true was acknowledged."""
    given: set[str] = set()
    off = False
    for event in visit.session.effective:
        match event:
            case Opened():
                given = set()
            case Gate(name="isolated"):
                given, off = given & {"rules"}, True
            case Gate(name="powered"):
                off = False
            case Gate():
                given.add(event.name)
            case Pulse():
                assert not off
                assert given >= BEFORE_A_PULSE
            case HeadPulse():  # its card and tape are steps of their own
                assert not off
                assert given >= BEFORE_A_PULSE - {"tape"}
            case Cut():
                assert not off
                assert given >= {"rules", "attended"}
            case Care() | Check(name="bed" | "lens" | "mirrors" | "rail"):
                assert off
                assert "rules" in given
            case _:
                pass
    assert all(step.cautions for step in visit.steps)


FOUND: dict[str, Cause] = {
    "visit-bed": "bed",
    "visit-focus": "focus",
    "visit-lens": "lens",
    "visit-mirrors": "mirrors",
    "visit-extraction": "extraction",
    "visit-material": "material",
    "visit-rail": "rail",
}
"""What is found by its own test, and mended by the owner."""


@pytest.mark.parametrize("kind", sampled(FOUND, "visit-bed", "visit-mirrors"))
def test_a_cause_is_found_mended_and_the_machine_cuts_as_it_did(kind: str) -> None:
    """The first verdict names what is wrong, and the second cut check says that it is gone."""
    visit = played(kind, 3)
    assert visit.verdicts[0] == ("not alignment", FOUND[kind], False)
    assert visit.again[-1] == "yes"
    assert visit.again[0] == ("" if kind == "visit-material" else "no")
    gates_of(visit)


def test_warm_water_stops_everything_until_it_is_cool() -> None:
    """Nothing is fired or cut between the warm reading and the next one; then it cuts as it did."""
    visit = played("visit-cooling", 1)
    keys = [step.key for step in visit.steps]
    warm = keys.index("halt")
    assert visit.steps[warm - 1].item == visit.steps[warm].item == "water"
    assert visit.again == ["no", "yes"]
    gates_of(visit)


@pytest.mark.sweep
def test_a_failing_supply_is_left_to_the_service() -> None:
    """It is looked at twice before that is said, and nothing that the owner did made it cut better."""
    visit = played("visit-supply", 1)
    assert visit.verdicts[-1] == ("not alignment", "supply", True)
    assert set(visit.again) == {"no"}
    gates_of(visit)


@pytest.mark.sweep
def test_a_tired_tube_is_what_is_left_once_everything_else_was_looked_at() -> None:
    """Nothing that the owner does makes it cut better; back at the checks, looked at twice, the tube is named."""
    visit = played("visit-tube", 1)
    assert visit.again == ["no", "no"]
    gates_of(visit)
    session = begun(Practice(kind="visit-tube", seed=1))
    session.opened()
    last = next(step for step in rehearse(session) if step.key == "still-weak")
    perform(session, last, "begin-part")
    assert next(step for step in rehearse(session) if step.key == "still-weak")
    verdict = session.verdict()
    assert (verdict.ends, verdict.cause, verdict.service) == ("not alignment", "tube", True)


ALIGNED = ("cut again", "", False)
"""Once the head was moved, or the lens out, the focus is looked at again; nothing else is blamed before a cut."""


def test_a_beam_out_of_its_path_is_aligned_and_cuts_as_it_did() -> None:
    """The checks clear everything else; marks and turns do the rest."""
    visit = played("visit-alignment", 1)
    assert visit.verdicts == [("on to the beam", "alignment", False), ALIGNED]
    assert visit.again == ["no", "yes"]
    gates_of(visit)


@pytest.mark.sweep
def test_of_two_causes_the_bed_comes_first_and_then_the_beam() -> None:
    """A bed out of level and a beam out of its path: both are named, both are gone in the end."""
    visit = played("visit-mixed", 1)
    assert visit.verdicts[0][:2] == ("not alignment", "bed")
    assert visit.verdicts[-2][:2] == ("on to the beam", "alignment")
    assert visit.verdicts[-1] == ALIGNED
    assert visit.again[0] == "no"
    assert visit.again[-1] == "yes"
    gates_of(visit)


@pytest.mark.sweep
def test_pulses_that_are_too_weak_are_made_stronger_until_they_mark() -> None:
    """The machine cuts as it did, so nothing is blamed; its doses are raised at the first station."""
    visit = played("visit-weak", 1, every_part=True)
    assert visit.verdicts[0][0] == "as it was"
    doses = [e.ms * e.power for e in visit.session.effective if isinstance(e, Pulse) and e.ms and e.power]
    assert max(doses) > 1.3 * doses[0]
    gates_of(visit)


@pytest.mark.sweep
@pytest.mark.parametrize("seed", [1, 2])
def test_a_tilted_mirror_3_and_a_lens_off_its_place_are_put_right(seed: int) -> None:
    """By what is truly so, not by what is said: upright and through the nozzle's middle, nearly."""
    visit = played("visit-head", seed, every_part=True)
    assert "head-done" in {step.key for step in visit.steps}
    began, ended = bench_of(begun(Practice(kind="visit-head", seed=seed))), bench_of(visit.session)
    assert hypot(*began.head.lean()) > 0.5
    assert ended.head.good(lean=0.5, nozzle=0.3)
    assert visit.again[-1] == "yes"
    gates_of(visit)


@pytest.mark.sweep
def test_a_pointer_beside_the_mark_comes_onto_it_last() -> None:
    """At both heights, and after the head: nothing else of the machine was wrong."""
    visit = played("visit-pointer", 1, every_part=True)
    keys = [step.key for step in visit.steps]
    assert keys.index("pointer-done") > keys.index("head-done")
    pointer = bench_of(visit.session).pointer
    assert max(hypot(*pointer.at(lowered)) for lowered in (0.0, 20.0)) < 0.8
    assert set(visit.again) == {"yes"}
    gates_of(visit)


@pytest.mark.sweep
def test_left_and_opened_again_the_visit_is_the_same(tmp_path: Path) -> None:
    """Opened anew from its file every twenty entries: gates are asked again, the rest comes to the same."""
    kind = "visit-lens"
    once = played(kind, 4)
    path = tmp_path / "visit.toml"
    session = begun(Practice(kind=kind, seed=4))
    session.keep_in(path)
    verdicts, finished = [], False
    for _ in range(50):
        session = Session.resume(path)
        session.opened()
        for count, step in enumerate(rehearse(session)):
            if step.key == "verdict" and session.verdict().ends != "test":
                verdicts.append(session.verdict().cause)
            if count >= 20 and not step.gate:
                break
        else:
            finished = True
            break
    assert finished
    assert list(dict.fromkeys(verdicts)) == list(dict.fromkeys(cause for _, cause, _ in once.verdicts))
    assert session.cuts().again == once.again[-1] == "yes"
    gates_of(Visit(session))


def test_every_scenario_is_played() -> None:
    """A new scenario wants a test here."""
    alone = {"visit-cooling", "visit-supply", "visit-alignment", "visit-mixed", "visit-weak", "visit-tube"}
    assert {*FOUND, *alone, "visit-head", "visit-pointer"} == set(SCENARIOS)
