"""Everyday tests and sweeps together are all tests, and `.ci/run` runs both."""

import re
import subprocess
import tomllib
from pathlib import Path

import pytest
from _surroundings import ROOT
from sweeps import sampled

SAFE = ("steps/test_hands_and_beam.py", "steps/test_gates.py", "tui/test_app_upkeep.py")
"""Tests of what keeps hands and eyes safe, and nothing else: all of them are everyday ones."""
SWEPT = re.compile(r"^from sweeps import|mark\.sweep", re.MULTILINE)


def test_there_is_one_mark_of_ours() -> None:
    """A test under another one, or under one misspelt, could be left out by every command."""
    options = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["tool"]["pytest"]["ini_options"]
    assert [mark.partition(":")[0] for mark in options["markers"]] == ["sweep"]
    assert "--strict-markers" in options["addopts"]


def test_both_are_run_before_a_change_is_kept(tmp_path: Path) -> None:
    """`.ci/run` asks pytest for "not sweep", by the README's own command, and for "sweep"; told by a python that only
    says what it was asked for."""
    script = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    begin = script.index("tests() {")
    function = script[begin : script.index("\n}\n", begin) + 3]
    python = tmp_path / "python"
    python.write_text('#!/bin/sh\nprintf "%s\\n" "$@"\n', encoding="utf-8")
    python.chmod(0o755)
    asked = {}
    for which in re.findall(r'^part "[a-z]+" tests (\w+)$', script, re.MULTILINE):
        call = ["bash", "-c", f"work={tmp_path} bin={tmp_path}\n{function}tests {which}"]
        done = subprocess.run(call, capture_output=True, text=True, cwd=ROOT, check=True)
        asked[which] = done.stdout.splitlines()[1:]
    every = ["-m", "pytest", "-n", "auto", "-m"]
    assert asked == {"everyday": [*every, "not sweep"], "sweep": [*every, "sweep"]}


def test_what_keeps_hands_and_eyes_safe_is_everyday() -> None:
    """No case of it is left to the sweeps."""
    assert not [name for name in SAFE if SWEPT.search((ROOT / "tests" / name).read_text(encoding="utf-8"))]
    assert SWEPT.search((ROOT / "tests" / "tui" / "test_steps_golden.py").read_text(encoding="utf-8"))


def test_a_sample_names_cases_that_there_are() -> None:
    """One that is gone is told; the others are sweeps."""
    kept, swept = sampled(["one", "other"], "one")
    assert kept == "one"
    assert [mark.name for mark in swept.marks] == ["sweep"]
    with pytest.raises(ValueError, match="third"):
        sampled(["one", "other"], "third")
