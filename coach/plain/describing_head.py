"""Mirror 3, lens and nozzle described in the middle of a session, in plain lines."""

import contextlib
from collections.abc import Callable
from pathlib import Path

from coach.describing.at_need import begin_head, keep_described
from coach.describing.drafts import discard
from coach.describing.profile import machine_of
from coach.errors import Unwritable
from coach.machine import Machine
from coach.plain.describing import Describing
from coach.plain.talk import Talk
from coach.session.session import Session


class DescribingHead(Describing):
    """Leads through the questions about the head."""

    _machine: Machine | None = None

    def machine(self) -> Machine:
        """The machine as it is then known, for whoever asked to enter it.  Raises Home, Quit and Ended."""
        self._lead()
        assert self._machine is not None
        return self._machine

    def _what(self) -> str:
        return "Mirror 3, lens and nozzle."

    def _keep_words(self) -> str:
        return "Keep it: on with the visit"

    def _keep(self) -> None:
        self._machine = machine_of(self._description)


def describe_head(talk: Talk, folder: Path, session: Session, enter: Callable[[Machine], None]) -> None:
    """Ask about the head, have it entered, keep it with the machine, and say so.

    Raises CoachError for what cannot be entered, and Home, Quit and Ended: every answer then waits on disk.
    The words of whoever led before are theirs again only once they say so (`Talk.led_by`).
    """
    draft = begin_head(folder, session)
    enter(DescribingHead(talk, folder, draft).machine())
    talk.say(keep_described(folder, session))
    with contextlib.suppress(Unwritable):
        discard(draft)
