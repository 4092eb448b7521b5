"""Commands of the session's screens."""

from typing import TYPE_CHECKING

from coach.tui.commands.command import Command

if TYPE_CHECKING:
    from coach.tui.screens.review import ReviewScreen
    from coach.tui.screens.session import SessionScreen


class Undo(Command["SessionScreen"]):
    name = "undo"
    label = "Undo"
    about = "Take the last entry back, as often as you like; it says what was taken back."
    keys = ("u", "U", "f5")
    shown = "U or F5"
    in_line = True

    def run(self, screen: "SessionScreen") -> None:
        screen.undo()


class Glance(Command["SessionScreen"]):
    name = "glance"
    label = "Glance"
    about = "What to do now, alone and as large as the screen allows, for reading from a distance."
    keys = ("g", "G", "f2")
    shown = "G or F2"
    in_line = True

    def run(self, screen: "SessionScreen") -> None:
        screen.open_glance()


class Review(Command["SessionScreen"]):
    name = "review"
    label = "Review"
    about = "Everything that was entered: look, correct a mark, take back, add a note."
    keys = ("r", "R", "f3")
    shown = "R or F3"
    in_line = True

    def run(self, screen: "SessionScreen") -> None:
        screen.open_review()


class Note(Command["SessionScreen"]):
    name = "note"
    label = "Note"
    about = "Write down anything worth remembering."
    keys = ("n", "N", "f9")
    shown = "N or F9"

    def run(self, screen: "SessionScreen") -> None:
        screen.open_note()


class ScrollUp(Command["SessionScreen"]):
    name = "scroll_up"
    label = "Text up"
    about = "In a small terminal: the text above."
    keys = ("pageup",)
    shown = "PgUp"
    why_not = "This is the beginning of the text"

    def run(self, screen: "SessionScreen") -> None:
        screen.scroll_text(-1)

    def possible(self, screen: "SessionScreen") -> bool:
        return screen.can_scroll_text(-1)


class ScrollDown(Command["SessionScreen"]):
    name = "scroll_down"
    label = "Text down"
    about = "In a small terminal: the text below."
    keys = ("pagedown",)
    shown = "PgDn"
    why_not = "The text stands here to its end"

    def run(self, screen: "SessionScreen") -> None:
        screen.scroll_text(1)

    def possible(self, screen: "SessionScreen") -> bool:
        return screen.can_scroll_text(1)


class ReviewUndo(Command["ReviewScreen"]):
    name = "undo"
    label = "Undo last"
    about = "Take the last entry that counts back."
    keys = ("u", "U", "f5")
    shown = "U or F5"
    in_line = True

    def run(self, screen: "ReviewScreen") -> None:
        screen.undo()


class ReviewNote(Command["ReviewScreen"]):
    name = "note"
    label = "Note"
    about = "Write down anything worth remembering."
    keys = ("n", "N", "f9")
    shown = "N or F9"
    in_line = True

    def run(self, screen: "ReviewScreen") -> None:
        screen.open_note()


class Amend(Command["ReviewScreen"]):
    name = "amend"
    label = "Correct mark"
    about = "Measure the highlighted mark again; the old reading is kept in the list."
    keys = ("c", "C", "f8")
    shown = "Enter, C or F8"
    in_line = True
    why_not = "Only marks that count can be corrected"

    def run(self, screen: "ReviewScreen") -> None:
        screen.amend()

    def possible(self, screen: "ReviewScreen") -> bool:
        return screen.marked is not None
