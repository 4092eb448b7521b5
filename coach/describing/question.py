"""One question about a machine, and the answers of a closed one."""

from dataclasses import dataclass
from typing import Literal

from coach.describing.profile import REQUIRED

Kind = Literal["words", "length", "choice"]
Picture = Literal["plan", "opening", "mount", "head"]


@dataclass(frozen=True)
class Option:
    """One answer of a closed question."""

    key: str
    label: str


@dataclass(frozen=True)
class Question:
    """One question, its key as in `Description.answers`."""

    key: str
    title: str
    """In a few words, for the overview."""
    ask: str
    """For large type."""
    how: tuple[str, ...]
    """How to measure or see it, in short lines."""
    kind: Kind = "length"
    options: tuple[Option, ...] = ()
    picture: Picture = "plan"
    mirror: int = 1
    """The mirror whose mount is asked about, where one is."""

    @property
    def required(self) -> bool:
        """Whether it cannot be guessed."""
        return self.key in REQUIRED

    @property
    def said_only(self) -> bool:
        """Whether Enter in passing takes none of the answers: each would send the person the wrong way."""
        return self.key in ("path.side", "zero") or self.key.endswith(".drive")

    @property
    def at(self) -> Literal["tube", "lens", ""]:
        """Where one's hands are to find it out, where that matters."""
        if self.key.startswith("moves.tube."):
            return "tube"
        return "lens" if self.key.startswith("lens.") else ""
