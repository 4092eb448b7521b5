"""Another dose than told, or other tape: typed, understood or refused in a sentence, and carried to the mark."""

import pytest
from built_steps import built

from coach import Session
from coach.errors import InputError
from coach.machine import Pulse as Pulsing
from coach.reading.offsets import from_offsets
from coach.session.events import Arrive, Mark, Pulse
from coach.shown import IN_MM
from coach.steps import dosing
from coach.steps.current import current_step
from coach.steps.entries import entry_words
from coach.steps.perform import perform
from coach.steps.step import Choice
from coach.steps.undo import take_back


def set_otherwise(session: Session, **typed: str) -> None:
    """What a person types at the pulse."""
    step = current_step(session, IN_MM)
    choice = next(choice for choice in step.choices if choice.wants == "dose")
    dosing.enter_dose(session, step, choice, typed)


def test_what_is_set_is_said_at_the_pulse_and_carried_to_the_mark() -> None:
    """One entry; the step says whose setting it is; pulse and mark have its time, power and layers; undone, the dose
    is told again."""
    session = built("pulse")
    told = current_step(session, IN_MM).shot
    set_otherwise(session, ms="90", power="15", layers="2")
    assert isinstance(session.effective[-1], Arrive)
    step = current_step(session, IN_MM)
    assert step.key == "pulse"
    assert "Set by you: 90 ms at 15 %, 2 layers of tape." in step.do[0]
    assert "90 ms at 15 %, 2 layers of tape" in entry_words(session.effective[-1], IN_MM)
    take_back(session)
    assert current_step(session, IN_MM).shot == told
    set_otherwise(session, ms="90", power="15", layers="2")
    perform(session, current_step(session, IN_MM), "mark")
    perform(session, current_step(session, IN_MM), "measured", reading=from_offsets("1", "1"))
    for made in (next(e for e in session.effective if isinstance(e, Pulse)), session.effective[-1]):
        assert isinstance(made, Pulse | Mark)
        assert (made.ms, made.power, made.layers) == (90.0, 15.0, 2)


def test_the_next_pulse_goes_on_from_what_was_set() -> None:
    """After nothing at 90 ms the next is one step of 1.4 more (the ladder's own, docs/model.md): 126 ms, no word of
    layers that were said for one piece of tape alone."""
    session = built("pulse")
    set_otherwise(session, ms="90", layers="2")
    perform(session, current_step(session, IN_MM), "nothing")
    step = current_step(session, IN_MM)
    assert "126 ms" in step.do[-1]
    perform(session, step, "arrived")
    shot = current_step(session, IN_MM).shot
    assert (shot.ms, shot.layers) == (126.0, None)


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"ms": "0"}, "A pulse of 0 ms cannot be. Expected more than 0 ms"),
        ({"ms": "-70"}, "A pulse of -70 ms cannot be. Expected more than 0 ms"),
        ({"ms": "0,07"}, "in seconds it would be 70 ms"),
        ({"ms": "700"}, "A pulse of 700 ms is beyond the ceiling"),
        ({"ms": "soon"}, "cannot be read"),
        ({"power": "0"}, "A power of 0 %"),
        ({"power": "101 %"}, "at most 100 per cent"),
        ({"layers": "1,5"}, "a whole number from 1 to 20"),
        ({"layers": "0"}, "a whole number from 1 to 20"),
        ({"ms": " ", "power": "", "layers": ""}, "Nothing was entered"),
    ],
)
def test_what_cannot_be_is_refused_in_a_sentence(typed: dict[str, str], said: str) -> None:
    """Nothing is entered then."""
    session = built("pulse")
    before = session.events
    for refused in (lambda: dosing.dose_echo(session, typed), lambda: set_otherwise(session, **typed)):
        with pytest.raises(InputError, match=said):
            refused()
    assert session.events == before


def test_units_are_read() -> None:
    """70 ms, 0.07 s, a bare 70; per cent with and without its sign."""
    assert [dosing.read_dose({"ms": text})["ms"] for text in ("70", "70 ms", "0.07 s")] == [70.0, 70.0, 70.0]
    assert dosing.read_dose({"power": "12 %"}) == dosing.read_dose({"power": "12"})


def test_what_is_remarkable_is_said_and_not_refused() -> None:
    """Eight times what marked first (the ladder's ceiling, docs/model.md), and tape of other layers than before."""
    session = built("pulse")
    assert dosing.dose_echo(session, {"ms": "400", "layers": "2"}) == "Understood: 400 ms, 2 layers of tape."
    session.mark("middle", u=0.0, v=0.0, ms=40)
    said = dosing.dose_echo(session, {"ms": "400", "layers": "2"})
    assert "400 ms is beyond the ceiling, 8 times the 40 ms that marked first" in said
    assert dosing.doubtful(session, {"ms": "400"})
    assert not dosing.doubtful(session, {"ms": "320", "layers": "2"})
    assert "layers of tape are not those of the marks before" in said
    assert dosing.dose_echo(session, {"ms": "320"}) == "Understood: 320 ms."


def test_only_what_the_machine_lets_one_set_is_asked() -> None:
    """Nobody times a finger, and a knob without a scale has no per cent; the tape can always be another."""
    assert dosing.dose_fields(Pulsing()) == ("ms", "power", "layers")
    assert dosing.dose_fields(Pulsing(timed=False)) == ("power", "layers")
    assert dosing.dose_fields(Pulsing(timed=False, percent=False)) == ("layers",)


def test_a_choice_that_wants_a_dose_is_refused_without() -> None:
    """The table's row."""
    session = built("pulse")
    step = current_step(session, IN_MM)
    assert Choice("set-otherwise", "Set otherwise", "dose") in step.choices
    with pytest.raises(InputError, match="What was really set was not said"):
        perform(session, step, "set-otherwise")
