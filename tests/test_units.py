"""What people type, and what they read."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coach.errors import InputError, OutOfReach
from coach.shown import IN_MM, Wording, show_inches, show_millimetres
from coach.steps.words import turn_words
from coach.units import parse_length, parse_number, parse_turns

IN_INCHES, IN_ASCII = Wording("in"), Wording(glyphs=False)


@pytest.mark.parametrize(
    ("typed", "value"),
    [
        ("1.5", 1.5),
        ("1,5", 1.5),
        ("+2", 2.0),
        ("-0,4", -0.4),
        ("−0.4", -0.4),
        ("  3 ", 3.0),
        (",5", 0.5),
        ("0,125", 0.125),
        ("1.234", 1.234),
    ],
)
def test_numbers_with_point_comma_and_any_minus(typed: str, value: float) -> None:
    """A point, a comma, a sign and blanks around are all understood."""
    assert parse_number(typed) == value


@pytest.mark.parametrize(
    "typed",
    [
        *("", "  ", "two", "1.234,5", "1,234.5", "1.2.3", "1,234", "1 5", "--1", "-", "1.", "inf", "nan"),
        *("1e400", "1e3", "0x10", "1_000", "٣", "9" * 400, "1.5 mm", "½"),
    ],
)
def test_what_is_not_one_number_is_refused_with_its_name_and_an_example(typed: str) -> None:
    """Empty, words, two separators, thousands, exponents: each refusal shows what would do."""
    with pytest.raises(InputError) as caught:
        parse_number(typed, what="the left gap")
    assert str(caught.value).startswith("The left gap")
    assert caught.value.expected
    assert parse_number(caught.value.example.split(" or ")[0]) == 1.5


def test_minus_zero_is_zero() -> None:
    """Nobody ever sees −0.0."""
    assert str(parse_number("-0")) == "0.0"
    assert IN_MM.signed(-0.04) == "0.0 mm"
    assert str(parse_turns("-0")) == "0.0"


# 1 in = 25.4 mm exactly: NBS Circular 572 addendum (reference values §4, read)
@pytest.mark.parametrize(
    ("typed", "unit", "mm", "system"),
    [
        ("1,5", "mm", 1.5, "mm"),
        ("1.5cm", "mm", 15.0, "mm"),
        ("1", "in", 25.4, "in"),
        ("1 mm", "in", 1.0, "mm"),
        ("3/8 in", "mm", 9.525, "in"),
        ("1 1/4 in", "mm", 31.75, "in"),
        ("1½″", "mm", 38.1, "in"),
        ('-1/8"', "mm", -3.175, "in"),
        ("2 INCHES", "mm", 50.8, "in"),
        ("3/8", "in", 9.525, "in"),
    ],
)
def test_lengths_in_mm_and_inches(typed: str, unit: str, mm: float, system: str) -> None:
    """The typed unit wins over the usual one, and inch fractions come out exactly."""
    length = parse_length(typed, unit)  # type: ignore[arg-type]
    assert (length.mm, length.unit, length.typed) == (mm, system, typed)


@pytest.mark.parametrize("typed", ["", "mm", "1.5 m", "3/8", "3/8 mm", "3/0 in", "1 5/4 in", "1/2/3 in", "five in"])
def test_lengths_that_cannot_be_read(typed: str) -> None:
    """No unit that is not offered, no fraction of a mm, no division by zero."""
    with pytest.raises(InputError, match=r"^The gap: "):
        parse_length(typed, what="the gap")


@pytest.mark.parametrize(
    ("typed", "turns"),
    [
        ("1/8", 0.125),
        ("⅛", 0.125),
        ("-1/4", -0.25),
        ("−⅜", -0.375),
        ("0.125", 0.125),
        ("0,125", 0.125),
        ("45°", 0.125),
        ("45 deg", 0.125),
        ("-90 degrees", -0.25),
        ("1/8 cw", 0.125),
        ("+1/8 cw", 0.125),
        ("1/8 ccw", -0.125),
        ("-1/8 ccw", -0.125),
        ("1/8 clockwise", 0.125),
        ("1/8 turn counterclockwise", -0.125),
        ("45° anticlockwise", -0.125),
        ("CCW 3/64 turn", -3 / 64),
        ("1", 1.0),
    ],
)
def test_turns_in_every_usual_spelling(typed: str, turns: float) -> None:
    """Fractions, glyphs, decimals, degrees, and the way round by sign or by word; clockwise is positive."""
    assert parse_turns(typed) == turns


@pytest.mark.parametrize(
    "typed", ["", "turn", "-1/8 cw", "+1/8 ccw", "cw 1/8 ccw", "1/8 left", "1/0", "1/8°", "x" * 300]
)
def test_turns_that_contradict_or_cannot_be_read(typed: str) -> None:
    """A sign against a word is refused, never resolved silently."""
    with pytest.raises(InputError) as caught:
        parse_turns(typed)
    assert not isinstance(caught.value, OutOfReach)


@pytest.mark.parametrize("typed", ["1.01", "45", "-2", "361°", "1 1/64", "1¼"])
def test_more_than_one_turn_at_once_is_out_of_reach(typed: str) -> None:
    """One turn at most between two retests."""
    with pytest.raises(OutOfReach, match="more than one turn"):
        parse_turns(typed)


def test_lengths_as_shown() -> None:
    """Offsets carry their sign, sizes do not; the minus is the typographic one."""
    assert [IN_MM.signed(1.24), IN_MM.signed(-0.4), IN_MM.signed(0.0), IN_MM.signed(0.256, 2)] == [
        "+1.2 mm",
        "−0.4 mm",
        "0.0 mm",
        "+0.26 mm",
    ]
    assert [IN_MM.length(18.0), show_inches(12.7)] == ["18.0 mm", "0.500 in"]


def test_turns_as_shown() -> None:
    """Said by word, fraction and degrees, so that the sign need not be seen."""
    eighth = IN_MM.turns(-0.125)
    assert (eighth.direction, eighth.fraction, eighth.degrees, IN_ASCII.turns(-0.125).fraction) == (
        "COUNTERCLOCKWISE",
        "⅛ turn",
        "45°",
        "1/8 turn",
    )
    assert IN_MM.turns(3 / 64).fraction == "3/64 turn"
    assert IN_MM.turns(3 / 64).degrees == "16.9°"
    assert IN_MM.turns(0.13).fraction == "0.13 turn"
    assert IN_MM.turns(1.25).fraction == "1¼ turns"
    assert IN_ASCII.turns(1.0).fraction == "1 turn"
    assert (IN_MM.turns(0.0).direction, IN_MM.turns(0.0).fraction) == ("", "no turn")


def test_turns_in_minutes_of_a_clocks_face() -> None:
    """A minute hand goes round once in 60 minutes: 7 of them are 7/60 of a turn and 42°; an eighth is 7.5."""
    assert parse_turns("7 min ccw") == parse_turns("7 ticks ccw") == -7 / 60
    assert IN_MM.turns(1 / 60).ticks == "1 tick"
    assert parse_turns("ccw 7 minutes") == parse_turns("-7min") == -7 / 60
    assert parse_turns("7,5 min") == parse_turns("45°") == parse_turns("1/8") == 0.125
    seven = IN_MM.turns(7 / 60)
    assert (seven.ticks, seven.degrees, seven.fraction, seven.amount) == ("7 ticks", "42°", "7/60 turn", "7/60")
    assert [IN_MM.turns(n).ticks for n in (0.125, 1 / 64, 0.0, 1.0)] == [
        "7.5 ticks",
        "0.9 ticks",
        "0 ticks",
        "60 ticks",
    ]
    with pytest.raises(OutOfReach, match="more than one turn"):
        parse_turns("61 min")


@pytest.mark.parametrize("typed", ["7'", "7 ′", "7 m", "7m cw", "7’"])
def test_what_could_be_other_minutes_is_refused(typed: str) -> None:
    """A ' is a sixtieth of a degree to some and a foot to others; m is a metre: write ticks."""
    with pytest.raises(InputError, match="write ticks"):
        parse_turns(typed)


