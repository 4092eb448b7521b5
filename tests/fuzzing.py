"""What a hostile or clumsy hand may put before every parser: inputs without end, from a seed, and what must hold."""

import contextlib
import math
import random
import re
import time
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from coach.errors import CoachError, FileError

SLOWEST = 1.0
"""s of this process's own time, within which any input is read or refused."""
LONGEST_COMPLAINT = 12_000
"""Characters of a refusal: twenty things wrong with one file, each told in part."""
Parse = Callable[[str], object]

SIGNS = "0123456789.,-+−–/′″'\"½⅛⅓°%:;= \t\n_eExX#()[]{}<>|\\$~*?!@&µéß٣１²ⅣABCabcxyzmnpsvwu"
"""What a person's keyboard has, and digits and fractions of other scripts (Unicode's categories Nd, No, Nl)."""
HOSTILE = (
    "\x00\x07\x08\x0d\x1b\x7f\x85\x9b\u061c\u200b\u200d\u200e\u202e\u2066\u2028\u2029\ufeff\ufffd\U0001f4a9\u0301"
)
"""Controls, marks that turn the order of what follows, separators, what has no width."""
WORDS = (
    "mm", "cm", "in", "inch", "deg", "min", "turn", "cw", "ccw", "clockwise", "counter clockwise", "o'clock", "ms",
    "s", "up", "right", "back", "no", "yes", "unknown", "pivot", "screw", "mirror 2", "head", "tube", "new", "today",
    "1e309", "-1e-320", "nan", "inf", "-inf", "1_000", "0x10", "9" * 41, "1,000", "1.234,5", "1/0", "99999999/3",
    "../..", "/etc/passwd", "~nouser", "%s", "${HOME}", "\x1b[2J", "\x1b]0;x\x07", "lot 3", "ply 6 mm", "M4", "5-40",
)  # fmt: skip
VALUES = (
    "0", "-0.0", "1e-320", "1e308", "-1e308", "nan", "inf", "-inf", "9223372036854775807", "-9223372036854775808",
    "true", "false", '""', '"\\u0000"', '"\\u001b[2J"', '"\\u202e"', '"x"', "[]", "{}", "[[]]", "[1, 2, 3]", "[nan]",
    "0001-01-01T00:00:00Z", "9999-12-31T23:59:59-12:00", "2026-02-29", "2026-03-01T18:00:00", "12:00:00", "1e400",
    '"middle"', '"mirror 2"', '"head"', '"push"', '"left"', "1", "2", "3", "20.0", "0xffffffffffffffffff",
    "'''", '"""',
)  # fmt: skip
"""What may stand behind a key: TOML 1.0.0's kinds of values at their edges, and what is no value."""
_VALUE = re.compile(r"(?<== )[^\n]+")
_NUMBER = re.compile(r"(?<== )-?[0-9]+(?:\.[0-9]+)?(?=\n)")
ENTRY = "[[events]]\n"


@dataclass(frozen=True)
class Parser:
    """One way in: what people give to it, and how it is read."""

    seeds: tuple[str, ...]
    parse: Parse
    changes: "tuple[Change, ...]" = ()
    """What is done to them; none: what is done to any text."""


@dataclass
class Count:
    """What came of inputs to one parser."""

    inputs: int = 0
    read: int = 0
    failures: tuple[str, ...] = ()
    slowest: float = 0.0


def fuzzed(parser: Parser, inputs: Iterable[str]) -> Count:
    """Give it all of these; what does not hold is told with its input, the first twenty of it."""
    count = Count()
    for text in inputs:
        begun = time.process_time()
        try:
            _check_finite(parser.parse(text))
            count.read += 1
        except CoachError as error:
            if not 0 < len(str(error)) < LONGEST_COMPLAINT:
                count.failures += (f"{text!r}: a complaint of {len(str(error))} characters",)
        except Exception as error:
            count.failures += (f"{text!r}: {type(error).__name__} {error}",)
        count.inputs += 1
        count.slowest = max(count.slowest, time.process_time() - begun)
        if len(count.failures) >= 20:
            break
    if count.slowest > SLOWEST:
        count.failures += (f"{count.slowest:.1f} s for one of them",)
    return count


def _check_finite(value: object) -> None:
    """No number that was read is none."""
    for number in value if isinstance(value, tuple | list) else (value,):
        if isinstance(number, float):
            assert math.isfinite(number), number


def inputs_for(parser: Parser, number: int, seed: int) -> Iterable[str]:
    """So many inputs, the same for the same seed: what people type, changed in one to four places."""
    chance = random.Random(seed)
    changes = parser.changes or CHANGES
    for _ in range(number):
        text = chance.choice(parser.seeds)
        for _ in range(chance.choice((1, 1, 2, 4))):
            text = chance.choice(changes)(text, chance, parser.seeds)
        yield text


# -- changes of a text ------------------------------------------------------------------------------

