"""Whichever way a visit is gone through: no hands where power is on, no pulse that something speaks against.

What stops firing: visit.md's "above 30 °C stop", dew point after Magnus (WMO-No. 8, from memory); that a pulse
without water cracks a tube, and that nothing is fired through a broken lens, is common practice.
"""

import random

import pytest
from built_steps import built
from visiting import at, visit

from coach import Session
from coach.practice.demo import demo_machine
from coach.steps.cautions import HANDS, SMOULDER
from coach.steps.key_now import key_may_be_in
from coach.steps.perform import perform
from coach.steps.stages.check_words import CHECK_WORDS
from coach.steps.stages.cleaning import ORDER
from coach.steps.stages.closing import CLOSING
from coach.steps.step import Step
from coach.steps.undo import take_back
from coach.steps.visit import part_kind
from coach.steps.visit_progress import part_now
from coach.visit import VISIT_PARTS, VisitPart

FIRING = ("beam path", "cut check", "cut again")


def gates(session: Session) -> list[str | None]:
    """All that is confirmed until a step is reached that asks no gate."""
    asked: list[str | None] = []
    while at(session).gate:
        assert len(asked) < 12
        asked.append(at(session).gate)
        perform(session, at(session), "acknowledge")
    return asked


@pytest.mark.parametrize("optic", ORDER)
def test_no_pulse_while_an_optic_is_out_of_its_mount(optic: str) -> None:
    """Said to come out, then another part: the machine stays off, and its own step comes back first."""
    session = visit("clean")
    gates(session)
    while at(session).item != optic:
        perform(session, at(session), "cared", option="clean")
    perform(session, at(session), "comes-out")
    for part in FIRING:
        session.begin(part)
        gates(session)
        if part != "beam path":
            assert at(session).key == "cut-sheet"  # nothing is fired yet
            continue
        assert (at(session).key, at(session).item) == ("clean-optic", optic)
    session.opened()
    session.begin("beam path")
    assert gates(session) == ["rules", "isolated"]
    perform(session, at(session), "cared", option="clean")
    assert gates(session)[0] == "powered"
    assert at(session).part != "clean"


def test_a_tube_that_was_unplugged_is_plugged_in_before_anything_is_cut() -> None:
    """Hands were at it; another part, or that it cannot be moved, leads on again and asks all that stood before."""
    session = built("tube-off")
    session.begin("beam path")
    session.gate("attended")
    perform(session, at(session), "acknowledge")
    assert at(session).key == "move-tube"
    for part in ("cut check", "beam path"):
        session.begin(part)
        if part == "beam path":
            assert at(session).key == "move-tube"  # still unplugged, nobody is told to plug in
            session.refuse("tube")
        assert (at(session).key, at(session).gate) == ("switch-on", "powered")
    assert {"powered", "eyewear", "firing", "fire", "air"} <= set(gates(session))


def test_who_cannot_move_an_unplugged_tube_says_anew_what_is_true_before_the_beam() -> None:
    """Along the beam alone too: it was unplugged, so water and air are off."""
    session = built("tube-off")
    perform(session, at(session), "acknowledge")
    session.refuse("tube")
    assert {"eyewear", "firing", "fire", "air"} <= set(gates(session))


def test_who_bumps_something_at_an_unplugged_tube_says_anew_what_is_true_before_the_beam() -> None:
    """Marks come first then, so it is plugged in again: water and air are seen to as before the first pulse."""
    session = built("tube-off")
    perform(session, at(session), "acknowledge")
    session.disturbed("machine")
    assert {"eyewear", "firing", "fire", "air"} <= set(gates(session))


def test_a_halt_stands_until_somebody_looked() -> None:
    """Not checked, not opened: that lifts nothing; and a current is above what the tube stands until it was read."""
    session = visit("checks")
    session.check("water", "bad", celsius=33.0)
    session.check("water", "not checked")
    assert session.checks()["water"].stop
    session.check("water", "good", celsius=20.0)
    session.check("tube", "bad", current=26.0, rated=24.0)
    session.check("tube", "good")
    session.check("tube", "good", current=25.0)  # the rating stands, though it is not entered again
    assert "25 mA is above" in session.checks()["tube"].stop
    session.check("tube", "good", current=20.0)
    assert not any(found.stop for found in session.checks().values())
    session.care("lens", "cracked")
    session.care("lens", "not opened")
    session.begin("beam path")
    gates(session)
    assert (at(session).key, at(session).action) == ("halt-optic", "Lens cracked: key out")


def test_bad_water_fires_nothing_without_any_thermometer() -> None:
    """No flow has no degrees; ice has; and with 21 °C beside it what the eye found still stands."""
    for figures in ({}, {"celsius": 21.0}, {"celsius": -1.0}):
        session = visit("checks")
        session.check("water", "bad", **figures)
        session.begin("beam path")
        gates(session)
        assert (at(session).key, at(session).item) == ("halt", "water")
    assert "ice" in session.checks()["water"].stop


