"""When the laser is off and on around hands: isolation while hands are in (29 CFR 1910.147 (b), ANSI Z136.1, by pages
that quote them); that the key goes in at the pulse and nowhere else, and how a mount is handled, is common practice.
"""

import pytest
from built_steps import NAMES, built
from built_steps import step_at as at

from coach.shown import IN_MM
from coach.steps.cautions import COVERS, NOT_FIRING, SUPPLY, TUBE, WAIT
from coach.steps.current import current_step
from coach.steps.locks import before_turn
from coach.steps.perform import perform
from coach.steps.table import STEPS, cautions_for
from coach.steps.words import OUT_AGAIN

NO_HANDS_IN = {
    *("question", "safety", "pulse", "flare", "unplug", "switch-on", "attended", "head-pulse", "interlock-test"),
}
"""Asked, fired or fought with hands out; before the tube its own caution says more."""
NEAR_THE_TUBE = {"rules", "clean", "go-mirror", "elsewhere", "adjust", "screw", "adjust-part", "move", "done", "stop"}
"""Where hands or a search for a fault come near mirror 1, and so near the tube's end."""


def said(name: str) -> str:
    """What the step says is to be done."""
    return " ".join(at(name).do)


def test_isolation_is_cautioned_of_wherever_hands_go_in() -> None:
    """At the measuring too, where a tape is peeled off beside a lens; the tube's steps say it in their own words."""
    assert {key for key in STEPS if NOT_FIRING not in cautions_for(key)} == NO_HANDS_IN
    assert TUBE in cautions_for("unplug")


def test_the_tubes_supply_is_cautioned_of_near_the_tube() -> None:
    """Mirror 1 stands at the tube's end: cleaned, turned, locked, or looked at for a fault."""
    assert {key for key in NEAR_THE_TUBE if SUPPLY not in cautions_for(key)} == set()


def test_who_looks_for_a_fault_is_told_of_interlocks_and_smouldering() -> None:
    """ "Does it fire at all?" sends people to lid switches; looking for a scorch, to what may smoulder."""
    assert COVERS in cautions_for("stop")
    assert "smouldering" in said("nothing")
    assert WAIT in cautions_for("measure")


@pytest.mark.parametrize("name", ["go", "confirm", "lock", "search", "at-mirror"])
def test_the_head_moves_first_then_the_key_is_out_then_hands_go_in(name: str) -> None:
    """The order of the words is the order of the hands."""
    text = said(name)
    hands = "card" if "card" in text else "resh tape"
    places = [text.index(part) for part in (("Park" if name == "at-mirror" else "Move"), "key out", hands)]
    assert places == sorted(places)


@pytest.mark.parametrize("name", ["nozzle-tape", "bed-card", "lens-out", "pointer-card"])
def test_below_the_head_too_the_key_is_out_before_hands_go_in(name: str) -> None:
    """The head is driven there first, then the key comes out, then card, tape or lens."""
    text = said(name)
    hands = min(text.index(word) for word in ("Lens", "ard", "tape") if word in text)
    assert text.index("Head at") < text.index("key out") < hands


def test_the_key_goes_in_at_the_pulse_and_nowhere_else() -> None:
    """And with hands out: a step that fires nothing never tells to switch on."""
    assert said("pulse").startswith("Hands out, key in.")
    telling = {name for name in NAMES if "key in" in said(name).replace("its key in", "").lower()}
    assert telling - {"check"} == {"pulse", "head-pulse"}  # a check that cuts puts a scrap in first, and takes it out
    assert said("head-pulse").startswith("Hands out, key in.")


def test_after_a_pulse_and_before_a_screw_the_key_comes_out() -> None:
    """Said where the pulse is made, as what it left is fetched next, and where a mount or a part is slackened."""
    assert all(said(name).endswith(OUT_AGAIN) for name in ("pulse", "head-pulse"))
    for name in ("screw", "head-turn", "move", "head-shift"):
        text = said(name)
        assert text.index("Key out.") < text.index("lacken")


@pytest.mark.parametrize("name", ["measure", "search-measure", "nozzle-mark", "bed-mark", "pointer-spot"])
def test_the_key_is_out_before_a_tape_is_touched(name: str) -> None:
    """The first words of the step."""
    assert said(name).startswith("Laser supply off, key out")


def test_the_tubes_end_is_named_where_mirror_1s_tape_is_measured() -> None:
    """That step is the same for the head, where it would be noise."""
    session = built("at-mirror")
    perform(session, at("at-mirror"), "arrived")
    perform(session, current_step(session, IN_MM), "mark")
    assert "tube's end" in " ".join(current_step(session, IN_MM).do)
    assert "tube's end" not in said("measure")


def test_how_nuts_and_parts_are_slackened_is_said_where_it_is_done() -> None:
    """A nut drags its screw along, and half a millimetre can only be moved where it is gauged."""
    assert "held still by its key" in said("screw")
    assert "screws held" in said("done")
    for part in ("lacken its bracket", "before and after"):
        assert part in said("move")


def test_a_head_that_was_moved_is_out_of_focus() -> None:
    """The lens moved with it: said at the end, and only then."""
    assert "gauge the focus anew" in said("done")
    assert "gauge the focus" not in said("aligned")


def test_hands_that_go_to_a_mark_read_key_out_in_the_largest_letters() -> None:
    """The form opens at once after a pulse, and between the two only the key takes the hazard away."""
    for name in ("measure", "search-measure", "nozzle-mark", "bed-mark", "pointer-spot"):
        assert at(name).action.startswith("Key out")
        assert at(name).cautions[1 if name == "pointer-spot" else 0] == NOT_FIRING


def test_the_nut_is_said_wherever_hands_are_at_it() -> None:
    """Slack while it is turned, finger-tight between rounds, found so in the next one; tight at the end."""
    session = built("screw")
    step = current_step(session, IN_MM)
    assert "Slacken its lock nut." in step.do[0]
    assert "finger-tight" in step.do[1]
    assert step.screw is not None
    session.turn(step.screw.mirror, {step.screw.screw: 0.1})
    assert "finger-tight so far" in before_turn(session, step.screw.mirror, step.screw.screw)
    session.lock(step.screw.mirror)
    assert before_turn(session, step.screw.mirror, step.screw.screw) == "Slacken its lock nut."
