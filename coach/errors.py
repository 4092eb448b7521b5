"""Everything that can go wrong in words a person can act on.

    CoachError
    ├── InputError        something typed or passed cannot be used      (also a ValueError)
    │   ├── UnknownName   a station, screw, mirror or part that is not there
    │   └── OutOfReach    a value of the right kind but outside what is possible or safe
    ├── FileError         a file cannot be read or written; carries its path and, where known, the line
    │   ├── Unreadable    broken TOML, wrong shape, unknown key, newer schema
    │   └── Unwritable    read-only folder, full disk, another program holds it
    │       ├── Changed   another program wrote the file since it was read
    │       └── Taken     a new file was to be made, and there is one of that name
    └── NothingToUndo     undo on a session in which nothing was entered yet

Every message says what was wrong, what was expected and, where it helps, an example.  The front ends
print `str(error)` as it is; none of them shows a traceback.
"""

from pathlib import Path


class CoachError(Exception):
    """The root of all errors that the coach raises on purpose."""


class InputError(CoachError, ValueError):
    """What was entered cannot be used: `what` was wrong, `expected`, and an `example` that would do."""

    def __init__(self, what: str, *, expected: str = "", example: str = "") -> None:
        self.what = what
        self.expected = expected
        self.example = example
        sentence = what.rstrip(".") + "."
        if expected:
            sentence += f" Expected {expected.rstrip('.')}."
        if example:
            sentence += f" Example: {example}"
        super().__init__(sentence)


class UnknownName(InputError):
    """A name that the machine does not have."""


class OutOfReach(InputError):
    """The right kind of value, but not a possible or a safe one."""


class NothingToUndo(CoachError):
    """There is no entry left that could be taken back."""


class FileError(CoachError):
    """A file cannot be read or written: its `path`, the `line` where known (from 1), and the `reason`."""

    def __init__(self, path: Path, reason: str, line: int | None = None) -> None:
        self.path = path
        self.reason = reason
        self.line = line
        place = f"{path}, line {line}" if line is not None else f"{path}"
        super().__init__(f"{place}: {reason}")


class Unreadable(FileError):
    """The file is there but its content cannot be used; it was left untouched.

    `problems` holds everything that was found wrong, each with its line where known; the message puts all
    of it in one sentence.
    """

    def __init__(
        self, path: Path, reason: str, line: int | None = None, problems: tuple[tuple[int | None, str], ...] = ()
    ) -> None:
        super().__init__(path, reason, line)
        self.problems = problems or ((line, reason),)


class Unwritable(FileError):
    """The file could not be written; what was on disk before is still there."""


class Changed(Unwritable):
    """Another program wrote the file since it was read here; reading it again helps."""

    def __init__(self, path: Path) -> None:
        super().__init__(
            path,
            "another program changed this file since it was read here, and what it wrote stands; to go on, "
            "go back to the list (key Q; in plain lines the word home) and choose it there anew",
        )


class Taken(Unwritable):
    """There is a file of that name already, and it was left as it is."""

    def __init__(self, path: Path) -> None:
        super().__init__(path, "there is one already")
