"""Entries that tell nothing of the beam: making one loads nothing that reckons."""

from coach.errors import InputError
from coach.session.kept import Kept


class PlainEntries(Kept):
    """That the job was opened, led and closed, and what somebody wanted remembered."""

    def opened(self) -> None:
        """The program opened this session: the gates must be acknowledged (again)."""
        self._add("opened")

    def gate(self, name: str) -> None:
        """The person acknowledged a safety gate."""
        self._add("gate", name=name)

    def note(self, text: str) -> None:
        """Anything worth remembering.  Raises InputError when empty."""
        if not text.strip():
            raise InputError("The note is empty", expected="a few words")
        self._add("note", text=text.strip())

    def finish(self) -> None:
        """The person closed the job."""
        self._add("finish")
