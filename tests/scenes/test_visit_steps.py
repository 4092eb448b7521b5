"""Which picture stands beside a step of a visit's other parts."""

import pytest
from built_steps import NAMES, built

from coach.pictures.bed_gaps import BedGapsScene
from coach.pictures.optics_path import OpticsScene
from coach.pictures.path import PathScene
from coach.scenes.of_step import scene_for, second_scene
from coach.scenes.visit_steps import visit_scene
from coach.shown import IN_MM
from coach.steps.current import current_step


def shown(name):
    """The session of that name, its step, and both pictures."""
    session = built(name)
    step = current_step(session, IN_MM)
    return session, step, scene_for(session, step, None, IN_MM), second_scene(session, step, IN_MM)


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.sweep
def test_every_step_has_its_picture_or_none(name):
    """Whatever a session leads to: no step is refused one."""
    _, step, first, second = shown(name)
    assert (first is None) == (step.kind.picture == "none" or (step.kind.picture == "check" and step.item != "bed"))
    assert first is not None or second is None


def test_the_gaps_of_the_bed_stand_beside_their_check():
    """As measured so far; other checks need no picture."""
    session, step, scene, _ = shown("check-bed")
    assert isinstance(scene, BedGapsScene)
    assert scene.gaps == {}
    session.check(step.item, "bad", front_left=5.0, back_right=6.0)
    again = visit_scene(session, step)
    assert isinstance(again, BedGapsScene)
    assert again.gaps == {"front_left": 5.0, "back_right": 6.0}
    assert shown("check")[2] is None


def test_the_optic_to_clean_stands_out_among_all_there_are():
    """It and no other is "now"; of which there is none falls away; where it is on the machine stands beside it."""
    _, step, scene, second = shown("clean-combiner")
    assert isinstance(scene, OpticsScene)
    assert [optic.name for optic in scene.optics if optic.now] == [step.item] == ["combiner"]
    assert second is None
    _, step, scene, second = shown("clean-optic")
    assert isinstance(scene, OpticsScene)
    assert [optic.name for optic in scene.optics if optic.now] == [step.item]
    assert "combiner" not in [optic.name for optic in scene.optics]
    assert isinstance(second, PathScene)
    assert f"mirror {second.mirror}" == step.item


def test_another_steps_picture_is_refused():
    """No picture is drawn for what has none of its own."""
    session = built("go")
    with pytest.raises(ValueError, match="bed"):
        visit_scene(session, current_step(session, IN_MM))
