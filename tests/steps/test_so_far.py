"""What was done in this round so far, as it stands below the picture."""

from built_steps import built
from following import follow

from coach.scenes.of_bed import bed_scene
from coach.session.events import Mark, Plan
from coach.shown import IN_MM
from coach.steps.current import current_step
from coach.steps.perform import perform
from coach.steps.so_far import so_far


def test_marks_are_ticked_off_station_by_station() -> None:
    """Before the first mark every station is still to come; before the first turn each has the place of its mark."""
    assert all(row.startswith("· ") for row in so_far(built("go"), IN_MM)[1:])
    session = built("adjust")
    marks = {event.station: event for event in session.effective if isinstance(event, Mark)}
    told = [f"✓ {s.name}: {IN_MM.place(marks[s.name].u, marks[s.name].v)}" for s in session.machine.stations]
    assert list(so_far(session, IN_MM)[1:]) == told


def test_turns_are_ticked_off_screw_by_screw() -> None:
    """All of the plan in order: turned as they really were, then the one to turn now, then those to come."""
    session = built("screw")
    step = current_step(session, IN_MM)
    planned = next(event for event in reversed(session.effective) if isinstance(event, Plan))
    screws = [(mirror, name, by) for mirror, some in planned.turns.items() for name, by in some.items()]
    assert [row[:5] for row in so_far(session, IN_MM)[1:]] == [
        f"{'·' if number else '▶'} {mirror} {name}" for number, (mirror, name, _) in enumerate(screws)
    ]
    assert step.screw is not None
    perform(session, step, "turned-half")
    mirror, name, by = screws[0]
    words = IN_MM.turns(by / 2)
    rows = so_far(session, IN_MM)[1:]
    assert rows[0] == f"✓ {mirror} {name}: {words.ticks} {words.direction.lower()}"
    assert [row[0] for row in rows[1:]] == ["▶", *"·" * (len(screws) - 2)][: len(screws) - 1]


def test_a_mark_that_was_asked_for_ends_the_round() -> None:
    """Then the stations stand there again, each still to come."""
    session = built("screw")
    for _ in range(9):
        step = current_step(session, IN_MM)
        if step.key == "pulse":
            break
        follow(session, step)
    assert step.key == "pulse"
    assert so_far(session, IN_MM)[0] == "Marks in this round:"


def test_nothing_seen_is_no_miss() -> None:
    """While nobody knows why a pulse left nothing, neither the rows nor the bed's picture says that it missed."""
    session = built("nothing")
    station = session.machine.stations[0].name
    (sighting,) = session.belief.round_sightings
    assert sighting.station == station
    assert so_far(session, IN_MM)[1] == f"? {station}: nothing seen"
    assert {dot.name: dot.state for dot in bed_scene(session, None).stations}[station] == "nothing seen"
    session.miss(station)
    assert so_far(session, IN_MM)[1] == f"! {station}: missed"
    assert {dot.name: dot.state for dot in bed_scene(session, None).stations}[station] == "missed"
