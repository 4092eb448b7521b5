"""Cleaning: every optic once in the beam's order; what was out is marked again, what is broken is not fired at."""

from typing import get_args

from visiting import at

from coach import Session
from coach.practice.demo import demo_machine
from coach.session.visit_events import Care
from coach.steps.perform import perform
from coach.steps.stages.cleaning import HALTING, ORDER, RESULTS
from coach.triage.cleaned import Cleaned, Optic


def cleaning() -> Session:
    session = Session.start(demo_machine())
    session.begin("clean")
    for gate in ("rules", "isolated"):
        session.gate(gate)
    return session


def test_every_optic_once_the_lens_last() -> None:
    """In the order of the beam; one that is not there is not asked for again."""
    assert sorted(ORDER) == sorted(get_args(Optic))
    assert set(RESULTS) == set(get_args(Cleaned))
    session, came = cleaning(), []
    while (step := at(session)).key == "clean-optic":
        assert len(came) < len(ORDER)
        came.append(step.item)
        if step.item == "combiner":
            perform(session, step, "none-here")
        else:
            perform(session, step, "cared", option="clean")
    assert came == ["combiner", "mirror 1", "mirror 2", "mirror 3", "lens"]
    assert "combiner" not in session.cared()


def test_what_comes_out_is_kept_so_with_how_it_looks() -> None:
    """Said before it is done; then it cannot be "not opened", and its entry says that it was out: once."""
    session = cleaning()
    perform(session, at(session), "none-here")
    perform(session, at(session), "comes-out")
    assert at(session).item == "mirror 1"
    assert "not opened" not in [choice.option for choice in at(session).choices]
    perform(session, at(session), "cared", option="clean")
    perform(session, at(session), "cared", option="haze")
    entries = [(e.optic, e.result, e.taken_out) for e in session.effective if isinstance(e, Care)]
    assert entries == [("mirror 1", "clean", True), ("mirror 2", "haze", False)]


def test_nothing_is_fired_at_a_broken_optic_until_a_new_one_is_in() -> None:
    """Whichever part is gone to next; a scratch or haze holds nobody up."""
    for optic in ORDER:
        for result in get_args(Cleaned):
            session = cleaning()
            session.care(optic, result)
            session.begin("beam path")
            broken = result in HALTING[optic]
            assert (at(session).key == "halt-optic") == broken
            if broken:
                assert "key out" in at(session).action
                perform(session, at(session), "renewed")
                assert at(session).key == "switch-on"
    assert set(HALTING["lens"]) == {"cracked", "burnt"}
