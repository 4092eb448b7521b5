"""A machine that is renamed keeps its log and its baselines, wherever it is stopped on the way."""

import contextlib
import os
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from machines import make_machine

from coach.describing.description import Description
from coach.describing.drafts import Draft
from coach.describing.from_machine import describe
from coach.describing.saving import save
from coach.errors import InputError
from coach.session.baselines import Baselines, keep, load
from coach.session.belongings import BELONGINGS, path_of
from coach.session.store import Store
from coach.session.visit_events import KeptCuts
from coach.upkeep.log import MachineLog

OLD, NEW = "Shed laser", "Barn laser"
CUTS = KeptCuts.model_validate(
    {
        "material": "ply 6 mm, lot 3",
        "on": "2026-01-02",
        "stations": [{"name": "middle", "fastest": 18.0, "next": 20.0}],
    }
)


def stored(folder: Path) -> Store:
    """A machine with a log of one entry and one baseline."""
    store = Store(folder)
    store.save_machine(make_machine())
    MachineLog.open(OLD, folder, ()).done("rails", on=date(2026, 1, 2))
    keep(folder, Baselines(machine=OLD).with_cuts(CUTS))
    return store


def rename(store: Store, new: str, *, folder: Path) -> Path:
    machine = store.find_machine(OLD)
    answers = {**describe(machine).answers, "name": new}
    draft = Draft(folder / "draft.toml", Description(answers, machine), machine=store.machine_path(OLD))
    return save(store, draft)


def belongs(folder: Path, name: str) -> tuple[int, int]:
    """Entries of the log and baselines under that name."""
    return len(MachineLog.open(name, folder, ()).events), len(load(folder, name).cuts)


def test_a_new_name_takes_log_and_baselines_along(tmp_path) -> None:
    """Under the new one all is there, and says whose it is; under the old one nothing is left."""
    store = stored(tmp_path)
    rename(store, NEW, folder=tmp_path)
    assert belongs(tmp_path, NEW) == (1, 1)
    assert load(tmp_path, NEW).machine == NEW
    assert not any(path_of(tmp_path, what, OLD).exists() for what in BELONGINGS)
    assert [found.content.name for found in store.machines()] == [NEW]


def test_a_name_that_is_only_spelled_otherwise_keeps_its_files(tmp_path) -> None:
    """The same file names; what they say of whose they are follows."""
    rename(stored(tmp_path), "Shed Laser", folder=tmp_path)
    assert belongs(tmp_path, "Shed Laser") == (1, 1)
    assert load(tmp_path, "Shed Laser").machine == "Shed Laser"


@pytest.mark.parametrize("what", BELONGINGS)
def test_another_machines_file_is_not_written_over(tmp_path, what) -> None:
    """Left of a machine that was thrown away: told, and neither profile nor files change."""
    store = stored(tmp_path)
    there = path_of(tmp_path, what, NEW)
    there.write_text('schema = 1\nmachine = "Barn laser"\n', encoding="utf-8")
    with pytest.raises(InputError, match="There is already"):
        rename(store, NEW, folder=tmp_path)
    assert belongs(tmp_path, OLD) == (1, 1)
    assert there.read_text(encoding="utf-8") == 'schema = 1\nmachine = "Barn laser"\n'
    assert [found.content.name for found in store.machines()] == [OLD]
    other = next(each for each in BELONGINGS if each != what)
    assert not path_of(tmp_path, other, NEW).exists()


class _Stopped(BaseException):
    """The power went."""


@pytest.mark.parametrize("after", range(7))
def test_stopped_anywhere_nothing_is_lost_and_a_second_try_ends_it(tmp_path, monkeypatch, after: int) -> None:
    """After any number of files written or removed the power goes: every profile that is there has all that is its
    own, and renaming once more ends as if nothing had happened."""
    store, left = stored(tmp_path), [after]

    def counted(real: Callable[..., Any]) -> Callable[..., Any]:
        def call(*args: Any, **more: Any) -> Any:
            if left[0] == 0:
                raise _Stopped
            left[0] -= 1
            return real(*args, **more)

        return call

    with monkeypatch.context() as patch:
        for name in ("replace", "unlink"):
            patch.setattr(os, name, counted(getattr(os, name)))
        with contextlib.suppress(_Stopped):
            rename(store, NEW, folder=tmp_path)
    names = [found.content.name for found in store.machines()]
    assert names
    assert [belongs(tmp_path, name) for name in names] == [(1, 1)] * len(names)
    if names == [OLD]:
        rename(store, NEW, folder=tmp_path)
        assert belongs(tmp_path, NEW) == (1, 1)
