"""The blanks of a machine's sheet, computed once for all tests that are about something else."""

from datetime import date

import pytest

from coach import Machine
from coach.worksheet.blanks import Blank, blanks_of

_KNOWN: dict[str, tuple[Blank, ...]] = {}


def once(machine: Machine, today: date) -> tuple[Blank, ...]:
    """As `blanks_of`; the name and what was learned since change nothing here."""
    key = machine.model_copy(update={"name": "any"}).model_dump_json()
    if key not in _KNOWN:
        _KNOWN[key] = blanks_of(machine, today)
    return _KNOWN[key]


def patch(monkeypatch: pytest.MonkeyPatch) -> None:
    """Wherever a sheet is laid out or typed in."""
    for module in ("sheet", "typed_in"):
        monkeypatch.setattr(f"coach.worksheet.{module}.blanks_of", once)
