"""Shared by all tests: how hypothesis searches, and the demo machine."""

import gc
import os

import _surroundings  # noqa: F401  before numpy is loaded
import pytest
from hypothesis import HealthCheck, Phase, settings
from machines import make_machine

from coach import Machine

settings.register_profile(
    "steady",  # the same examples in every run, no timed assertion, and no shrinking, which can take minutes
    deadline=None,
    derandomize=True,
    phases=(Phase.explicit, Phase.reuse, Phase.generate),
    suppress_health_check=[HealthCheck.too_slow],
)
settings.register_profile(
    "search", parent=settings.get_profile("steady"), derandomize=False, max_examples=1000, phases=tuple(Phase)
)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "steady"))


def pytest_collection_finish() -> None:
    """What is there for all tests need not be looked through for what is over."""
    gc.collect()
    gc.freeze()


@pytest.fixture
def demo() -> Machine:
    """The machine of the public contract: 600 × 400 mm, mirrors on the left, two L-shaped mounts that push."""
    return make_machine()