@given(st.integers(-60, 60).filter(bool))
def test_minutes_said_and_typed_again_are_the_same_turn(minutes: int) -> None:
    """Every whole minute survives being shown and typed back, in minutes and as a fraction."""
    words = IN_MM.turns(minutes / 60)
    for said in (words.ticks, words.fraction):
        assert parse_turns(f"{said} {words.direction}") == pytest.approx(minutes / 60, abs=1e-12)


def test_the_headline_follows_the_setting() -> None:
    """Minutes first, unless the person set fractions; degrees stand beside both."""
    fractions = Wording(turns_in="fractions")
    assert turn_words(0.125, IN_MM) == "7.5 ticks (45°) clockwise"
    assert turn_words(-0.125, fractions) == "⅛ turn (45°) counterclockwise"
    assert turn_words(0.0, IN_MM) == turn_words(0.0, fractions) == "no turn"


@given(st.integers(-64, 64).filter(bool))
def test_a_turn_said_and_typed_again_is_the_same_turn(steps: int) -> None:
    """Every multiple of 1/64 survives being shown and typed back, in glyphs and in plain letters."""
    words = IN_MM.turns(steps / 64)
    for fraction in (words.fraction, IN_ASCII.turns(steps / 64).fraction):
        assert parse_turns(f"{fraction} {words.direction}") == steps / 64


