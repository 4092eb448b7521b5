"""The visit around the beam's path, as a session keeps it: which parts were gone to, left, left out and listed."""

from collections.abc import Sequence

from coach.errors import InputError
from coach.session.kept import Kept
from coach.session.part_events import Begin
from coach.session.visit_events import KeptMark
from coach.visit import VISIT_PARTS


class VisitParts(Kept):
    """A session's parts."""

    @property
    def is_visit(self) -> bool:
        """Whether this session goes through the parts of a visit, and not along the beam's path alone."""
        return any(isinstance(event, Begin) for event in self.effective)

    def last_marks(self, marks: Sequence[KeptMark]) -> None:
        """The marks with which this machine's last visit ended; those of this one are compared with them.

        Raises InputError for none.
        """
        self._add("baseline", marks=tuple(marks))

    def begin(self, part: str) -> None:
        """The person goes to that part of the visit.  Raises InputError."""
        self._add("begin", part=_checked(part))

    def end(self, part: str) -> None:
        """The person is through with that part.  Raises InputError."""
        self._add("end", part=_checked(part))

    def skip(self, part: str, why: str) -> None:
        """That part is left out, for a reason.  Raises InputError."""
        if not why.strip():
            raise InputError("No reason was given for leaving this part out", expected="a few words")
        self._add("skip", part=_checked(part), why=why.strip())

    def item(self, part: str, name: str, done: bool, why: str = "") -> None:
        """One thing on that part's list was seen to, or stays open, and `why` if that is said.  Raises InputError."""
        self._add("item", part=_checked(part), name=name, done=done, why=why.strip())


def _checked(part: str) -> str:
    if part not in VISIT_PARTS:
        raise InputError(f"{part!r} is no part of a visit", expected=", ".join(VISIT_PARTS))
    return part
