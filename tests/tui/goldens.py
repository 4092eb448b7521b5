"""Stored pictures of what stands on the screen, and how to write them anew."""

import difflib
import os
from collections.abc import Iterable
from pathlib import Path

FOLDER = Path(__file__).parent / "golden"
VARIABLE = "COACH_GOLDENS"
"""Set to "write", the tests write what they see instead of comparing it."""
HOW = f"""If this is how it should look: {VARIABLE}=write .venv/bin/python -m pytest tests/tui -k golden
and look through what changed with git diff before it is kept."""
MOST = 60
"""Lines of difference that are shown."""


def writing() -> bool:
    """Whether goldens are written anew."""
    return os.environ.get(VARIABLE) == "write"


def difference(name: str, lines: Iterable[str]) -> str:
    """What differs from the stored picture of that name (`80x24/go.txt`), or "" where nothing does."""
    path, seen = FOLDER / name, [line.rstrip() for line in lines]
    if writing():
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text("\n".join(seen) + "\n", encoding="utf-8", newline="\n")
        return ""
    stored = path.read_text(encoding="utf-8").split("\n")[:-1] if path.exists() else []
    if seen == stored:
        return ""
    told = list(difflib.unified_diff(stored, seen, f"stored {name}", "seen now", n=1, lineterm=""))
    more = [f"… and {len(told) - MOST} lines more"] if len(told) > MOST else []
    return "\n".join(["", *told[:MOST], *more])


def check(differences: Iterable[str]) -> None:
    """Fails with every difference, and tells how the goldens are written anew."""
    told = [one for one in differences if one]
    assert not told, "\n".join([*told, "", HOW])


def strangers(folder: str, names: Iterable[str]) -> list[str]:
    """Stored files in that folder which no test compares with anything; gone once goldens are written anew."""
    wanted = set(names)
    found = [path for path in sorted((FOLDER / folder).glob("*")) if path.name not in wanted]
    if writing():
        for path in found:
            path.unlink()
        return []
    return [path.name for path in found]