def test_a_lens_seen_broken_at_its_check_is_not_cut_through() -> None:
    """The current is read while it cuts: not through that lens, whatever is checked next."""
    session = visit("checks")
    for _ in range(20):
        gates(session)
        if (at(session).key, at(session).item) == ("check", "lens"):
            break
        perform(session, at(session), "checked", option="good")
    perform(session, at(session), "lens-broken")
    session.check("focus", "good")
    seen = []
    for _ in range(20):
        gates(session)
        step = at(session)
        if step.key != "check":
            break
        seen.append(step.item)
        perform(session, step, "checked", option="good")
    assert "lens" not in seen
    session.begin("cut check")
    session.begin("beam path")
    gates(session)
    assert at(session).key == "halt-optic"


def test_the_panels_needle_is_the_supplys_word_not_the_tubes() -> None:
    """Less current speaks for supply or setting (common practice); the light, and so the tube, no needle tells."""
    session = visit("checks")
    session.check("tube", "bad")
    by_name = {suspect.name: suspect for suspect in session.suspects()}
    assert by_name["tube"].state == "open"
    assert by_name["supply"].speaks_for


def test_closing_up_goes_on_where_nothing_may_be_fired() -> None:
    """The interlock stays untested; the head is parked, and somebody looks for smoke."""
    session = visit("close up")
    session.care("lens", "cracked")
    came = []
    for _ in range(30):
        gates(session)
        step = at(session)
        if step.key not in ("close-item", "halt-optic"):
            break
        came.append(step.item)
        perform(session, step, "item-done" if step.key == "close-item" else "item-open")
    assert came == [item.name if item.name != "interlock" else "lens" for item in CLOSING]
    session.begin("beam path")
    gates(session)
    assert "item-open" not in [choice.key for choice in at(session).choices]


def test_undo_of_a_slip_at_the_plug_asks_again() -> None:
    """Said to be off by a slip: taken back before the entry that stands behind it, else hands go in with power on."""
    session = visit("clean")
    gates(session)
    take_back(session)
    assert at(session).gate == "isolated"


def test_undo_after_a_resume_means_the_last_entry() -> None:
    """In parts that do not pulse the beam's gates are not asked, so none of them is being given."""
    session = visit("what changed")
    perform(session, at(session), "answer", option="at one place")
    session.opened()
    gates(session)
    take_back(session)
    assert session.answers() == {}
    session = visit("clean")
    gates(session)
    perform(session, at(session), "cared", option="haze")
    session.opened()
    gates(session)
    take_back(session)
    assert session.cared() == {}


def test_hands_are_out_before_axes_move_and_nobody_leaves_without_a_look() -> None:
    """Homing moves head and gantry; between two parts a visit can be closed; at its end the key is out."""
    assert HANDS in at(built("powered")).cautions
    assert at(built("powered")).action == "Hands out, then plug in"
    assert SMOULDER in at(built("next-part")).cautions
    last_on = [item for item in CLOSING if item.laser in ("idle", "pulses")][-1]
    assert "key out, machine off" in last_on.text
    assert set(FIRING) <= set(VISIT_PARTS)


def test_who_comes_back_to_a_part_that_pulses_goes_to_its_target_anew() -> None:
    """Meanwhile the head may have been homed or have cut elsewhere, and tape or card be off: no pulse at once."""
    session = built("pulse")
    assert at(session).key == "pulse"
    for part in ("what changed", "beam path"):
        session.begin(part)
    gates(session)
    assert at(session).key in ("go", "go-mirror")
    session = visit("head")
    session.item("head", "undescribed", True)
    for _ in range(12):
        gates(session)
        if at(session).key == "head-pulse":
            break
        perform(session, at(session), "undescribed" if at(session).key == "head-unknown" else "ready")
    assert at(session).key == "head-pulse"
    for part in ("what changed", "head"):
        session.begin(part)
    gates(session)
    assert at(session).key in ("bed-card", "nozzle-tape")


def test_before_a_cut_the_lens_is_said_to_be_in_again() -> None:
    """Below the head marks are made with the lens out: confirmed before, it does not hold any more."""
    session = visit("cut check")
    session.gate("attended")
    session.begin("head")
    session.begin("checks")
    for _ in range(20):
        step = at(session)
        if step.gate == "attended":
            break
        perform(session, step, "acknowledge") if step.gate else perform(session, step, "checked", option="good")
    assert at(session).gate == "attended"
    assert "Lens and nozzle in" in at(session).do[0]


# -- the key, whichever way a visit is walked -------------------------------------------------------

