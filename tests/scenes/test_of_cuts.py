"""The cuts of a visit on their pictures: as entered, beside what they are compared with."""

from built_cuts import WEAK
from built_steps import built

from coach.pictures.cut_bed import CutBedScene
from coach.pictures.cut_ladder import CutsScene
from coach.scenes.of_step import scene_for, second_scene
from coach.shown import IN_MM
from coach.steps.current import current_step
from coach.steps.cut_progress import cut_progress, series


def shown(name):
    """The session of that name, its step, and both pictures."""
    session = built(name)
    step = current_step(session, IN_MM)
    first, second = scene_for(session, step, None, IN_MM), second_scene(session, step, IN_MM)
    assert isinstance(first, CutsScene)
    assert isinstance(second, CutBedScene)
    return session, step, first, second


def test_a_station_to_cut_shows_its_lines_and_nothing_cut():
    """The speeds are those that the step tells; nothing is compared before there is anything."""
    session, step, scene, second = shown("cut-station")
    assert [cut.station for cut in scene.cuts if cut.now] == [step.item]
    assert scene.ladder == series(session, cut_progress(session, "cut check"), step.item)
    assert step.figure == f"{', '.join(f'{speed:g}' for speed in scene.ladder)} mm/s"
    assert all(cut.limit is None and cut.before is None for cut in (*scene.cuts, *second.cuts))


def test_a_station_where_no_line_fell_through_is_open_below():
    """And is still the one whose turn it is."""
    _, step, scene, _ = shown("cut-more")
    (cut,) = [cut for cut in scene.cuts if cut.station == step.item]
    assert cut.now
    assert cut.limit is not None
    assert cut.limit[0] == 0.0


def test_the_result_shows_every_station_where_it_was_cut():
    """The limit holds the speed at which the sheet was just cut through; places are the stations' own."""
    session, step, scene, second = shown("cut-result")
    assert step.item is None
    assert {cut.station for cut in scene.cuts} == set(WEAK)
    for cut in scene.cuts:
        assert cut.limit is not None
        assert cut.limit[0] <= WEAK[cut.station] < cut.limit[1]
    for cut in second.cuts:
        place = session.machine.station(cut.station)
        assert (cut.x, cut.y) == (place.x, place.y)
    assert second.side == session.machine.path.side


def test_cuts_after_the_work_stand_beside_the_baseline():
    """As the machine once cut the same sheet."""
    session, _, scene, _ = shown("cut-again")
    assert scene.earlier == "baseline"
    kept = session.compared_with()
    assert kept is not None
    assert {cut.station: cut.before for cut in scene.cuts} == {
        limit.station: (limit.low, limit.high) for limit in kept.cuts.limits
    }
