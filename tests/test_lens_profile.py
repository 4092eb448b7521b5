"""The lens and mirror 3's mount in a machine's profile: optional, checked, kept, and old files are as they were."""

from pathlib import Path

import pytest
from machines import machine_table, mount_table

from coach import Machine
from coach.describing.from_machine import describe
from coach.describing.profile import machine_of
from coach.errors import Unreadable

LENS = {"focal": 50.8, "nozzle_distance": 8.0, "nozzle": 2.5, "curved": "up"}


def _table(lens: dict[str, object] | None = None) -> dict[str, object]:
    mounts = [mount_table(mirror) for mirror in (1, 2, 3)]
    return machine_table(mounts=mounts) | ({"lens": lens} if lens is not None else {})


def test_a_machine_with_a_lens_is_written_and_read_back(tmp_path: Path) -> None:
    """The table, the file and back; without `mirror_distance` nobody measured it."""
    machine = Machine.model_validate(_table(LENS))
    assert machine.lens is not None
    assert machine.lens.mirror_distance is None
    assert machine.mount(3).mirror == 3
    machine.save(tmp_path / "m.toml")
    assert Machine.load(tmp_path / "m.toml") == machine
    assert machine.to_table()["lens"] == LENS


def test_a_machine_without_one_is_as_it_was() -> None:
    """Nothing is invented: no lens, and none in the file."""
    machine = Machine.model_validate(machine_table())
    assert machine.lens is None
    assert "lens" not in machine.to_table()
    assert Machine.model_validate(machine.to_table()) == machine


def test_describing_a_machine_anew_keeps_its_lens() -> None:
    """What the questions do not ask is not lost by asking the others."""
    machine = Machine.model_validate(_table(LENS | {"mirror_distance": 63.0}))
    again = machine_of(describe(machine).answered("name", "Barn laser"))
    assert again.lens == machine.lens
    assert again.mount(3) == machine.mount(3)


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"nozzle_distance": 50.8}, "between lens and focus"),
        ({"focal": 0.0}, "greater than 0"),
        ({"focal": 5080.0}, "500"),
        ({"nozzle": 25.0}, "20"),
        ({"curved": "sideways"}, "'up' or 'down'"),
        ({"diameter": 18.0}, "diameter"),
    ],
)
def test_a_lens_that_cannot_be_is_refused(changed: dict[str, object], said: str, tmp_path: Path) -> None:
    """One sentence with what is wrong and the file's line; the file stays as it was."""
    file = tmp_path / "m.toml"
    Machine.model_validate(_table(LENS)).save(file)
    text = file.read_text(encoding="utf-8")
    for key, value in changed.items():
        shown = f'"{value}"' if isinstance(value, str) else str(value)
        lines = [f"{key} = {shown}" if line.startswith(f"{key} =") else line for line in text.splitlines()]
        text = "\n".join(lines) if f"{key} = {shown}" in lines else text.replace("[lens]", f"[lens]\n{key} = {shown}")
    file.write_text(text, encoding="utf-8")
    with pytest.raises(Unreadable, match=said) as caught:
        Machine.load(file)
    assert caught.value.line is not None
    assert file.read_text(encoding="utf-8") == text
