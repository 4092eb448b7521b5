"""The coach as a shell sees it: one folder, arguments in, status and both outputs back."""

from dataclasses import dataclass
from pathlib import Path

import pytest

from coach.cli.main import main

NEW = ("new-machine", "Shed laser", "--width", "600", "--depth", "400", "--side", "left", "--drive", "push")


@dataclass(frozen=True)
class Said:
    """What one call answered."""

    status: int
    out: str
    err: str


@dataclass(frozen=True)
class Shell:
    """Calls with their own data folder."""

    folder: Path
    capture: pytest.CaptureFixture[str]

    def __call__(self, *argv: str) -> Said:
        self.capture.readouterr()
        status = main(["--data", str(self.folder), *argv])
        caught = self.capture.readouterr()
        return Said(status, caught.out, caught.err)

    def ok(self, *argv: str) -> str:
        """The output of a call that must succeed and complain about nothing."""
        said = self(*argv)
        assert (said.status, said.err) == (0, ""), said
        return said.out

    def begun(self) -> Path:
        """A machine, and the file of a session on it."""
        self.ok(*NEW)
        return Path(self.ok("new-session", "Shed laser").strip())
