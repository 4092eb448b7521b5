"""What is a sweep: a test, or some of its cases, that `.ci/run` takes on and the everyday tests leave out.

A sweep says of every step, size, machine or terminal what an everyday test says of one of each kind,
or goes a long way of which everyday tests go the parts.  What keeps hands and eyes safe is never one.
"""

from collections.abc import Iterable
from typing import Any

import pytest


def sampled(cases: Iterable[Any], *everyday: Any) -> list[Any]:
    """The cases of a test, all a sweep but these."""
    found = list(cases)
    if strange := [case for case in everyday if case not in found]:
        raise ValueError(f"no cases of this test: {strange}")
    return [case if case in everyday else _swept(case) for case in found]


def _swept(case: Any) -> Any:
    return pytest.param(*(case if isinstance(case, tuple) else (case,)), marks=pytest.mark.sweep)
