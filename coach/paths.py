"""Where the person's files are kept."""

import os
from pathlib import Path

DATA_VARIABLE = "ALIGNMENT_COACH_DATA"
"""Environment variable that names another data folder."""


def data_folder(given: str | None = None) -> Path:
    """The data folder: as given, else from the environment, else the system's user data folder."""
    chosen = given or os.environ.get(DATA_VARIABLE)
    if chosen:
        return Path(chosen).expanduser()
    import platformdirs  # only needed here, and not free to import

    return Path(platformdirs.user_data_dir("alignment-coach", appauthor=False))
