"""Where the person's files are kept."""

import os
from pathlib import Path

from coach.errors import InputError

DATA_VARIABLE = "ALIGNMENT_COACH_DATA"
"""Environment variable that names another data folder."""


def data_folder(given: str | None = None) -> Path:
    """The data folder: as given, else from the environment, else the system's user data folder.

    Raises InputError where it would lie in the home of somebody who has none here, where it must not be looked into,
    or where it can be none.
    """
    chosen = given or os.environ.get(DATA_VARIABLE) or _usual()
    if "\0" in chosen:
        raise _elsewhere(f"{chosen!a} is no folder")
    folder = os.path.expanduser(chosen)
    if folder.startswith("~"):
        whose = folder.split("/")[0]
        who = "You have" if whose == "~" else f"There is nobody called {whose[1:]!r} here, or they have"
        raise _elsewhere(f"{who} no home folder for machines and sessions to be kept in")
    try:
        os.stat(folder)
    except PermissionError:
        raise _elsewhere(f"You may not look into the data folder, {folder}") from None
    except OSError:  # not there yet, or whoever opens it says what it is
        pass
    return Path(folder)


def folder_to_begin_in(given: str | None = None) -> Path:
    """The data folder, for whoever begins something.  Raises InputError also where it is not there and cannot be."""
    folder = data_folder(given)
    if missing := not_to_be_made(folder):
        raise _elsewhere(f"The data folder, {folder}, cannot be made: {missing}")
    return folder


def not_to_be_made(folder: Path) -> str:
    """What keeps a data folder that is not there yet from being made; "" where it is there, or can be."""
    if os.path.lexists(folder):
        return ""
    above = next((each for each in folder.absolute().parents if each.exists()), None)
    if above is None or os.access(above, os.W_OK):
        return ""
    return f"{above} cannot be written to"


def _elsewhere(said: str) -> InputError:
    """Not in /tmp, for example: what lies there is gone when the computer starts anew."""
    other = f"another folder, by --data or the variable {DATA_VARIABLE}"
    return InputError(said, expected=other, example="coach --data ./alignment")


def _usual() -> str:
    import platformdirs  # only needed here, and not free to import

    try:
        return platformdirs.user_data_dir("alignment-coach", appauthor=False)
    except RuntimeError:  # there is no home for it to lie in
        return "~"
