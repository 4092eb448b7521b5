"""What lies beside the machines' profiles: each one's baselines and log, and which of these files cannot be read."""

from collections.abc import Callable, Iterator, Mapping
from pathlib import Path

from coach.errors import CoachError, FileError
from coach.session.belongings import BELONGINGS, Belonging


def _read_baselines(path: Path) -> object:
    from coach.session.baselines import read  # mostly there is nothing to read

    return read(path)


def _read_log(path: Path) -> object:
    from coach.upkeep.document import read

    return read(path)


_READ: Mapping[Belonging, Callable[[Path], object]] = {"baselines": _read_baselines, "upkeep": _read_log}


def looked_at(folder: Path, what: Belonging) -> Iterator[str]:
    """For each file of that kind in the data folder what is wrong with it, "" where nothing is."""
    for path in sorted((folder / what).glob("*.toml")):
        try:
            _READ[what](path)
        except FileError as error:
            yield str(error)
        except CoachError as error:
            yield f"{path}: {error}"
        else:
            yield ""


def broken(folder: Path) -> tuple[str, ...]:
    """A sentence for each of these files that cannot be read; it was left as it is."""
    return tuple(words for what in BELONGINGS for words in looked_at(folder, what) if words)
