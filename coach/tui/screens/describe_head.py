"""Mirror 3, lens and nozzle described in the middle of a session."""

from coach.describing.profile import machine_of
from coach.errors import CoachError
from coach.tui.screens.describe import DescribeScreen


class DescribeHeadScreen(DescribeScreen):
    """Dismissed with the machine as it is then known, for whoever opened it to enter; None when the person leaves.

    The draft then waits, and is thrown away by whoever entered what came of it.
    """

    def what(self) -> str:
        return "Mirror 3, lens and nozzle"

    def keep_words(self) -> str:
        return "Keep it: on with the visit"

    def keep_machine(self) -> None:
        """Back to the session with it; it counts once it is entered there."""
        try:
            machine = machine_of(self.draft.description)
        except CoachError as error:
            self.refused(str(error))
            return
        self.save_draft()
        self.dismiss(machine)
