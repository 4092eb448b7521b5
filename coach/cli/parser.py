"""The argument parser: one sentence for every misuse, and negative numbers as values of options."""

import argparse
import difflib
import re
import textwrap
from collections.abc import Sequence
from typing import Any, NoReturn

from coach.errors import CoachError

_NEGATIVE = re.compile(r"-[^-A-Za-z\s]")
"""The beginning of "-0,4", "-1/8", "-.5": no option of ours begins like this."""


EXAMPLE = "Example: "
"""How the line of an example begins."""


class WrongUse(CoachError):
    """The arguments do not fit the subcommand."""


class _Help(argparse.HelpFormatter):
    """Keeps the lines of what stands around the options, and breaks no example: it is there to be typed."""

    def _fill_text(self, text: str, width: int, indent: str) -> str:
        filled = []
        for line in text.splitlines():
            whole = line.startswith(EXAMPLE)
            filled.append(f"{indent}{line}" if whole else super()._fill_text(line, width, indent))
        return "\n".join(filled)

    def _split_lines(self, text: str, width: int) -> list[str]:
        """Of an option: lines that are broken at spaces alone, since "last-practice" is one word to type."""
        return textwrap.wrap(" ".join(text.split()), width, break_on_hyphens=False)


class Parser(argparse.ArgumentParser):
    """A parser that raises instead of printing its usage, and accepts no shortened options."""

    def __init__(self, *args: object, **kwargs: object) -> None:
        kwargs.setdefault("allow_abbrev", False)
        kwargs.setdefault("formatter_class", _Help)
        super().__init__(*args, **kwargs)  # type: ignore[arg-type]

    def parse_known_args(self, *args: Any, **kwargs: Any) -> Any:
        """Raises WrongUse for what nothing takes: by the action that got it, which the whole parser cannot name."""
        found, unknown = super().parse_known_args(*args, **kwargs)
        if unknown:
            self.error(f"it does not take {' '.join(unknown)}")
        return found, unknown

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
