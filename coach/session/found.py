"""One file of a listing."""

from dataclasses import dataclass
from pathlib import Path
from typing import Generic, TypeVar

from coach.files import Stamp

T = TypeVar("T")
S = TypeVar("S")


@dataclass(frozen=True)
class Found(Generic[T]):
    """One file of a listing: what it holds, or why it could not be read."""

    path: Path
    content: T | None
    problem: str = ""
    line: int | None = None
    """Where in the file the (first) problem stands, if known."""
    stamp: Stamp | None = None
    """Which writing of the file that was, where it was looked at."""

    def holding(self, content: S | None) -> "Found[S]":
        """The same file with this in place of its content."""
        return Found(self.path, content, self.problem, self.line, self.stamp)
