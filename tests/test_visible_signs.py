"""What is shown commands no terminal: against the Unicode Character Database, as Python ships it."""

import io
import sys
import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len
from rich.segment import Segment
from textual.color import Color

from coach.cli import out
from coach.signs import visible
from coach.tui.signs import VisibleSigns

TURNING = {"LRE", "RLE", "PDF", "LRO", "RLO", "LRI", "RLI", "FSI", "PDI"}
"""Bidirectional classes of characters that have no other purpose (Unicode Standard Annex 9, table 4)."""
MARKS = {"LEFT-TO-RIGHT MARK", "RIGHT-TO-LEFT MARK", "ARABIC LETTER MARK"}
"""With those above the property Bidi_Control (PropList.txt)."""
PARTED = {"Zl", "Zp", "Cs"}


def commands(letter: str) -> bool:
    """Whether a terminal, or the order of what stands around it, may be changed by this character."""
    category = unicodedata.category(letter)
    turns = unicodedata.bidirectional(letter) in TURNING or unicodedata.name(letter, "") in MARKS
    return letter != "\n" and (category == "Cc" or turns or category in PARTED)


def test_exactly_what_commands_is_made_visible() -> None:
    """Of all code points: each that commands becomes one that does not and takes one column, and no other changes."""
    assert sum(map(commands, map(chr, range(0x110000)))) == 64 + 12 + 2 + 0x800  # Cc but the line feed, Bidi_Control
    for letter in map(chr, range(0x110000)):
        shown = visible(letter)
        if commands(letter):
            assert not commands(shown), hex(ord(letter))
            assert cell_len(shown) == 1, hex(ord(letter))
        else:
            assert shown == letter, hex(ord(letter))


@given(st.text(st.characters() | st.sampled_from("\x1b\x9b\r\x07\u202e\u2066"), max_size=40))
def test_a_line_of_the_screen_keeps_its_width(text: str) -> None:
    """Whatever stands in it, with room behind it or without; nothing in it commands the terminal."""
    row = [Segment(text.replace("\n", " ")), Segment(" " * 3)]
    drawn = VisibleSigns().apply(row, Color(0, 0, 0))
    assert Segment.get_line_length(drawn) == Segment.get_line_length(row)
    assert not any(map(commands, "".join(segment.text for segment in drawn)))


@pytest.mark.parametrize("stream", ["stdout", "stderr"])
def test_what_the_shell_says_commands_nothing(stream: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """A title that would rename the window and clear the screen is readable in place of being obeyed."""
    written = io.StringIO()
    monkeypatch.setattr(sys, stream, written)
    (out.say if stream == "stdout" else out.complain)("Shed\x1b]0;laser\x07 \x1b[2J\u202elaser")
    assert written.getvalue() == "Shed␛]0;laser␇ ␛[2J\N{REPLACEMENT CHARACTER}laser\n"
