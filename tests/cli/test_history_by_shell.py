"""`coach history`: visits told together, compared, as JSON; what is kept of a mount, forgotten."""

import json

import pytest
from drifting_visits import drifting, kept, lying, machine, session
from shellside import Shell

from coach.machine import Learned, Machine
from coach.session.store import Store

NAME = machine().name


def test_a_history_is_told_compared_and_given_as_json(shell: Shell) -> None:
    """A mirror that turned: named first; two visits differ by what lies between; JSON says the same; due proposes."""
    kept(shell.folder, *drifting("mirror 2", 4, 1.0))
    lines = shell.ok("history").splitlines()
    assert lines[0] == f"{NAME}: 4 visits."
    assert lines[1].startswith("Mirror 2 has turned ")
    assert lines[1].endswith("look at its lock nuts.")
    told = json.loads(shell.ok("history", NAME, "--json"))
    part = next(each for each in told["parts"] if each["part"] == "mirror 2")
    assert part["state"] == "drifts"
    assert abs(part["moved"] - 3.0) < 2.5 * part["sd"]
    assert f"has turned {part['moved']:.1f} ± {2 * part['sd']:.1f} mrad" in lines[1]
    assert told["forecast"]["check"]
    assert "ten-minute check-up" in shell.ok("due")
    beside = shell.ok("history", NAME, "--compare", "4", "1")
    assert max(map(len, beside.splitlines())) <= 80
    leg2 = next(line for line in beside.splitlines() if line.startswith("Leg 2, right"))
    change = float(leg2.split("mrad")[2].split("±")[0].replace("−", "-"))
    assert change == pytest.approx(-2 * 0.6 * 3, abs=1.5)  # −2·g_x: docs/model.md, "Mirrors"


def test_what_a_history_refuses(shell: Shell) -> None:
    """No machine, several, an unknown one, an unknown visit, a broken file beside good ones: each a sentence."""
    assert "No machine is stored yet" in shell("history").err
    kept(shell.folder, session(lying(), 0.0))
    (shell.folder / "sessions" / "bad.toml").write_text("schema = 99\n", encoding="utf-8")
    assert "written by a newer coach" in shell.ok("history")
    assert "from three on" in shell.ok("history", NAME)
    assert "There is no machine called 'Other'" in shell("history", "Other").err
    assert "There is no visit '7'" in shell("history", NAME, "--compare", "1", "7").err
    assert "one and the same" in shell.ok("history", NAME, "--compare", "1", "1")
    Store(shell.folder).save_machine(machine().model_copy(update={"name": "Second"}))
    assert "No machine is named" in shell("history").err


def test_what_was_learned_is_told_and_forgotten(shell: Shell) -> None:
    """Figures of each screw stand there; once forgotten nothing is kept of that mirror, all else is as it was."""
    before = machine()
    count = 3 * len(before.mount(1).screws)
    cov = tuple(tuple(0.04 * (i == k) for i in range(count)) for k in range(count))
    facts = Learned(on="2026-03-01", push=0.98, mean=(4.2,) * count, cov=cov)
    taught = [mount.model_copy(update={"learned": facts}) for mount in before.mounts]
    kept(shell.folder, session(lying(), 0.0, on=before.model_copy(update={"mounts": tuple(taught)})))
    assert "beam +4.2 mrad to the right" in shell.ok("history")
    assert shell.ok("history", NAME, "--forget", "1").startswith("Forgotten: what was learned of mirror 1's mount")
    left = Machine.load(Store(shell.folder).machine_path(NAME))
    assert left.mount(1).learned is None
    assert left.mount(2).learned == facts
    assert "Nothing is kept of mirror 1" in shell("history", NAME, "--forget", "1").err
