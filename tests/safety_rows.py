"""Writes the table of cautions in docs/safety.md anew from the program's own: `python tests/safety_rows.py`."""

from pathlib import Path

from coach.steps import cautions
from coach.steps.cautions import ALWAYS, AT_THE_LENS, WHILE_DESCRIBING, Caution
from coach.steps.table import STEPS

PAGE = Path(__file__).parent.parent / "docs" / "safety.md"


def steps_of(caution: Caution) -> str:
    """Where a caution is shown."""
    shown_at = {"describe": (*WHILE_DESCRIBING, *AT_THE_LENS)} | {key: kind.cautions for key, kind in STEPS.items()}
    if all(caution in shown for shown in shown_at.values()):
        assert caution in ALWAYS
        return "every step"
    return ", ".join(step for step, shown in shown_at.items() if caution in shown)


def rows() -> list[list[str]]:
    """The cells of each caution, in the program's order."""
    known = [value for value in vars(cautions).values() if isinstance(value, Caution)]
    return [[c.key, c.signal.lower(), c.text, c.source, steps_of(c)] for c in known]


def written(text: str) -> str:
    """The page with these rows in place of its own."""
    lines = text.split("\n")
    start = next(n for n, line in enumerate(lines) if line.startswith("| key |")) + 2
    end = next(n for n in range(start, len(lines)) if not lines[n].startswith("|"))
    return "\n".join((*lines[:start], *(f"| {' | '.join(row)} |" for row in rows()), *lines[end:]))


if __name__ == "__main__":
    PAGE.write_text(written(PAGE.read_text(encoding="utf-8")), encoding="utf-8")
