"""Whole visits, played by somebody who does what the steps say and enters what the practice machine shows.

No screen: each is led by the steps alone, from the complaint to closing up.  Every loop ends (`tests/rehearsing.py`).
"""

import pytest
from rehearsing import rehearse

from coach.practice.begun import begun
from coach.session.document import Practice

FOUND = {
    "visit-bed": "bed",
    "visit-focus": "focus",
    "visit-lens": "lens",
    "visit-mirrors": "mirrors",
    "visit-extraction": "extraction",
    "visit-material": "material",
}
"""What is found by its own test, and mended by the owner."""


@pytest.mark.parametrize("kind", FOUND)
def test_a_cause_is_found(kind: str) -> None:
    """The first verdict names what is wrong."""
    session = begun(Practice(kind=kind, seed=3))
    session.opened()
    verdicts = [session.verdict() for step in rehearse(session) if step.key == "verdict"]
    assert verdicts[0].ends == "not alignment"
    assert verdicts[0].cause == FOUND[kind]
