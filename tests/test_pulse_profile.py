"""What a profile says of its machine's pulses: all of it optional, kept as said, refused where it cannot."""

import pytest
from machines import machine_table

from coach import Machine
from coach.errors import Unreadable


def test_pulses_are_kept_as_they_were_said_and_left_out_where_nobody_said(tmp_path) -> None:
    """A profile without pulses has no such key in its file, and nothing is made up for it."""
    path = tmp_path / "m.toml"
    plain = Machine.model_validate(machine_table())
    plain.save(path)
    assert "pulse" not in path.read_text()
    assert plain.pulse.timed is None
    said = Machine.model_validate(machine_table() | {"pulse": {"timed": False, "power": 15.0}})
    said.save(path)
    assert Machine.load(path) == said
    assert Machine.load(path).pulse.model_dump(exclude_none=True) == {"timed": False, "power": 15.0}


@pytest.mark.parametrize("pulse", ["{ ms = 0.0 }", "{ ms = 900.0 }", "{ power = 120.0 }", "{ milliamps = 4.0 }"])
def test_pulses_that_cannot_be_are_refused(pulse, tmp_path) -> None:
    """The file is named with what is wrong in it."""
    path = tmp_path / "m.toml"
    Machine.model_validate(machine_table()).save(path)
    path.write_text(f"pulse = {pulse}\n" + path.read_text())
    with pytest.raises(Unreadable, match="pulse"):
        Machine.load(path)
