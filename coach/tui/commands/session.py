"""Commands of the session's screens."""

from typing import Protocol

from coach.steps.visit_words import ALONE
from coach.tui.commands.command import Command


class Entries(Protocol):
    """Where entries can be taken back and notes made."""

    def undo(self) -> None:
        """Take the last entry back and say which."""

    def open_note(self) -> None:
        """A note to the session."""


class AtAStep(Entries, Protocol):
    """A session at one of its steps."""

    def open_glance(self) -> None:
        """What to do now, alone."""

    def open_review(self) -> None:
        """All entries."""

    def open_bumped(self) -> None:
        """Something was out and back, or was bumped."""

    @property
    def has_parts(self) -> bool:
        """Whether there are other parts of a visit to go to."""

    def open_parts(self) -> None:
        """Another part of the visit."""

    def scroll_text(self, way: int) -> None:
        """Move the text up (-1) or down (1)."""

    def can_scroll_text(self, way: int) -> bool:
        """Whether there is more text above (-1) or below (1)."""


class EntryList(Entries, Protocol):
    """All entries of a session."""

    @property
    def marked(self) -> object | None:
        """The highlighted mark, if a mark that counts is highlighted."""

    def amend(self) -> None:
        """Measure the highlighted mark again."""


class Undo(Command[AtAStep]):
    name = "undo"
    label = "Undo"
    about = "Take the last entry back, as often as you like; it says what was taken back."
    keys = ("u", "U", "f5")
    means = "one back"
    shown = ("U", "F5")
    in_line = True

    def run(self, screen: AtAStep) -> None:
        screen.undo()


class Glance(Command[AtAStep]):
    name = "glance"
    label = "Glance"
    about = "What to do now, alone and as large as the screen allows, for reading from a distance."
    keys = ("g", "G", "insert")
    means = "glance"
    shown = ("G", "Ins")
    in_line = True

    def run(self, screen: AtAStep) -> None:
        screen.open_glance()


class Review(Command[AtAStep]):
    name = "review"
    label = "Review"
    about = "Everything that was entered: look, correct a mark, take back, add a note."
    keys = ("r", "R", "f3")
    means = "list"
    shown = ("R", "F3")
    in_line = True

    def run(self, screen: AtAStep) -> None:
        screen.open_review()


class Parts(Command[AtAStep]):
    name = "parts"
    label = "Parts"
    about = "Go to another part of the visit, now; this one waits where it is left."
    keys = ("v", "V", "ampersand")
    means = "parts"
    shown = ("V", "&")
    why_not = ALONE

    def run(self, screen: AtAStep) -> None:
        screen.open_parts()

    def possible(self, screen: AtAStep) -> bool:
        return screen.has_parts


class Bumped(Command[AtAStep]):
    name = "bumped"
    label = "Bumped"
    about = "Something was out and back, or bumped: say what, at any step; marks are asked for again."
    keys = ("m", "M", "slash")
    means = "bumped"
    shown = ("M", "/")

    def run(self, screen: AtAStep) -> None:
        screen.open_bumped()


class Note(Command[AtAStep]):
    name = "note"
    label = "Note"
    about = "Write down anything worth remembering."
    keys = ("n", "N", "exclamation_mark")
    means = "note"
    shown = ("N", "!")

    def run(self, screen: AtAStep) -> None:
        screen.open_note()


class ScrollUp(Command[AtAStep]):
    name = "scroll_up"
    label = "Text up"
    about = "In a small terminal: the text above."
    keys = ("pageup",)
    means = "page before"
    shown = ("PgUp",)
    why_not = "This is the beginning of the text"

    def run(self, screen: AtAStep) -> None:
        screen.scroll_text(-1)

    def possible(self, screen: AtAStep) -> bool:
        return screen.can_scroll_text(-1)


class ScrollDown(Command[AtAStep]):
    name = "scroll_down"
    label = "Text down"
    about = "In a small terminal: the text below."
    keys = ("pagedown",)
    means = "next page"
    shown = ("PgDn",)
    why_not = "The text stands here to its end"

    def run(self, screen: AtAStep) -> None:
        screen.scroll_text(1)

    def possible(self, screen: AtAStep) -> bool:
        return screen.can_scroll_text(1)


class ReviewUndo(Command[EntryList]):
    name = "undo"
    label = "Undo last"
    about = "Take the last entry that counts back."
    keys = ("u", "U", "f5")
    means = "one back"
    shown = ("U", "F5")
    in_line = True

    def run(self, screen: EntryList) -> None:
        screen.undo()


class ReviewNote(Command[EntryList]):
    name = "note"
    label = "Note"
    about = "Write down anything worth remembering."
    keys = ("n", "N", "exclamation_mark")
    means = "note"
    shown = ("N", "!")

    def run(self, screen: EntryList) -> None:
        screen.open_note()


class Amend(Command[EntryList]):
    name = "amend"
    label = "Correct mark"
    about = "Measure the highlighted mark again; the old reading is kept in the list."
    keys = ("c", "C", "f2")
    means = "go ahead"
    shown = ("Enter, C", "F2")
    in_line = True
    why_not = "Only marks that count can be corrected"

    def run(self, screen: EntryList) -> None:
        screen.amend()

    def possible(self, screen: EntryList) -> bool:
        return screen.marked is not None
