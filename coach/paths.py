"""Where the person's files are kept."""

import os
from pathlib import Path

from coach.errors import InputError

DATA_VARIABLE = "ALIGNMENT_COACH_DATA"
"""Environment variable that names another data folder."""


def data_folder(given: str | None = None) -> Path:
    """The data folder: as given, else from the environment, else the system's user data folder.

    Raises InputError where it would lie in the home of somebody who has none here, or can be none.
    """
    chosen = given or os.environ.get(DATA_VARIABLE) or _usual()
    if "\0" in chosen:
        raise InputError(
            f"{chosen!a} is no folder", expected="--data with another", example="coach --data /tmp/alignment"
        )
    folder = os.path.expanduser(chosen)
    if folder.startswith("~"):
        whose = folder.split("/")[0]
        who = "You have" if whose == "~" else f"There is nobody called {whose[1:]!r} here, or they have"
        raise InputError(
            f"{who} no home folder for machines and sessions to be kept in",
            expected="--data with another folder",
            example="coach --data /tmp/alignment",
        )
    return Path(folder)


def _usual() -> str:
    import platformdirs  # only needed here, and not free to import

    try:
        return platformdirs.user_data_dir("alignment-coach", appauthor=False)
    except RuntimeError:  # there is no home for it to lie in
        return "~"
