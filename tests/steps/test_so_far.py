"""What was done in this round so far, as it stands below the picture."""

from built_steps import built
from following import follow

from coach.session.events import Mark
from coach.shown import IN_MM
from coach.steps.current import current_step
from coach.steps.so_far import so_far
from coach.steps.words import turn_words


def test_marks_are_ticked_off_station_by_station() -> None:
    """Before the first mark every station is still to come; before the first turn each has the place of its mark."""
    assert all(row.startswith("· ") for row in so_far(built("go"), IN_MM)[1:])
    session = built("screw")
    marks = {event.station: event for event in session.effective if isinstance(event, Mark)}
    told = [f"✓ {s.name}: {IN_MM.place(marks[s.name].u, marks[s.name].v)}" for s in session.machine.stations]
    assert list(so_far(session, IN_MM)[1:]) == told


def test_turns_are_ticked_off_screw_by_screw() -> None:
    """After the first screw it stands there as it was turned, and nothing else."""
    session = built("screw")
    step = current_step(session, IN_MM)
    follow(session, step)
    assert step.screw is not None
    told = f"✓ mirror {step.screw.mirror}, {step.screw.screw}: {turn_words(step.screw.turns, IN_MM)}"
    assert so_far(session, IN_MM)[1:] == (told,)
