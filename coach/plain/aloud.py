"""Lines that make sense when they are read aloud."""

import re
import textwrap

from coach.shown import SPELLED

WIDTH = 100
"""Columns; longer texts go on in the next line, at the end of a sentence where that is possible."""
SPOKEN = str.maketrans(
    SPELLED
    | {
        "−": "minus ",
        "°": " degrees",
        "×": " by ",
        "±": "plus or minus ",
        "…": "...",
        "’": "'",
        "″": " in",
        "\N{NO-BREAK SPACE}": " ",
    }
)
"""Signs that speech leaves out or spells strangely, in words."""
_GLUED = re.compile(r"(?<=\d)(?=[½¼¾⅛⅜⅝⅞])")
_BOUND = re.compile(r"(?<=\d) (?=(?:mm|in|min|degrees|turns?)\b)|(?<=\bminus) (?=\d)")
"""Gaps at which no line ends: a number stays with its sign and its unit."""
_TIE = "\0"
_LABEL = re.compile(r"(?:Do|Why|Danger|Warning|Caution|Notice|News|Question): ")
_SENTENCE = re.compile(r"(?<=[.!?]) +(?=[A-Z'\"])")


def spoken(text: str) -> str:
    """The text with words in place of signs, and single spaces between."""
    return " ".join(_GLUED.sub(" ", text).translate(SPOKEN).split())


def lines_of(text: str) -> list[str]:
    """The text in lines of at most `WIDTH` columns; only what has no gap in it, such as a path, may be longer.

    A long text is parted between its sentences first, and each of them begins with the text's label.
    """
    plain = spoken(text)
    if len(plain) <= WIDTH:
        return [plain]
    label = found[0] if (found := _LABEL.match(plain)) else ""
    return [
        line.replace(_TIE, " ")
        for sentence in _SENTENCE.split(_BOUND.sub(_TIE, plain[len(label) :]))
        for line in textwrap.wrap(label + sentence, WIDTH, break_long_words=False, break_on_hyphens=False)
    ]


def quiet(shouted: str) -> str:
    """Words in capitals as speech says them best: "PULSE ONCE" becomes "Pulse once"."""
    words = [word if len(word.rstrip(".?!")) == 1 else word.lower() for word in shouted.split()]
    said = " ".join(words)
    return re.sub(r"(?:^|(?<=[.?!] ))\w", lambda first: first[0].upper(), said)
