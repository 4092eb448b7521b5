"""The shell says and takes X and Y as the controller counts them."""

import json

from shellside import NEW, Shell

from coach.session.session import Session


def test_a_point_of_ones_own_counts_from_the_controllers_corner(shell: Shell) -> None:
    """X 10, Y 30 where 0/0 is at the back right of 600 × 400; what lies beyond the travel is named as typed."""
    shell.ok(*NEW, "--zero", "back-right")
    path = shell.ok("new-session", "Shed laser").strip()
    said = shell.ok("mark", path, "mine", "--x", "10", "--y", "30", "--u", "1", "--v", "1")
    assert "mine (X 10.0 mm, Y 30.0 mm)" in said
    mark = Session.load(path).effective[-1]
    assert (mark.x, mark.y) == (590, 370)
    shell.ok("undo", path)
    assert "back-left (X 580.0 mm, Y 20.0 mm)" in shell.ok("advise", path)
    (shot,) = json.loads(shell.ok("advise", path, "--json"))["stations"]
    assert (shot["x"], shot["y"]) == (580, 20)
    assert "x = 610 lies outside the travel" in shell("miss", path, "mine", "--x", "610", "--y", "30").err