@given(st.integers(-9_999_99, 9_999_99), st.sampled_from([".", ","]))
def test_an_offset_shown_and_typed_again_is_the_same(hundredths: int, separator: str) -> None:
    """What the coach shows can be typed back, with either separator."""
    value = hundredths / 100
    assert parse_length(IN_MM.signed(value, 2).replace(".", separator)).mm == value


@given(st.text(max_size=60))
def test_any_text_gives_a_value_or_a_plain_refusal(typed: str) -> None:
    """No entry, however strange, ends in anything but a finite value or an InputError."""
    for parse in (parse_number, parse_turns, lambda text: parse_length(text).mm):
        try:
            value = parse(typed)
        except InputError:
            continue
        assert abs(value) < float("inf")


def test_everything_shown_follows_the_unit() -> None:
    """1 in = 25.4 mm exactly (NBS Circular 572 addendum, read): sizes, offsets, places, positions, and the engine's
    sentences about them, made of these; what names its unit itself keeps it."""
    assert [IN_INCHES.length(25.4), IN_INCHES.length(18.0), IN_INCHES.length(1.2), IN_INCHES.length(0.256, 2)] == [
        "1.000 in",
        "0.709 in",
        "0.047 in",
        "0.0101 in",
    ]
    assert [IN_INCHES.signed(-0.4), IN_INCHES.signed(0.0), IN_INCHES.signed(25.4)] == [
        "−0.016 in",
        "0.000 in",
        "+1.000 in",
    ]
    assert IN_INCHES.place(-1.5, 0.9) == "0.059 in left, 0.035 in up"
    assert IN_INCHES.place(-1.5, 0.0, unit=False) == "0.059 left"
    assert IN_INCHES.head(20.0, 381.0) == "X 0.79, Y 15.00 in"
    assert [IN_INCHES.exact(50.8), IN_INCHES.exact(0.5)] == ["2 in", "0.0197 in"]
    assert [show_inches(12.7), show_millimetres(12.7)] == ["0.500 in", "12.7 mm"]


@given(st.integers(-200_0000, 200_0000))
def test_inches_shown_and_typed_again_are_the_same_within_what_was_shown(ten_thousandths: int) -> None:
    """What is read in inches can be typed back: half of the last decimal is lost at the most."""
    value = ten_thousandths / 10_000
    assert abs(parse_length(IN_INCHES.signed(value, 2)).mm - value) <= 0.5e-4 * 25.4 + 1e-9