SAYS_KEY_OUT = ("rules", "key-out", "isolated", "powered", "tube-off")
WALKED: tuple[VisitPart, ...] = tuple(part for part in VISIT_PARTS if part not in ("beam path", "head", "pointer"))
"""Parts that are walked at random; those with marks are left from their pulses in a test of their own."""


def laser_of(session: Session, step: Step) -> str:
    """What the table of parts says the machine is at a step that is about one of them."""
    part = part_now(session.effective)
    return "" if step.gate or part is None or step.part != part else part_kind(part).needs_laser(step)


def told_to_fire(session: Session, step: Step) -> bool:
    """Whether somebody at this step may turn the key: it pulses or cuts there."""
    return laser_of(session, step) in ("pulses", "cutting")


def answered(session: Session, step: Step, luck: random.Random) -> None:
    """One answer of those that need nothing typed."""
    simple = [c for c in step.choices if c.wants in ("", "option") and c.key != "finish"]
    typed = {"cut-sheet": lambda: session.sheet("ply 6 mm, lot 3", power=60.0, speed=15.0)}
    if step.key in typed and not any(c.wants == "option" for c in step.choices):
        typed[step.key]()
        return
    choice = luck.choice(simple)
    perform(session, step, choice.key, option=choice.option or None)


@pytest.mark.parametrize("seed", [1, 3])
def test_no_hands_go_in_after_it_fired_before_the_key_is_said_to_be_out(seed: int) -> None:
    """Walked at random from part to part: at no step with hands in or near may the key still be in.

    What is counted here is what stands on the screen, not what the program makes of its events: a step at which it
    cuts or pulses puts the key in, whatever is entered there; only a gate that says so takes it out.
    """
    luck, session = random.Random(seed), Session.start(demo_machine())
    session.begin("cut check")
    may_be_in, quiet = False, 0
    for _ in range(120):
        step = at(session)
        if step.gate:
            may_be_in &= step.gate not in SAYS_KEY_OUT
            perform(session, step, "acknowledge")
            continue
        hands_in = laser_of(session, step) in ("idle", "off") or step.key == "check"  # a check's scrap is laid in too
        assert not (may_be_in and hands_in), (step.key, step.item)
        quiet += laser_of(session, step) == "idle"
        may_be_in |= told_to_fire(session, step)
        if luck.random() < 0.3 or not any(c.wants in ("", "option") for c in step.choices):
            session.begin(luck.choice(WALKED))
        else:
            answered(session, step, luck)
    assert quiet > 5


def test_who_leaves_the_beam_for_a_sheet_or_the_head_is_told_key_out() -> None:
    """From a pulse that was not made: the key may be in, and a sheet is laid in by hand."""
    session = built("pulse")
    for part in ("cut check", "beam path", "head"):
        session.begin(part)
        asked = gates(session)
        assert ("key-out" in asked) == (part == "cut check" or at(session).key == "head-unknown")


def test_a_check_that_cuts_says_when_the_key_is_out_and_when_it_goes_in() -> None:
    """Needle, ramp board, old piece: hands lay something in, it cuts, hands fetch it: all in its words."""
    cutting = [words for words in CHECK_WORDS.values() if words.laser == "cutting"]
    assert len(cutting) == 4
    for words in cutting:
        said = words.do[0].lower()
        assert said.index("key out") < said.index("key in"), said
        assert said.count("key out") == 2 or "key out to lay each in and to look" in said, said


def test_the_second_check_that_cuts_asks_for_the_key_before_its_scrap_is_laid_in() -> None:
    """The needle was read while it cut, so the key may be in; the first of them was just plugged in, with it out."""
    session = visit("checks")
    asked: dict[str | None, list[str | None]] = {}
    for _ in range(20):
        given = gates(session)
        if at(session).key != "check":
            break
        asked[at(session).item] = given
        perform(session, at(session), "checked", option="good")
    cutting = [name for name in asked if name in CHECK_WORDS and CHECK_WORDS[name].laser == "cutting"]
    assert len(cutting) >= 2
    first, *others = cutting
    assert "key-out" not in asked[first]
    assert all("key-out" in asked[name] or "powered" in asked[name] for name in others)


def test_a_mark_entered_without_its_pulse_was_fired() -> None:
    """The shell takes a mark alone: whoever comes back to a check with the machine on takes the key out first."""
    session = visit("checks")
    gates(session)
    session.gate("key-out")
    assert not key_may_be_in(session.effective)
    session.mark("middle", 0.5, 0.5)
    assert key_may_be_in(session.effective)


def test_undo_of_a_slip_at_the_key_asks_again() -> None:
    """Said to be out by a slip: undo takes that back, and not the cut before it."""
    session = built("cut-station")
    session.begin("checks")
    session.begin("cut again")
    while at(session).gate != "key-out":
        perform(session, at(session), "acknowledge")
    perform(session, at(session), "acknowledge")
    take_back(session)
    assert at(session).gate == "key-out"
