"""Mirror 3, lens and nozzle described in the middle of a session, in plain lines."""

from coach.describing.profile import machine_of
from coach.machine import Machine
from coach.plain.describing import Describing


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
