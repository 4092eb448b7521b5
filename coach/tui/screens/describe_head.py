"""Mirror 3, lens and nozzle described in the middle of a session."""

import contextlib
from collections.abc import Callable

from coach.describing.at_need import begin_head, keep_described
from coach.describing.drafts import discard
from coach.describing.profile import machine_of
from coach.errors import CoachError, Unwritable
from coach.machine import Machine
from coach.session.session import Session
from coach.tui.screens.base import CoachScreen
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


def describe_head(
    screen: CoachScreen[None], session: Session, enter: Callable[[Machine], None], after: Callable[[str], None]
) -> None:
    """Ask about the head, have it entered, keep it with the machine; `after` is told what to say then.

    What cannot be entered is told, and the draft waits with every answer; so it does where the person leaves.
    """
    draft, folder = begin_head(screen.coach.folder, session), screen.coach.folder

    def described(machine: object) -> None:
        if not isinstance(machine, Machine):
            after("")
            return
        try:
            enter(machine)
        except CoachError as error:
            screen.coach.tell(str(error))
            return
        said = keep_described(folder, session)
        with contextlib.suppress(Unwritable):
            discard(draft)
        after(said)

    screen.app.push_screen(DescribeHeadScreen(draft), described)
