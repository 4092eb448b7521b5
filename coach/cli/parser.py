"""The argument parser: one sentence for every misuse, and negative numbers as values of options."""

import argparse
import difflib
import re
from collections.abc import Sequence
from typing import NoReturn

from coach.errors import CoachError

_NEGATIVE = re.compile(r"-[^-A-Za-z\s]")
"""The beginning of "-0,4", "-1/8", "-.5": no option of ours begins like this."""


class WrongUse(CoachError):
    """The arguments do not fit the subcommand."""


class Parser(argparse.ArgumentParser):
    """A parser that raises instead of printing its usage, and accepts no shortened options."""

    def __init__(self, *args: object, **kwargs: object) -> None:
        kwargs.setdefault("allow_abbrev", False)
        super().__init__(*args, **kwargs)  # type: ignore[arg-type]

    def _check_value(self, action: argparse.Action, value: object) -> None:
        """Raises WrongUse for an action that there is none of, with the nearest before the others."""
        if isinstance(action, argparse._SubParsersAction) and value not in action.choices:
            if not str(value).strip():
                raise WrongUse(f"The action is an empty word. Expected one of: {', '.join(action.choices)}.")
            near = difflib.get_close_matches(str(value), action.choices, 1)
            meant = f" Did you mean {near[0]}?" if near else ""
            raise WrongUse(f"There is no action {value!r}.{meant} Expected one of: {', '.join(action.choices)}.")
        super()._check_value(action, value)

    def error(self, message: str) -> NoReturn:
        """Raises WrongUse with the message and where to read on."""
        raise WrongUse(f"{self.prog}: {message.rstrip('.')}; {self.prog} --help tells what it takes.")


def join_negative(argv: Sequence[str]) -> list[str]:
    """The arguments with "--u", "-0,4" joined to "--u=-0,4": argparse takes "-0,4" for an option."""
    joined: list[str] = []
    words = list(argv)
    while words:
        word = words.pop(0)
        if word == "--":
            return [*joined, word, *words]
        if word.startswith("--") and "=" not in word and words and _NEGATIVE.match(words[0]):
            word = f"{word}={words.pop(0)}"
        joined.append(word)
    return joined
