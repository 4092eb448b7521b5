"""What a mutation is: one small wrong change, what it would mean, and which tests have to notice."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Mutation:
    """One wrong change, made in a copy of the tree."""

    meaning: str
    """What the program would then do wrong, in a few words."""
    file: str
    """Below the top of the tree."""
    old: str
    """Stands in the file exactly once."""
    new: str
    tests: tuple[str, ...]
    """What has to fail, as pytest takes it."""


def mutation(meaning: str, file: str, old: str, new: str, *tests: str) -> Mutation:
    """The same, the tests named below `tests/`."""
    return Mutation(meaning, file, old, new, tuple(f"tests/{name}" for name in tests))