Change = Callable[[str, random.Random, tuple[str, ...]], str]


def _spot(text: str, chance: random.Random) -> int:
    return int(chance.random() * (len(text) + 1))


def _replaced(text: str, chance: random.Random, _: tuple[str, ...]) -> str:
    at = _spot(text, chance)
    return text[:at] + chance.choice(SIGNS) + text[at + 1 :]


def _inserted(text: str, chance: random.Random, _: tuple[str, ...]) -> str:
    at = _spot(text, chance)
    return text[:at] + chance.choice(SIGNS) + text[at:]


def _hostile(text: str, chance: random.Random, _: tuple[str, ...]) -> str:
    at = _spot(text, chance)
    return text[:at] + chance.choice(HOSTILE) + text[at:]


def _dropped(text: str, chance: random.Random, _: tuple[str, ...]) -> str:
    at = _spot(text, chance)
    return text[:at] + text[at + chance.choice((1, 1, 2, 9)) :]


def _word(text: str, chance: random.Random, _: tuple[str, ...]) -> str:
    at = _spot(text, chance)
    return text[:at] + chance.choice(("", " ")) + chance.choice(WORDS) + text[at:]


def _doubled(text: str, chance: random.Random, _: tuple[str, ...]) -> str:
    at, piece = _spot(text, chance), chance.choice((1, 3, 12))
    return text[:at] + text[at : at + piece] * chance.choice((2, 2, 3, 60)) + text[at + piece :]


def _spliced(text: str, chance: random.Random, seeds: tuple[str, ...]) -> str:
    other = chance.choice(seeds)
    return text[: _spot(text, chance)] + other[_spot(other, chance) :]


def _other_value(text: str, chance: random.Random, _: tuple[str, ...]) -> str:
    places = list(_VALUE.finditer(text))
    if not places:
        return text
    place = chance.choice(places)
    return text[: place.start()] + chance.choice(VALUES) + text[place.end() :]


def _other_number(text: str, chance: random.Random, _: tuple[str, ...]) -> str:
    places = list(_NUMBER.finditer(text))
    if not places:
        return text
    place = chance.choice(places)
    number = float(place[0]) * chance.choice((-1, 0, 0.001, 0.5, 2, 1000)) + chance.choice((0, 0, 1))
    said = f"{number:.6f}" if "." in place[0] else f"{number:.0f}"
    return text[: place.start()] + said + text[place.end() :]


def _without_entries(text: str, chance: random.Random, _: tuple[str, ...]) -> str:
    start, *entries = text.split(ENTRY)
    left = [entry for entry in entries if chance.random() < 0.7]
    if chance.random() < 0.2:
        chance.shuffle(left)
    return ENTRY.join([start, *left])


def _mixed_lines(text: str, chance: random.Random, seeds: tuple[str, ...]) -> str:
    lines, others = text.split("\n"), chance.choice(seeds).split("\n")
    at, line = chance.randrange(len(lines) + 1), chance.choice(others)
    deed = chance.randrange(4)
    if deed == 0:
        lines.insert(at, line)
    elif deed == 1:
        del lines[at : at + chance.choice((1, 1, 5))]
    elif deed == 2 and lines:
        chance.shuffle(lines)
    else:
        lines[at : at + 1] = [line]
    return "\n".join(lines)


CHANGES: tuple[Change, ...] = (_replaced, _inserted, _hostile, _dropped, _word, _doubled, _spliced)
KEPT_WHOLE: tuple[Change, ...] = (_other_number, _other_number, _without_entries)
"""What leaves a file such as a hand may have written it: most are read, and what they say is strange."""
FILE_CHANGES: tuple[Change, ...] = (
    *(_other_number,) * 4, *(_without_entries,) * 2, *(_other_value,) * 3, *(_mixed_lines,) * 2, *CHANGES,
)  # fmt: skip


# -- files ------------------------------------------------------------------------------------------


def from_file(read: Callable[[Path], object], path: Path) -> Parse:
    """A parser of files as one of texts.  A refusal names its file, and the file is as it was afterwards."""
    path.parent.mkdir(exist_ok=True)

    def parse(text: str) -> None:
        content = text.encode("utf-8", "surrogatepass")
        path.write_bytes(content)
        try:
            read(path)
        except FileError as error:
            if error.path != path:
                raise RuntimeError(f"of another file: {error}") from None
            raise
        finally:
            if path.read_bytes() != content:
                raise RuntimeError("reading changed the file")

    return parse


@cache
def quiet_shell() -> Callable[[list[str]], object]:
    """The shell's arguments to what would be done."""
    import io

    from coach.cli.options import build_parser
    from coach.cli.parser import join_negative

    parser = build_parser()

    def parse(words: list[str]) -> object:
        with contextlib.redirect_stdout(io.StringIO()), contextlib.suppress(SystemExit):  # --help and --version
            return parser.parse_args(join_negative(words))
        return None

    return parse
