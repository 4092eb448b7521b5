"""The example in each action's --help does what it says when it is typed."""

import io
import shlex
import shutil

import pytest
from shellside import Shell

from coach.cli.examples import EXAMPLES
from coach.lens import Lens
from coach.machine import Machine
from coach.session.session import Session


@pytest.mark.sweep
def test_every_example_can_be_typed(shell: Shell, monkeypatch: pytest.MonkeyPatch) -> None:
    """One after the other in one folder; the job itself in plain lines, since no terminal is here."""
    for name, example in EXAMPLES.items():
        prepare(name, shell)
        program, *argv = shlex.split(example)
        assert (program, argv[0]) == ("coach", name)
        monkeypatch.setattr("sys.stdin", io.StringIO())
        said = shell(*argv, *(("--plain",) if name in ("practice", "open") else ()))
        assert (said.status, said.err) == (0, ""), f"{example}: {said}"
        assert said.out


def prepare(name: str, shell: Shell) -> None:
    """What has to be so for an example to mean something: a stop, three stations cut, a head described since."""
    path = next((each for each in shell.folder.glob("sessions/shed-laser-*.toml")), shell.folder)
    machine = shell.folder / "machines" / "shed-laser.toml"
    aside = shell.folder / "aside.toml"
    if name in ("mended", "best"):
        if not aside.exists():
            shutil.copy(path, aside)
        stopped = Session.start(Machine.load(machine))
        for _ in range(3):
            stopped.nothing("back-left", ms=500, power=60)
        assert stopped.advice().cause == "not firing"
        stopped.save(path)
    elif name == "disturbed":
        shutil.copy(aside, path)
    elif name == "cuts":
        for station in ("middle", "front-right"):
            shell.ok("cut", "last", station, "--fastest", "18", "--next", "20")
    elif name == "described":
        Machine.load(machine).model_copy(update={"lens": Lens(focal=50.8)}).save(machine)
