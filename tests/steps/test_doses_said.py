"""What doses tell is said where they tell anything: which station, how much, how sure, and of what beam's growth."""

from machines import make_machine

from coach import Session
from coach.plain.listing import review_lines
from coach.shown import IN_MM
from coach.steps.doses_said import dose_lines, dose_sentence


def bracketed(**marked: tuple[float, float]) -> Session:
    """A session in which each station was left blank by one dose and marked by a larger one, ms."""
    session = Session.start(make_machine())
    for name, (none, ms) in marked.items():
        session.nothing(name.replace("_", "-"), ms=none, power=12)
        session.mark(name.replace("_", "-"), u=0.0, v=0.0, ms=ms, power=12)
    return session


def test_nothing_is_said_where_doses_cannot_be_compared() -> None:
    """No dose, or one station alone: no line, no sentence."""
    for session in (Session.start(make_machine()), bracketed(back_left=(60, 84))):
        assert (dose_lines(session), dose_sentence(session)) == ((), "")
        assert "Dose" not in " ".join(review_lines(session, IN_MM))


def test_a_little_more_blames_nobody() -> None:
    """60 to 84 ms and 84 to 118 ms: 1.4 times, which the interval takes for growth alone."""
    session = bracketed(back_left=(60, 84), front_right=(84, 118))
    dose = session.doses()["front-right"]
    figures = f"1.4 ({dose.low:.1f} to {dose.high:.1f})"
    heading, line, gets = dose_lines(session)
    assert "as so many times that at back-left" in heading
    assert line == f"front-right: {figures}; a usual beam's growth makes {dose.expected:.1f}"
    (low, power, high), (least, excess, most) = dose.power, dose.excess
    assert low < power < high
    assert gets == (
        f"front-right: power there {power:.2f} ({low:.2f} to {high:.2f}); "
        f"dose beyond growth and edges {excess:.1f} ({least:.1f} to {most:.1f})"
    )
    assert review_lines(session, IN_MM)[-3:] == [heading, line, gets]
    said = dose_sentence(session)
    assert said.startswith("At front-right a mark needs 1.4 times the dose of back-left")
    assert "clipping" not in said


def test_far_more_is_a_suspicion_at_its_own_station() -> None:
    """60 to 84 ms and 300 to 420 ms, five times: more than any beam of this machine grows; called probable only."""
    session = bracketed(back_left=(60, 84), middle=(60, 84), front_right=(300, 420))
    said, beyond = dose_sentence(session), session.doses()["front-right"].excess
    assert said.startswith("At front-right a mark needs 5.0 times the dose of back-left")
    assert beyond[0] > 1
    assert f"{beyond[1]:.1f} ({beyond[0]:.1f} to {beyond[2]:.1f}) times" in said
    assert said.endswith("probably clipping or dirt on the way there. Look at mirrors 1 and 2 first.")
